"""How the rows of a large table are shared out among those who mark it, and what each of them gives."""

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt

Rows = npt.NDArray[np.intp]
Added = Mapping[str, Any]
"""The columns that are added to a table; a number alone is the same in every row."""

BLOCK = 200_000  # rows marked at once at most, which bounds memory
LEAST_PIECE = 20_000  # fewer rows are not worth a second process
UNEVEN = 1.5  # of an even piece: a larger one is divided whoever was told the same


@dataclass(frozen=True, slots=True)
class Piece:
    """What is added to some rows of a table: of the distinct rows, block by block, and which of these each row is."""

    blocks: Sequence[Added]
    which: Rows


class Workers(Protocol):
    """Those who mark the pieces of a table, and how many of them there are."""

    @property
    def count(self) -> int:
        """So many pieces are marked at once."""

    def each(self, act: Callable[[int], Piece], pieces: Sequence[int]) -> list[Piece]:
        """What `act` gives for every piece, which is a number, in order."""


@dataclass(frozen=True, slots=True)
class Alone:
    """Nobody else: one piece after the other."""

    count: int = 1

    def each(self, act: Callable[[int], Piece], pieces: Sequence[int]) -> list[Piece]:
        """What `act` gives for every piece, in order."""
        return [act(piece) for piece in pieces]


def pieces_of(told: Rows | None, size: int, most: int) -> list[slice | Rows]:
    """The rows of a table in even pieces, as many for each of the workers: those who were told the same together, where
    no few of them are too many."""
    workers = max(min(most, size // LEAST_PIECE), 1)
    if told is not None:
        group = (np.cumsum(np.bincount(told)) - 1) * workers // size
        rows = [np.flatnonzero(group[told] == n) for n in range(workers)]
        if max(map(len, rows)) < UNEVEN * size / workers:
            return [*rows]
    return [slice(piece.start, piece.stop) for piece in evenly(size, workers * max(-(-size // (workers * BLOCK)), 1))]


def evenly(size: int, count: int) -> list[range]:
    """So many rows in so many blocks, none of them empty."""
    ends = [size * i // count for i in range(count + 1)]
    return [range(start, end) for start, end in itertools.pairwise(ends) if end > start]
