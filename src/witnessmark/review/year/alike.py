"""Whether the variants of a task were equally hard, as far as its class can tell: small results against large ones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.expected import Expected, expected_of
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.review.statistics.paired import FINDING
from witnessmark.review.statistics.two_groups import fisher_exact
from witnessmark.review.year.history import SetTask


@dataclass(frozen=True, slots=True)
class Halves:
    """One part: how many had all its marks, of those whose right result was smaller than the middle one of the class,
    and of all others; `chance` is how often as much apart comes of equally hard numbers (0 to 1)."""

    label: str
    smaller: int
    of_smaller: int
    larger: int
    of_larger: int

    @property
    def chance(self) -> float:
        """By Fisher's exact test, two-sided."""
        return fisher_exact(self.smaller, self.of_smaller, self.larger, self.of_larger)


@dataclass(frozen=True, slots=True)
class Alike:
    """The parts of a task that were looked at."""

    halves: tuple[Halves, ...] = ()

    @property
    def apart(self) -> tuple[Halves, ...]:
        """Those in which smaller and larger numbers were not equally hard; looking at many parts finds one by chance
        no oftener than looking at one (C. E. Bonferroni: the level is shared among them)."""
        return tuple(one for one in self.halves if one.chance <= FINDING / len(self.halves))


def alike(task: SetTask, asked: Sequence[tuple[int, Part]], fewest: int) -> Alike:
    """What a class tells of each part that asks for a number and has at least so many marked answers."""
    first = [sheet for sheet in task.back if sheet.attempt == 1]
    right = expected_of(first)
    found = (_halves(task, first, right, Ask(number, part)) for number, part in asked)
    return Alike(tuple(one for one in found if one and one.of_smaller + one.of_larger >= fewest and one.of_smaller))


def _halves(task: SetTask, sheets: Sequence[Sheet], results: Mapping[str, Expected], ask: Ask) -> Halves | None:
    answers = []
    for sheet in sheets:
        outcome, right = task.outcomes[sheet.code].get(ask.key), results[sheet.code].get(ask.key)
        if outcome and right is not None and outcome.out_of and not outcome.is_waiting:
            answers.append((abs(right), outcome.marks >= outcome.out_of))
    if not answers:
        return None
    middle = sorted(right for right, _ in answers)[len(answers) // 2]
    small, large = ([full for right, full in answers if (right < middle) == is_small] for is_small in (True, False))
    return Halves(ask.label, sum(small), len(small), sum(large), len(large))
