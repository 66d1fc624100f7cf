"""What is shown of one answer, in the in-tray and in the room of a mark: question, entry, what could explain it."""

from dataclasses import dataclass

from witnessmark.desk.spoken import number
from witnessmark.desk.visit import Visit
from witnessmark.documents.figures.render import FigureArt
from witnessmark.files.bank.folder import FIGURES
from witnessmark.jobs.explaining import AnswerExplained, explain
from witnessmark.jobs.figures import figure_of
from witnessmark.jobs.in_tray import Answer
from witnessmark.jobs.opened import open_class
from witnessmark.marking.outcome import Explanation
from witnessmark.words.errors import ProblemsFound

MOST_FITS = 8
LEAST_SHARE = 0.0005


@dataclass(frozen=True, slots=True)
class Seen:
    """One answer explained, the figure of that sheet, and what fits, likeliest first, with what each misconceives."""

    explained: AnswerExplained
    figure: FigureArt | None
    fits: tuple[tuple[Explanation, str, str], ...]
    rest: str


def seen(visit: Visit, answer: Answer) -> Seen:
    """Everything that is known of an answer."""
    explained = explain(visit.class_path, answer.sheet.code, answer.ask.key)
    known = answer.sheet.variants[answer.ask.number - 1].question.misconceptions
    fits = tuple(
        (fit, percent(fit.sure), " + ".join(known[m].believes if m in known else m for m in fit.misconceptions))
        for fit in explained.fits[:MOST_FITS]
        if fit.sure >= LEAST_SHARE
    )
    return Seen(explained, _figure(visit, answer), fits, percent(explained.rest))


def percent(share: float) -> str:
    """A share of belief in words: never wholly certain, never nothing."""
    if share < LEAST_SHARE * 2:
        return number("< 0.1 %")
    return number("> 99.9 %" if share > 1 - LEAST_SHARE * 2 else f"{share:.1%}".replace("%", " %"))


def _figure(visit: Visit, answer: Answer) -> FigureArt | None:
    """The figure of that sheet; none where the bank has lost its template, which stops no decision."""
    try:
        return figure_of(
            answer.sheet.variants[answer.ask.number - 1], open_class(visit.class_path).folder.bank / FIGURES
        )
    except ProblemsFound:
        return None
