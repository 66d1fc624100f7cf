"""A wrong method worked out in somebody's numbers, and the numbers in which it lies farthest from the right one."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.model.parts import QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Identity, Variant
from witnessmark.questions.working.evaluation import names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at

FIGURES = 3
TRIED = 24


@dataclass(frozen=True, slots=True)
class Wrong:
    """A part of a question with one of its slips; `is_bare` where the slip's number has not the dimension that is
    asked, so that its working cannot be shown to anybody."""

    part: QuantityPart
    slip: Slip
    is_bare: bool = False

    @property
    def worked_so(self) -> QuantityPart:
        """The part as whoever makes the slip works it."""
        if not self.slip.line:
            return replace(self.part, answer=self.slip.answer, slips=())
        lines = tuple(
            replace(line, value=self.slip.answer) if line.name == self.slip.line else line
            for line in lines_of(self.part)
        )
        return replace(self.part, lines=lines, slips=())


def wrongs_of(question: Question, key: str) -> Iterator[Wrong]:
    """The parts that know a misconception as a slip that gives a number with the right unit, the fewest needs first."""
    return (wrong for wrong in _all_wrongs(question, key) if not wrong.is_bare)


def bare_wrongs_of(question: Question, key: str) -> Iterator[Wrong]:
    """The parts that know it as a slip whose number has another dimension, the fewest needs first."""
    return (wrong for wrong in _all_wrongs(question, key) if wrong.is_bare)


def _all_wrongs(question: Question, key: str) -> Iterator[Wrong]:
    for part in sorted(question.quantities, key=lambda p: len(p.carries)):
        mine = _methods(question, part, key)
        for slip in part.slips:
            if slip.misconception == key and mine:
                yield Wrong(part, slip, is_bare=all(method.bare for method in mine))


def _methods(question: Question, part: QuantityPart, key: str) -> list[Method]:
    """How the slips by that name are worked; a slip of another dimension in metres and in millimetres."""
    methods = methods_at(NumberPlace(part, None, FIGURES), dimensions(question))[1:]
    return [method for method in methods if method.misconceptions == (key,)]


def worked_wrong(variant: Variant, wrong: Wrong) -> tuple[Variant, Mapping[str, float]]:
    """The same numbers in a question that is worked with the slip, and every value (SI) that comes of it, by key."""
    parts = tuple(wrong.worked_so if part.key == wrong.part.key else part for part in variant.question.parts)
    taken = Variant(replace(variant.question, parts=parts), variant.shown, variant.row_names)
    return taken, taken.expected_si


def distance(variant: Variant, wrong: Wrong) -> float:
    """How far the wrong result lies from the right one, as the size of the logarithm of their ratio; of a number of
    another dimension, in whichever of the two systems it lies nearer."""
    right = variant.expected_si[wrong.part.key]
    return min(abs(math.log(value / right)) if value / right > 0 else math.inf for value in _results(variant, wrong))


def _results(variant: Variant, wrong: Wrong) -> list[float]:
    """What the slip gives (SI); of another dimension, what its number would be in the unit that is asked."""
    question = variant.question
    if not wrong.is_bare:
        return [worked_wrong(variant, wrong)[1][wrong.part.key]]
    known, names = dimensions(question), names_in_full(question, variant.columns)
    methods = _methods(question, wrong.part, wrong.slip.misconception)
    return [float(number_of(method, names, known).ravel()[0]) for method in methods]


def farthest(drawn: Iterable[Variant], wrong: Wrong) -> Variant:
    """Of these variants the one in which right and wrong differ most."""
    return max(drawn, key=lambda variant: distance(variant, wrong))


def another(draw: Callable[[str], Variant], seed: str, taken: Sequence[Identity]) -> Variant:
    """The first variant drawn from texts that begin with a seed that has not been taken; the first of all where every
    one of those tried has."""
    drawn = (draw(f"{seed}|{n}") for n in range(TRIED))
    first = next(drawn)
    return next((variant for variant in chain([first], drawn) if variant.identity not in taken), first)
