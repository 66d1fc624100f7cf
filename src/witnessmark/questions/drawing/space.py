"""The space of variants of a question: what is drawn, and the givens that a pick (an index a choice) stands for."""

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import to_si
from witnessmark.maths.same_object import SameObject
from witnessmark.questions.model.kinds import shows_numbers
from witnessmark.questions.model.question import Given, Question
from witnessmark.questions.sheet.variant import Shown, Variant, row_cells, with_computed
from witnessmark.questions.working.evaluation import as_told
from witnessmark.questions.working.working import ALL_CONSTANTS


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that is drawn: a given's values, or the rows of a table."""

    name: str
    unit: str
    values: tuple[Decimal, ...] = ()
    rows: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many ways it can fall."""
        return len(self.values) or len(self.rows)


Pick = tuple[int, ...]


def choices(question: Question) -> tuple[Choice, ...]:
    """Everything that is drawn in a question, in file order."""
    return _choices(SameObject(question))


@lru_cache(maxsize=256)
def _choices(same: SameObject[Question]) -> tuple[Choice, ...]:
    question = same.it
    rows = [
        Choice(row.name, "", rows=row.rows or tuple(question.tables[row.table].rows)) for row in question.rows
    ]  # fmt: skip
    drawn = [g for g in question.givens if g.one_of or g.span]
    return tuple(rows) + tuple(Choice(g.name, g.unit, values=_values(g)) for g in drawn)


def _values(given: Given) -> tuple[Decimal, ...]:
    if given.span is None:
        return given.one_of
    first, last, step = given.span
    return tuple(first + step * i for i in range(int((last - first) / step) + 1))


def space(question: Question) -> int:
    """How many variants there are before any condition."""
    return math.prod(c.count for c in choices(question))


def asks_for_numbers(question: Question) -> bool:
    """True where a number is asked, so that each student should have numbers of their own."""
    return any(map(shows_numbers, question.parts))


def variant_at(question: Question, pick: Pick) -> Variant:
    """The variant of one pick (an index for each choice)."""
    shown: dict[str, Shown] = {}
    rows: dict[str, str] = {}
    for choice, index in zip(choices(question), pick, strict=True):
        if choice.rows:
            rows[choice.name] = choice.rows[index]
            shown |= row_cells(question, choice.name, choice.rows[index])
        else:
            shown[choice.name] = Shown(choice.values[index], choice.unit)
    return with_computed(question, shown, rows)


def columns_of(question: Question, picks: Sequence[Pick]) -> dict[str, Array]:
    """The givens of many picks as columns of SI values."""
    columns: dict[str, Array] = {}
    for position, choice in enumerate(choices(question)):
        index = np.array([pick[position] for pick in picks], np.intp)
        columns |= {name: np.array(values)[index] for name, values in _cells(question, choice).items()}
    names: dict[str, Any] = {**ALL_CONSTANTS, **columns}
    for given in question.givens:
        if given.value is not None:
            computed = np.broadcast_to(np.asarray(compiled(given.value)(names), np.float64), (len(picks),))
            names[given.name] = columns[given.name] = as_told(computed, given)
    return columns


def _cells(question: Question, choice: Choice) -> dict[str, list[float]]:
    if choice.values:
        return {choice.name: [to_si(float(v), choice.unit) for v in choice.values]}
    by_row = [row_cells(question, choice.name, row) for row in choice.rows]
    shared = set.intersection(*map(set, by_row)) if by_row else set[str]()
    return {name: [cells[name].si for cells in by_row] for name in sorted(shared)}


def pick_of(counts: Sequence[int], text: str) -> Pick:
    """The pick that a text gives, by SHA-256."""
    number = int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
    pick = []
    for count in counts:
        number, index = divmod(number, count)
        pick.append(index)
    return tuple(pick)


def nth_pick(counts: Sequence[int], n: int) -> Pick:
    """The n-th pick of the whole space, in order."""
    pick = []
    for count in counts:
        n, index = divmod(n, count)
        pick.append(index)
    return tuple(pick)
