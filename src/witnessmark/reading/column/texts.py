"""A column of texts of which many are the same: each is looked at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import overload

import numpy as np
import numpy.typing as npt

Rows = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Texts(Sequence[str]):
    """The different texts, and which of them stands in each row."""

    different: Sequence[str]
    which: Rows

    @staticmethod
    def of(texts: Sequence[str]) -> "Texts":
        """A column as it was typed."""
        number = {text: i for i, text in enumerate(dict.fromkeys(texts))}
        return Texts(tuple(number), np.fromiter(map(number.__getitem__, texts), np.intp, len(texts)))

    def __len__(self) -> int:
        return len(self.which)

    @overload
    def __getitem__(self, row: int) -> str: ...

    @overload
    def __getitem__(self, row: slice) -> "Texts": ...

    def __getitem__(self, row: int | slice) -> "str | Texts":
        return self.only(self.which[row]) if isinstance(row, slice) else self.different[self.which[row]]

    def __iter__(self) -> Iterator[str]:
        return map(self.different.__getitem__, self.which.tolist())

    def at(self, rows: Rows) -> "Texts":
        """These rows of it."""
        return self.only(self.which[rows])

    def only(self, which: Rows) -> "Texts":
        """Rows in which these of the texts stand, and no text that stands in none of them."""
        stands = np.zeros(len(self.different), np.bool_)
        stands[which] = True
        left = np.flatnonzero(stands)
        place = np.cumsum(stands) - 1
        return Texts([self.different[i] for i in left.tolist()], place[which])


def texts_at(texts: Sequence[str], rows: Rows) -> Sequence[str]:
    """These rows of a column."""
    return texts.at(rows) if isinstance(texts, Texts) else [texts[row] for row in rows.tolist()]
