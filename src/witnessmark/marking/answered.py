"""What students were told and what they entered for one question: the columns that are marked together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from witnessmark.marking.kinds.dispatch import Variants
from witnessmark.questions.working.working import Columns

Rows = npt.NDArray[np.intp]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Answered:
    """`size` students' answers to one question: `givens` SI arrays of shape (size,) by name, `entries` texts by key.

    `variants` tell the letters of choices, which each student's sheet has in an order of its own; None where they are
    not known.
    """

    givens: Columns
    entries: Mapping[str, Sequence[str]]
    size: int
    variants: Variants | None = None

    def only(self, rows: range | Rows) -> "Answered":
        """The same of these students."""
        where: Any = slice(rows.start, rows.stop) if isinstance(rows, range) else rows
        givens = {name: values[where] for name, values in self.givens.items()}
        entries = {key: _at(texts, rows) for key, texts in self.entries.items()}
        return Answered(givens, entries, len(rows), None if self.variants is None else _at(self.variants, rows))


def _at(values: Sequence[T], rows: range | Rows) -> Sequence[T]:
    return values[rows.start : rows.stop] if isinstance(rows, range) else [values[row] for row in rows.tolist()]
