"""What one misconception is followed up with: drawn for a student, and told again from a sheet as it is stored."""

from collections.abc import Iterator, Sequence
from functools import partial

from witnessmark.documents.follow_up.sheet import Fault, Round
from witnessmark.files.bank.derived_text import find_the_fault, focused, set_against
from witnessmark.jobs.opened_year import OpenedYear
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing.draw import draw, draw_several
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.chances import FAULT
from witnessmark.review.year.needs import Need
from witnessmark.review.year.wrong_working import Wrong, another, bare_wrongs_of, distance, farthest, wrongs_of
from witnessmark.words.errors import NoVariant, ProblemsFound

OTHERS = 2
WITH_FAULT, WITHOUT = 3, 2
"""How many questions a misconception has on a sheet."""


def questions_for(found: OpenedYear, need: Need, seed: str) -> tuple[Variant, ...]:
    """Find the fault, the numbers that part right from wrong, the plain question. Where the bank knows the
    misconception only by a number of another kind, which has no working to find a fault in, the last two; none where no
    question serves."""
    seeds = f"{seed}|{need.key}"
    for question, wrong in _questions(found, need):
        try:
            fault = () if wrong.is_bare else (_fault(found, question, wrong).draw(f"{seeds}|fault"),)
            again = focused(question, wrong.part.key, need.key if wrong.is_bare else "")
            return *fault, *_apart_and_plain(again, wrong, seeds)
        except (NoVariant, ProblemsFound, KeyError):
            continue
    return ()


def _apart_and_plain(again: DrawableQuestion, wrong: Wrong, seeds: str) -> tuple[Variant, Variant]:
    apart = farthest(draw_several(again, f"{seeds}|apart"), wrong)
    plain = another(again.draw, f"{seeds}|plain", (apart.identity,))
    if distance(plain, wrong) > distance(apart, wrong):  # several draws need not hold the farthest of all
        return plain, apart
    return apart, plain


def _questions(found: OpenedYear, need: Need) -> Iterator[tuple[Question, Wrong]]:
    """The question at which it showed, then others of the bank that know it, the easiest first; those with a working
    to find the fault in before all others."""
    own = [v.question for t in found.year.tasks for s in t.sheets if s.code == need.last.sheet for v in s.variants]
    own = [question for question in own if question.key == need.last.question]
    others = sorted(found.bank.values(), key=lambda q: (q.level, q.key))
    every = [*own, *(q for q in others if q.key != need.last.question)]
    for wrongs in (wrongs_of, bare_wrongs_of):
        yield from ((question, wrong) for question in every for wrong in wrongs(question, need.key))


def _fault(found: OpenedYear, question: Question, wrong: Wrong) -> DrawableQuestion:
    key = wrong.slip.misconception
    others = [
        found.misconceptions[other]
        for part in question.parts
        for other in dict.fromkeys(shown_by(part))
        if other and other != key and other in found.misconceptions
    ]
    more = [m for k, m in found.misconceptions.items() if found.bank.families.get(k) == found.bank.families.get(key)]
    mine = question.misconceptions.get(key) or found.misconceptions[key]
    return find_the_fault(question, wrong.part.key, mine, _distinct([*others, *more], mine), FAULT)


def _distinct(found: Sequence[Misconception], wrong: Misconception) -> list[Misconception]:
    """The first few that look otherwise."""
    by_text = {m.shows: m for m in reversed(found) if m.shows and m.shows != wrong.shows and m.key != wrong.key}
    return list(reversed(by_text.values()))[:OTHERS]


def rounds_of(sheet: Sheet) -> tuple[Round, ...]:
    """What a stored follow-up sheet consists of; nothing where it goes farther on."""
    found, at = [], 0
    while at < len(sheet.variants):
        one = _round(sheet, at)
        found += [one] if one else []
        at += one.questions if one else 1
    return tuple(found)


def _round(sheet: Sheet, at: int) -> Round | None:
    """What begins with this question of a sheet, counted from 0."""
    question = sheet.variants[at].question
    at_fault, against = _shown_at_fault(question), set_against(question)
    if not at_fault and not against:
        return None
    mine = sheet.variants[at : at + (WITH_FAULT if at_fault else WITHOUT)]
    *before, apart, plain = mine
    wrong = next(wrongs_of(apart.question, at_fault) if at_fault else bare_wrongs_of(apart.question, against))
    fault = Fault(before[0], Variant(apart.question, before[0].shown, before[0].row_names)) if before else None
    taken = [variant.identity for variant in mine]
    example = another(partial(draw, plain.question), f"{sheet.code}|{at}|example", taken)
    return Round(at + 1, wrong, example, fault, apart, plain)


def _shown_at_fault(question: Question) -> str:
    """The misconception that a question about somebody else's working is about; nothing of any other question."""
    return next(filter(None, shown_by(question.parts[0])), "") if question.key.startswith(FAULT) else ""
