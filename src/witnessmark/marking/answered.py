"""What students were told and what they entered for one question: the columns that are marked together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from witnessmark.marking.kinds.dispatch import Variants
from witnessmark.questions.working.working import Columns
from witnessmark.reading.column.texts import Texts, texts_at
from witnessmark.reading.number.comma_habits import CommaHabit, habit_of, is_in_doubt

Rows = npt.NDArray[np.intp]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Answered:
    """`size` students' answers to one question: `givens` SI arrays of shape (size,) by name, `entries` texts by key.

    `variants` tell the letters of choices, which each student's sheet has in an order of its own; None where they are
    not known. `commas` tell what each student writes a comma for, where more than these entries told it. `told` are
    numbers that are the same for students with the same givens, where anybody counted them.
    """

    givens: Columns
    entries: Mapping[str, Sequence[str]]
    size: int
    variants: Variants | None = None
    commas: Sequence[CommaHabit | None] | None = None
    told: Rows | None = None

    def only(self, rows: range | Rows) -> "Answered":
        """The same of these students."""
        if isinstance(rows, range) and rows == range(self.size):
            return self
        where: Any = slice(rows.start, rows.stop) if isinstance(rows, range) else rows
        givens = {name: values[where] for name, values in self.givens.items()}
        entries = {key: _texts_at(texts, rows) for key, texts in self.entries.items()}
        variants = None if self.variants is None else _at(self.variants, rows)
        commas = None if self.commas is None else _at(self.commas, rows)
        told = None if self.told is None else self.told[where]
        return Answered(givens, entries, len(rows), variants, commas, told)

    def habits(self) -> dict[int, CommaHabit | None]:
        """What a comma stands for, by row, for those who have an entry in which that is in doubt."""
        columns = list(self.entries.values())
        rows = {row for texts in columns for row in _in_doubt(texts)}
        if self.commas is not None:
            return {row: self.commas[row] for row in sorted(rows)}
        return {row: habit_of(texts[row] for texts in columns) for row in sorted(rows)}


def _at(values: Sequence[T], rows: range | Rows) -> Sequence[T]:
    return values[rows.start : rows.stop] if isinstance(rows, range) else [values[row] for row in rows.tolist()]


def _texts_at(texts: Sequence[str], rows: range | Rows) -> Sequence[str]:
    return texts[rows.start : rows.stop] if isinstance(rows, range) else texts_at(texts, rows)


def _in_doubt(texts: Sequence[str]) -> list[int]:
    """Where the entries of a column stand whose comma may stand for either."""
    if isinstance(texts, Texts):
        return list(np.flatnonzero(np.isin(texts.which, _in_doubt(texts.different))).tolist())
    return [row for row, text in enumerate(texts) if is_in_doubt(text)] if "," in "".join(texts) else []
