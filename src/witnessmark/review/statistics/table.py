"""Marks of students (rows) at parts (columns); what waits, or was not set, is missing (nan)."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.words.checks import expect

DIMENSIONS = 2


@dataclass(frozen=True, slots=True, eq=False)
class MarkTable:
    """`marks`, shape (students, parts), nan where an answer waits; `out_of`, shape (parts,)."""

    marks: Array
    out_of: Array

    def __post_init__(self) -> None:
        expect(self.marks.ndim == DIMENSIONS, "marks", "rows and columns", self.marks.shape)
        expect(self.out_of.shape == self.marks.shape[1:], "out_of", "one number a part", self.out_of.shape)

    @property
    def students(self) -> int:
        """How many rows there are."""
        return int(self.marks.shape[0])

    @property
    def parts(self) -> int:
        """How many columns there are."""
        return int(self.marks.shape[1])

    @property
    def whole(self) -> "MarkTable":
        """The students of whom every part is marked."""
        return MarkTable(self.marks[~np.isnan(self.marks).any(axis=1)], self.out_of)

    def without(self, part: int) -> "MarkTable":
        """All parts but one."""
        return MarkTable(np.delete(self.marks, part, axis=1), np.delete(self.out_of, part))


def mark_table(rows: Sequence[Sequence[float | None]], out_of: Sequence[float]) -> MarkTable:
    """A table of marks, None where an answer waits."""
    marks = np.array([[np.nan if m is None else float(m) for m in row] for row in rows], dtype=np.float64)
    return MarkTable(marks.reshape(len(rows), len(out_of)), np.array(out_of, dtype=np.float64))
