"""Rows of a table that are the same at one place: told the same, typed the same there and wherever it carries on from.

Such a place is marked once for all of them, also where the rows differ in what else they hold.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.reading.column.texts import Texts

Rows = npt.NDArray[np.intp]
LEAST_ROWS = 1_000  # fewer are sooner marked than compared
WORTH_IT = 0.8  # of the rows: where more of them differ, each is marked


@dataclass(frozen=True, slots=True)
class Alike:
    """Where each distinct row stands first, and which of these each of the n rows is."""

    firsts: Rows
    which: Rows


def alike_at(told: Rows | None, texts: Sequence[str], before: Sequence[Alike | None]) -> Alike | None:
    """The rows that are the same at a place; None where too few are for it to pay, or nobody knows.

    `told` is a number for each row, the same for those who were told the same; `before` are the places that it carries
    on from.
    """
    if told is None or len(texts) < LEAST_ROWS or any(place is None for place in before):
        return None
    which = told
    for codes in (_numbered(texts), *(place.which for place in before if place is not None)):
        _, which = np.unique(which * (int(codes.max()) + 1) + codes, return_inverse=True)
    firsts = firsts_of(which)
    return None if len(firsts) > WORTH_IT * len(texts) else Alike(firsts, which)


def firsts_of(which: Rows) -> Rows:
    """Where each number from 0 to the largest stands first; each of them stands somewhere."""
    firsts = np.empty(int(which.max()) + 1, np.intp)
    firsts[which[::-1]] = np.arange(len(which))[::-1]
    return firsts


def _numbered(texts: Sequence[str]) -> Rows:
    """A number for each text, the same for the same."""
    if isinstance(texts, Texts):
        return texts.which
    number = {text: i for i, text in enumerate(dict.fromkeys(texts))}
    return np.fromiter(map(number.__getitem__, texts), np.intp, len(texts))
