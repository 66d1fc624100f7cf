"""Marking a class in two passes: by the assumed priors first, then what stayed in doubt by what the class did.

Wrong methods that the first pass names surely are counted at each place. Answers that are not counted there, because
their name is in doubt, are weighed again with those counts; so no answer is ever evidence for its own name.

What the class did never decides who is right and never costs a student marks: a second outcome that would settle
otherwise what is right, that reads an entry otherwise, or that earns less, is not taken. Counts are whole numbers of
answers, so that the order of students has no say; the first pass never sees them, so that marking twice gives the same.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.marking.kinds.quantity import PlaceMarked
from witnessmark.marking.marker import QuestionMarked
from witnessmark.marking.weighing.class_priors import (
    DECIDED_BY_THE_LADDER,
    ClassPriors,
    Counts,
    Identity,
    class_priors,
    identity,
    priors_in,
)
from witnessmark.marking.weights import SURELY_NAMED

Rows = npt.NDArray[np.intp]
Truth = npt.NDArray[np.bool_]
MarkAgain = Callable[[Rows, ClassPriors], QuestionMarked]
"""Marks some of the rows again, by the priors of the class."""


@dataclass(frozen=True, slots=True)
class Again:
    """Some rows marked again: which rows of the first pass, and where they stand in this one."""

    marked: QuestionMarked
    rows: Rows
    at: Rows


@dataclass(frozen=True, slots=True)
class Reweighed:
    """Both passes: the first, and the rows for which a second one holds (no row twice)."""

    first: QuestionMarked
    again: tuple[Again, ...] = ()

    def each(self) -> list[tuple[QuestionMarked, int]]:
        """For every row the marking that holds, and its row there."""
        found = [(self.first, row) for row in range(self.first.bench.size)]
        for again in self.again:
            for row, at in zip(again.rows.tolist(), again.at.tolist(), strict=True):
                found[row] = (again.marked, at)
        return found


def reweighed(first: QuestionMarked, mark_again: MarkAgain, students: npt.NDArray[np.int64] | None = None) -> Reweighed:
    """The marking of one question for a class; `students` says how many did what each row tells (one, if left out)."""
    size = first.bench.size
    times = np.ones(size, np.int64) if students is None else students
    counts = {key: _counts(place, _is_sure(first, key), times) for key, place in first.numbers.items()}
    priors = class_priors(counts)
    doubts = {key: _is_open(first.numbers[key]) & ~_is_sure(first, key) for key in priors.others}
    again = [_again(first, mark_again, rows, priors.only(places)) for places, rows in _alike(doubts, size)]
    return Reweighed(first, tuple(a for a in again if a.rows.size))


def _counts(place: PlaceMarked, sure: Truth, students: npt.NDArray[np.int64]) -> Counts:
    """How often each wrong method was named surely at a place."""
    times = np.bincount(place.named[sure], weights=students[sure], minlength=len(place.candidates))
    named: dict[Identity, int] = {}
    for index in np.flatnonzero(times).tolist():
        if (method := identity(place.candidates[index])) is not None:
            named[method] = named.get(method, 0) + int(times[index])
    return Counts(named, priors_in(place.candidates, named) if named else {})


def _is_sure(marked: QuestionMarked, key: str) -> Truth:
    """True for rows whose wrong method is named surely, and alone."""
    place = marked.numbers[key]
    tied = np.stack([climbed.tied for climbed in place.climbed], 1)
    tied = np.take_along_axis(tied, place.candidate[:, None], 1)[:, 0]
    found: Truth = _is_open(place) & (place.named >= 0) & (marked.sure(key) >= SURELY_NAMED) & ~tied
    return found


def _is_open(place: PlaceMarked) -> Truth:
    """True for rows whose number is read and was weighed: not one of those that the ladder alone decides."""
    decided = np.array([*(h.kind in DECIDED_BY_THE_LADDER for h in place.candidates), False])[place.named]
    found: Truth = ~decided & ~place.reading.is_blank & ~place.reading.is_unreadable
    return found


def _alike(doubts: dict[str, Truth], size: int) -> list[tuple[tuple[str, ...], Rows]]:
    """Rows by the places at which they are in doubt; rows without a doubt are in none."""
    table = np.stack([*doubts.values(), np.zeros(size, np.bool_)], 1)
    patterns, which = np.unique(table, axis=0, return_inverse=True)
    return [
        (tuple(key for key, doubt in zip(doubts, pattern[:-1].tolist(), strict=True) if doubt),
         np.flatnonzero(which.ravel() == n))
        for n, pattern in enumerate(patterns) if pattern.any()
    ]  # fmt: skip


def _again(first: QuestionMarked, mark_again: MarkAgain, rows: Rows, priors: ClassPriors) -> Again:
    second = mark_again(rows, priors)
    holds = _holds(first, second, rows)
    return Again(second, rows[holds], np.flatnonzero(holds))


def _holds(first: QuestionMarked, second: QuestionMarked, rows: Rows) -> Truth:
    """True for rows of the second pass that leave alone who is right and how entries were read, and take no marks."""
    holds = np.ones(rows.size, np.bool_)
    for key, after in second.numbers.items():
        before = first.numbers[key]
        was_open, is_open = _is_open(before)[rows], _is_open(after)
        holds &= (was_open == is_open) & (is_open | (first.verdicts(key)[rows] == second.verdicts(key)))
        holds &= second.marks(key) >= first.marks(key)[rows]
        holds &= (after.values == before.values[rows]) | (np.isnan(after.values) & np.isnan(before.values[rows]))
    return holds
