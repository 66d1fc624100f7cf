"""Rows of a table that are the same at one place: told the same, the same number typed there and wherever it carries on
from.

Such a place is weighed once for all of them, also where the rows differ in what else they hold.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.maths.same_rows import firsts_of, numbered

Rows = npt.NDArray[np.intp]
LEAST_ROWS = 1_000  # fewer are sooner marked than compared
WORTH_IT = 0.95  # of the rows: where more of them differ, each is marked


@dataclass(frozen=True, slots=True)
class Alike:
    """Where each distinct row stands first, and which of these each of the n rows is."""

    firsts: Rows
    which: Rows


def alike_at(told: Rows | None, typed: Rows | None, before: Sequence[Alike | None]) -> Alike | None:
    """The rows that are the same at a place; None where too few are for it to pay, or nobody knows.

    `told` is a number for each row, the same for those who were told the same, and `typed` the same for those who typed
    the same there; `before` are the places that it carries on from.
    """
    if told is None or typed is None or len(told) < LEAST_ROWS or any(place is None for place in before):
        return None
    which = numbered([*([place.which for place in before if place is not None] or [told]), typed])
    firsts = firsts_of(which)
    return None if len(firsts) > WORTH_IT * len(told) else Alike(firsts, which)
