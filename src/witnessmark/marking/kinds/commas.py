"""Entries in which a comma may stand for either, read as their writer means it; by their size where nobody knows."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.reading.column.columns import read_column
from witnessmark.reading.number.comma_habits import CommaHabit, is_in_doubt, read_by

Commas = Mapping[int, CommaHabit | None]
"""By row, for those who have an entry in doubt: what they write a comma for, or None where nothing tells it."""
NO_COMMAS: Commas = MappingProxyType({})
NEAR, FAR = 0.5, 2.0  # decades from the size expected: a comma before three noughts is a decimal comma only so


def by_habit(texts: Sequence[str], commas: Commas, asked: str, expected: Array) -> Sequence[str]:
    """The texts of one place, those in doubt as their writer's habit has them; `expected` are SI values, shape (n,).

    Without a habit `1,295` keeps both readings. `15,000` has one, in thousands, and gets the other where only that is
    near the value expected.
    """
    doubtful = [row for row in commas if is_in_doubt(texts[row])]
    if not doubtful:
        return texts
    found = list(texts)
    for row in doubtful:
        if habit := commas[row]:
            found[row] = read_by(texts[row], habit)
    unknown = [row for row in doubtful if commas[row] is None]
    decimal = [read_by(texts[row], CommaHabit.DECIMAL) for row in unknown]
    sizes = [_decades(some, asked, expected[unknown]) for some in ([texts[row] for row in unknown], decimal)]
    for row, text, readings, (as_decimal, *_) in zip(unknown, decimal, *sizes, strict=True):
        if len(readings) == 1 and readings[0] > FAR and as_decimal < NEAR:
            found[row] = text
    return found


def _decades(texts: Sequence[str], asked: str, expected: Array) -> list[list[float]]:
    """How far each reading of each text lies from the size expected."""
    values = read_column(texts, asked, expected).si
    with np.errstate(all="ignore"):
        apart = np.abs(np.log10(np.abs(values / expected[:, None])))
    return [[float(a) for a in row if np.isfinite(a)] or [np.inf] for row in apart]
