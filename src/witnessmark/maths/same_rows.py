"""Rows of columns that are the same: a number for each, and where each number stands first."""

from collections.abc import Iterable
from typing import Any

import numpy as np
import numpy.typing as npt

Rows = npt.NDArray[np.intp]
MOST_CODES = 2**62  # what a number of several columns together may come to in 64 bits


def numbered(columns: Iterable[npt.NDArray[Any]]) -> Rows:
    """A number for each row, from 0 on without gaps, the same where all columns (n,) are; whole numbers from 0 on, and
    true and false, are taken as they are."""
    which, count = None, 1
    for column in columns:
        codes = column.astype(np.intp, copy=False) if column.dtype.kind in "biu" else _codes(column)
        size = int(codes.max(initial=0)) + 1
        if count * size > MOST_CODES and which is not None:
            which = _codes(which)
            count = int(which.max(initial=0)) + 1
        which, count = codes if which is None else which * size + codes, count * size
    return np.empty(0, np.intp) if which is None else _codes(which)


def closed_up(which: Rows, count: int) -> Rows:
    """Numbers below a count made to run from 0 on without gaps, in the same order."""
    used = np.zeros(count, np.intp)
    used[which] = 1
    return (np.cumsum(used) - 1)[which]


def firsts_of(which: Rows) -> Rows:
    """Where each number from 0 to the largest stands first; each of them stands somewhere."""
    firsts = np.empty(int(which.max()) + 1, np.intp)
    firsts[which[::-1]] = np.arange(len(which))[::-1]
    return firsts


def _codes(column: npt.NDArray[Any]) -> Rows:
    return np.unique(column, return_inverse=True)[1]
