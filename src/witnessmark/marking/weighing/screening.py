"""The cheap look before digits are weighed: which entries lie near what each hypothesis gives in full."""

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weighing.digits import Numbers, Rows, fewest_figures
from witnessmark.marking.weights import WINDOW
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import half_unit

MOST_AT_ONCE = 250_000  # entries times hypotheses that are compared at once, to bound memory
ROUGH = 2e-4  # more than logarithms of any two floats, held in 24 bits, lose together
InFull = Callable[[Hypothesis], Array]
"""What a hypothesis's method gives in full for every entry (SI), before its factor."""


def near_entries(numbers: Numbers, candidates: Sequence[Hypothesis], in_full: InFull) -> Iterator[tuple[int, Rows]]:
    """For each candidate that any entry lies near (within its window, on its logarithm): its index, and those entries.

    Each method is worked once for each set of own results.
    """
    zero = unit(candidates[0].method.final.unit).offset if candidates else 0.0
    if not zero:
        yield from _near(numbers, range(len(candidates)), candidates, in_full, 0.0)
        return
    plain = [i for i, h in enumerate(candidates) if h.factor.value == 1]
    scaled = [i for i, h in enumerate(candidates) if h.factor.value != 1]
    yield from _near(numbers, plain, candidates, in_full, 0.0)
    yield from _near(numbers, scaled, candidates, in_full, zero)


def _near(
    numbers: Numbers, some: Sequence[int], candidates: Sequence[Hypothesis], in_full: InFull, zero: float
) -> Iterator[tuple[int, Rows]]:
    """Those of some candidates, which are indices; sizes are counted from `zero` (SI)."""
    with np.errstate(all="ignore"):
        size, sign = np.log(np.abs(numbers.si - zero)), np.sign(numbers.si - zero)
    window = window_of(numbers)
    roughly = (window + ROUGH).astype(np.float32)
    for group in _groups(some, candidates, len(size)):
        values = np.stack([in_full(candidates[indices[0]]) for indices in group]) - zero
        which = np.repeat(np.arange(len(group)), [len(indices) for indices in group])
        flat = [index for indices in group for index in indices]
        factors = np.array([candidates[index].factor.value for index in flat])
        with np.errstate(all="ignore"):
            apart, by_factor = size - np.log(np.abs(values)), np.log(np.abs(factors))
            rough = apart.astype(np.float32)[which] - by_factor.astype(np.float32)[:, None]
            at, row = np.divmod(np.flatnonzero(np.abs(rough, out=rough) < roughly), len(size))
            near = np.abs(apart[which[at], row] - by_factor[at]) < window[row]
        alike = sign[row] * np.sign(values[which[at], row]) == np.sign(factors[at])
        at, row = at[near & alike], row[near & alike]
        ends = np.searchsorted(at, np.arange(len(flat) + 1))
        for found in np.flatnonzero(np.diff(ends)).tolist():
            yield flat[found], row[ends[found] : ends[found + 1]]


def window_of(numbers: Numbers) -> Array:
    """How far each entry may lie from what a method gives (natural logarithm): as far as lines are rounded, and one of
    a single figure half of that further, up as far as down."""
    room = half_unit(numbers.written, fewest_figures(numbers)) / np.abs(numbers.written)
    return np.where(room > WINDOW, WINDOW - np.log1p(-room), WINDOW)


def _groups(some: Sequence[int], candidates: Sequence[Hypothesis], n: int) -> Iterator[list[list[int]]]:
    """The indices of some candidates by method and own results, as many together as may be compared at once."""
    by_method: dict[tuple[int, tuple[int, ...]], list[int]] = {}
    for index in some:
        h = candidates[index]
        by_method.setdefault((id(h.method), h.carried), []).append(index)
    most, count = max(MOST_AT_ONCE // max(n, 1), 1), 0
    group: list[list[int]] = []
    for indices in by_method.values():
        if group and count + len(indices) > most:
            yield group
            group, count = [], 0
        group.append(indices)
        count += len(indices)
    if group:
        yield group
