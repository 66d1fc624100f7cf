"""How hard each part is, and whether those who are good at the rest are good at it."""

import math

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.review.statistics.table import MarkTable

TAIL = 0.27
"""T. L. Kelley (1939), J. Educ. Psychol. 30, 17-24: the tails that show most of a normal class are 27.03 % each."""


def facilities(table: MarkTable) -> tuple[float | None, ...]:
    """Mean marks over marks available of each part, 0 to 1, over the answers that are marked; None where none is."""
    found = []
    for part in range(table.parts):
        marks = table.marks[:, part]
        marked = marks[~np.isnan(marks)]
        found.append(float(marked.mean() / table.out_of[part]) if len(marked) and table.out_of[part] else None)
    return tuple(found)


def tail_size(students: int) -> int:
    """How many whole persons 27 % are: the nearest number, halves up (13.5 is 14), at least one of anybody."""
    return min(students, max(1, math.floor(students * TAIL + 0.5))) if students else 0


def upper_less_lower(table: MarkTable) -> tuple[float | None, ...]:
    """Of each part the facility among the best 27 % less that among the last 27 %, -1 to 1; None below four students.

    The order is that of totals. Students who tie at an edge share its places, each counting by the same part, so that
    no order of the list decides. Students with an answer that waits are left out.
    """
    whole = table.whole
    if whole.students < 4:
        return (None,) * table.parts
    totals, size = whole.marks.sum(axis=1), tail_size(whole.students)
    upper, lower = _weights(-totals, size), _weights(totals, size)
    shares = whole.marks / np.where(whole.out_of > 0, whole.out_of, np.nan)
    found = (upper @ shares - lower @ shares) / size
    return tuple(None if math.isnan(x) else float(x) for x in found)


def _weights(order: Array, size: int) -> Array:
    """A weight from 0 to 1 for each student, adding up to `size`: the first ones by `order`, ties alike."""
    edge = np.sort(order)[size - 1]
    inside, tied = order < edge, order == edge
    weights = np.zeros(len(order))
    weights[inside] = 1.0
    weights[tied] = (size - inside.sum()) / tied.sum()
    return weights


def item_rest(table: MarkTable) -> tuple[float | None, ...]:
    """Of each part the correlation (Pearson's r) of its marks with the total of all other parts, -1 to 1.

    None where either does not vary, or below three students. Students with an answer that waits are left out.
    """
    whole = table.whole
    totals = whole.marks.sum(axis=1)
    return tuple(correlation(whole.marks[:, i], totals - whole.marks[:, i]) for i in range(table.parts))


def correlation(first: Array, second: Array) -> float | None:
    """Pearson's r of two columns; None where one of them does not vary, or below three rows."""
    if len(first) < 3:
        return None
    a, b = first - first.mean(), second - second.mean()
    spread = float(np.sqrt((a @ a) * (b @ b)))
    size = float(np.abs(first).max() * np.abs(second).max()) * len(first)
    return float(a @ b) / spread if spread > 1e-12 * size else None
