"""A visit on paper and on a telephone: what to carry, then yard by yard whom to see, what to ask, what to show."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from witnessmark.documents.page.blocks import (
    AnswerBox,
    Block,
    Caution,
    Document,
    Figure,
    Heading,
    Inset,
    Keep,
    Note,
    PageBreak,
    Paragraph,
    Table,
    TitleBlock,
    Typed,
    Words,
    words,
)
from witnessmark.documents.page.wordings import date_text
from witnessmark.documents.sheet.sheet import Drawn
from witnessmark.questions.model.question import Misconception
from witnessmark.review.year.kit import cautions_of
from witnessmark.review.year.needs import Need
from witnessmark.review.year.sentences import counted
from witnessmark.review.year.trip import Seeing, Stop, Trip

FOOT = "For the teacher. Names of methods are proposals."
NARROW = 230.0
ASK_FIRST = "Ask first, and wait: “Take me through how you got this.” Then: “What would you check it against?”"
STUDENTS_FIGURE = "with this student's numbers"


@dataclass(frozen=True, slots=True)
class Shown:
    """What a need is shown with: the question's title, its figure in the student's numbers, its own caution."""

    title: str
    figure: Drawn | None
    caution: str = ""


Shows = Mapping[tuple[str, str], Shown]
"""By student and misconception."""


def trip_document(trip: Trip, known: Mapping[str, Misconception], shows: Shows) -> Document:
    """The whole trip as one document, a page or more for each stop."""
    day = date_text(trip.day) if trip.day else ""
    fields = [("Stops", ", ".join(stop.group for stop in trip.stops))]
    if trip.day:
        fields.insert(0, ("Day", day))
    title = f"Visits of {day}" if day else "Visits"
    blocks: list[Block] = [TitleBlock("Visits", trip.title, "", tuple(fields)), *_kit(trip), *_overview(trip)]
    for stop in trip.stops:
        blocks += [PageBreak(), *_stop(stop, known, shows)]
    return Document(title, tuple(blocks), "", FOOT)


def _kit(trip: Trip) -> list[Block]:
    heading = Heading("To carry", aside=counted(len(trip.kit), "thing"))
    if not trip.kit:
        return [heading, Paragraph(words("No demonstration is planned."))]
    return [Keep((heading, AnswerBox((), choices=trip.kit)))]


def _overview(trip: Trip) -> list[Block]:
    rows = tuple(
        (words(stop.group), words(stop.place or "–"), words(f"{len(stop.students)}, {stop.minutes} min"))
        for stop in trip.stops
    )
    return [Table(("Yard", "Where", "To see, about"), rows, frozenset({2}), wide=1)]


def _stop(stop: Stop, known: Mapping[str, Misconception], shows: Shows) -> list[Block]:
    aside = f"{counted(len(stop.students), 'apprentice')}, about {stop.minutes} min"
    where = f"{stop.group}, {stop.place}" if stop.place else stop.group
    blocks: list[Block] = [Heading(where, 1, aside=aside)]
    for number, seeing in enumerate(stop.students, 1):
        blocks += _seeing(number, seeing, known, shows)
    if stop.secure:
        names = ", ".join(f"{s.code} {s.name}".strip() for s in stop.secure)
        blocks.append(Note(words(f"Nothing to take up from what came in: {names}. What they had no chance to show is "
                                 "not known.")))  # fmt: skip
    return [*blocks, Keep((Heading("What was done", 2), AnswerBox((), lines=5)))]


def _seeing(number: int, seeing: Seeing, known: Mapping[str, Misconception], shows: Shows) -> list[Block]:
    student = seeing.student
    heading = Heading(f"{student.name or student.code}", 2, str(number), f"{student.code}, {seeing.minutes} min")
    blocks: list[Keep] = []
    if seeing.open:
        blocks.append(Keep((heading, *_open(seeing))))
    drawn: set[str] = set()
    for need in seeing.needs:
        shown = shows.get((student.code, need.key))
        inner = _need(need, known.get(need.key), once(shown, drawn))
        blocks.append(Keep((*(() if blocks else (heading,)), *inner)))
    wait = words(f"{counted(seeing.more, 'more thing')} can wait for the next visit.")
    more = (Note(wait),) if seeing.more else ()
    return [*blocks[:-1], Keep((*_of(blocks[-1:]), *more, AnswerBox((), lines=2, hint="notes")))]


def _of(kept: list[Keep]) -> tuple[Block, ...]:
    return tuple(block for keep in kept for block in keep.blocks)


def once(shown: Shown | None, drawn: set[str]) -> Shown | None:
    """The same without its figure, where this student's page has that already."""
    if shown is None or shown.figure is None:
        return shown
    again = shown.figure.svg in drawn
    drawn.add(shown.figure.svg)
    return replace(shown, figure=None) if again else shown


def _open(seeing: Seeing) -> tuple[Block, ...]:
    told = Paragraph((Words("Open questions. ", strong=True), Words("How did these come about?")))
    rows = tuple((words(f"{e.task} {e.label}"), (Typed(e.typed),), words(e.why)) for e in seeing.open)
    return (told, Table(("Answer", "Entered", "Why it waits"), rows, wide=2, whole=frozenset({0})))


def _need(need: Need, found: Misconception | None, shown: Shown | None) -> tuple[Block, ...]:
    last = need.last
    where = f"{shown.title}, {last.label} of {last.task_key}: " if shown else f"{last.label} of {last.task_key}: "
    sure = "" if last.sure >= 0.9 else f" (the name is {last.sure:.0%} sure)"
    entry = Paragraph((Words(where), Typed(last.typed or "–"), Words(f"{sure}. {found.shows if found else need.key}")))
    inner: list[Block] = [entry]
    if shown and shown.figure:
        width = min(shown.figure.width or NARROW, NARROW)
        inner.append(Figure(shown.figure.svg, f"{shown.figure.alt} ({STUDENTS_FIGURE})", width))
    inner.append(Paragraph((Words("Ask. ", strong=True), Words(ASK_FIRST.removeprefix("Ask first, and wait: ")))))
    if found:
        inner.append(Paragraph((Words("Then say. ", strong=True), Words(found.say))))
    if found and found.demonstrate:
        inner.append(Paragraph((Words("Show. ", strong=True), Words(found.demonstrate))))
        kit = ", ".join(found.kit)
        inner += [Paragraph((Words("With. ", strong=True), Words(kit)))] if kit else []
        cautions = [*cautions_of(found.demonstrate, found.kit), *([shown.caution] if shown and shown.caution else [])]
        inner += [Caution(" ".join(cautions))] if cautions else []
    return (Inset(found.believes if found else need.key, tuple(inner)),)
