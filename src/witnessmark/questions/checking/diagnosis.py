"""What stands against diagnosing a question's wrong answers: too few variants, and methods that no variant parts.

Two slips that are always one number are no problem in themselves: an outcome then names both, and no draw could part
them. They are one where they keep different marks, since the smaller can never be given.
"""

from collections.abc import Iterable, Iterator
from typing import TypeVar

import numpy as np

from witnessmark.maths.compiled import compiled
from witnessmark.maths.syntax import names_in
from witnessmark.questions.checking.method_clashes import RIGHT, Known, Meeting, Pair
from witnessmark.questions.checking.spread import Spread
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.drawing.space import asks_for_numbers
from witnessmark.questions.model.kinds import slips_of
from witnessmark.questions.model.parts import Slip
from witnessmark.questions.model.question import Question
from witnessmark.words.problems import Place, Problem

CLASS = 200
"""How many students a question should have numbers of their own for."""
MENTIONED = 0.1
HOW = {
    Known.ALGEBRA: "one formula, as algebra shows",
    Known.EVERY_VARIANT: "one number in every variant",
    Known.SAMPLE: "one number in every variant that was looked at",
}


Met = TypeVar("Met", Pair, Meeting)


def problems_of(question: Question, found: Spread) -> tuple[Problem, ...]:
    """What keeps a question from being issued or its wrong answers from being told apart, in working order."""
    apart = (*_never_a_number(question), *_never_apart(question, found))
    return (*apart, *(() if apart and not found.issuable else _too_few(question, found)))


def remarks_of(question: Question, found: Spread) -> tuple[Problem, ...]:
    """What a teacher would ask about: slips that are always one number and keep the same, and numbers never drawn."""
    return (*_slips_alike(question, found), *_nothing_drawn(question, found))


def _slips_alike(question: Question, found: Spread) -> Iterator[Problem]:
    for pair in _alike(found):
        if pair.keeps[0] == pair.keeps[1]:
            expected = "two slips that some numbers or a line part"
            remedy = "where both are meant, an outcome names both; else change one"
            yield _problem(question, "slips-alike", expected, f"{pair}, {HOW[pair.known_by]}", remedy)


def _nothing_drawn(question: Question, found: Spread) -> Iterator[Problem]:
    if found.variants == 1 and asks_for_numbers(question):
        expected, remedy = (
            "numbers that are drawn for each student",
            "give values to draw from, or issue with --repeats",
        )
        yield _problem(question, "nothing-drawn", expected, "one variant for all", remedy)


def _never_a_number(question: Question) -> Iterator[Problem]:
    sample = names_of_sample(question)
    for given in question.givens:
        known = given.value is not None and names_in(given.value) <= sample.keys()
        if given.value is not None and known and not np.isfinite(compiled(given.value)(sample)).any():
            expected, seen = f"a given {given.name} that gives a number", "none with any values"
            yield _problem(question, "no-number", expected, seen, "change or delete it")
    for part in question.parts:
        for slip in slips_of(part):
            if not isinstance(slip, Slip) or not names_in(slip.answer) <= sample.keys():
                continue
            if not np.isfinite(compiled(slip.answer)(sample)).any():
                expected = f"a slip of {part.key} that gives a number"
                seen = f"{slip.misconception}, which gives none with any values, as when something is divided by 0"
                yield _problem(question, "no-number", expected, seen, "change or delete the slip")


def _never_apart(question: Question, found: Spread) -> Iterator[Problem]:
    for pair in _first_of_each([pair for pair in found.pairs if pair.first == RIGHT]):
        expected = "a slip that some numbers tell apart from what is right"
        remedy = (
            "change or delete the slip" if pair.known_by is Known.ALGEBRA else "change the slip or widen the values"
        )
        yield _problem(question, "never-apart", expected, f"{pair}, {HOW[pair.known_by]}", remedy)
    for meeting in _first_of_each([meeting for meeting in found.meetings if meeting.never_apart]):
        expected = "methods that some numbers tell apart"
        seen = f"{meeting.first} and {meeting.second} at {meeting.key}, which meet in all variants that satisfy keep"
        yield _problem(question, "never-apart", expected, seen, "widen the values, or change one of them")
    for pair in _alike(found):
        if pair.keeps[0] != pair.keeps[1]:
            expected = "two slips that some numbers or a line part, or the same marks for both"
            more, less = max(pair.keeps), min(pair.keeps)
            seen = f"{pair}, {HOW[pair.known_by]}, which keeps {more} marks and never {less}"
            yield _problem(question, "never-apart", expected, seen, "keep the same for both, or delete one")


def _alike(found: Spread) -> tuple[Pair, ...]:
    """Pairs of slips of a part that are always one number, also in its lines."""
    return tuple(p for p in found.pairs if p.first != RIGHT and "." not in p.key and not p.parted_by)


def _first_of_each(found: Iterable[Met]) -> tuple[Met, ...]:
    """The first place of each pair of names in a part: what meets in a line meets in the result too."""
    places: dict[tuple[str, str, str], Met] = {}
    for met in found:
        places.setdefault((met.key.partition(".")[0], met.first, met.second), met)
    return tuple(places.values())


def _too_few(question: Question, found: Spread) -> Iterator[Problem]:
    if not found.issuable:
        expected, remedy = "variants that can be issued", "widen the values, or look at keep and at the slips"
        yield _problem(question, "no-variant", expected, f"none of {_of_which(found)}", remedy)
    elif found.issuable < CLASS and asks_for_numbers(question) and found.variants > 1:
        expected = f"{CLASS} variants or more, enough for a class of {CLASS}"
        remedy = "widen the values, or issue with --repeats, which gives the same numbers out again"
        yield _problem(question, "few-variants", expected, f"{found.issuable} of {_of_which(found)}", remedy)


def _of_which(found: Spread) -> str:
    """All variants, how many satisfy keep, and why most of those are lost (nothing where hardly any are)."""
    some = f", of which {found.kept} satisfy keep" if found.kept else ", none of which satisfies keep"
    kept = "" if found.kept == found.variants else some
    why, share = max(found.lost, key=lambda lost: lost[1])
    if share < MENTIONED:
        return f"{found.variants}{kept}"
    met = found.meetings[0] if why == "methods meet" and found.meetings else None
    which = f", mostly {met.first} and {met.second} at {met.key}" if met else ""
    return f"{found.variants}{kept} ({why} in {share:.0%}{which})"


def _problem(question: Question, code: str, expected: str, found: str, remedy: str) -> Problem:
    return Problem(code, Place(question.key), expected, found, remedy)
