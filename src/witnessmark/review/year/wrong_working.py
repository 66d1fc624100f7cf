"""A wrong method worked out in somebody's numbers, and the numbers in which it lies farthest from the right one."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.model.parts import QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Identity, Variant
from witnessmark.questions.working.methods import NumberPlace, dimensions, methods_at

FIGURES = 3
TRIED = 24


@dataclass(frozen=True, slots=True)
class Wrong:
    """A part of a question with one of its slips."""

    part: QuantityPart
    slip: Slip

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
    known = dimensions(question)
    for part in sorted(question.quantities, key=lambda p: len(p.carries)):
        methods = methods_at(NumberPlace(part, None, FIGURES), known)[1:]
        for slip in part.slips:
            if slip.misconception == key and any(m.misconceptions == (key,) and not m.bare for m in methods):
                yield Wrong(part, slip)


def worked_wrong(variant: Variant, wrong: Wrong) -> tuple[Variant, Mapping[str, float]]:
    """The same numbers in a question that is worked with the slip, and every value (SI) that comes of it, by key."""
    parts = tuple(wrong.worked_so if part.key == wrong.part.key else part for part in variant.question.parts)
    taken = Variant(replace(variant.question, parts=parts), variant.shown, variant.row_names)
    return taken, taken.expected_si


def distance(variant: Variant, wrong: Wrong) -> float:
    """How far the wrong result lies from the right one, as the size of the logarithm of their ratio."""
    _, values = worked_wrong(variant, wrong)
    ratio = values[wrong.part.key] / variant.expected_si[wrong.part.key]
    return abs(math.log(ratio)) if ratio > 0 else math.inf


def farthest(drawn: Iterable[Variant], wrong: Wrong) -> Variant:
    """Of these variants the one in which right and wrong differ most."""
    return max(drawn, key=lambda variant: distance(variant, wrong))


def another(draw: Callable[[str], Variant], seed: str, taken: Sequence[Identity]) -> Variant:
    """The first variant drawn from texts that begin with a seed that has not been taken; the first of all where every
    one of those tried has."""
    drawn = (draw(f"{seed}|{n}") for n in range(TRIED))
    first = next(drawn)
    return next((variant for variant in chain([first], drawn) if variant.identity not in taken), first)
