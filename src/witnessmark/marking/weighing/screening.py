"""The cheap look before digits are weighed: which entries lie near what each hypothesis gives in full."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weighing.digits import Numbers, Rows, fewest_figures
from witnessmark.marking.weights import WINDOW
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import half_unit

MOST_AT_ONCE = 250_000  # entries times hypotheses that are compared at once, to bound memory
REACH, CELLS_A_UNIT = 40.0, 100  # a ruler of logarithms: how far from 0 it goes both ways, and how finely
CELLS = round(2 * REACH * CELLS_A_UNIT)
InFull = Callable[[Hypothesis], Array]
"""What a hypothesis's method gives in full for every entry (SI), before its factor."""


def near_entries(
    numbers: Numbers, candidates: Sequence[Hypothesis], in_full: InFull, which: Rows | None = None
) -> Iterator[tuple[tuple[int, ...], Rows]]:
    """For the candidates of one method, with the same own results and factor, that any entry lies near (within its
    window, on its logarithm): their indices, and those entries.

    Each method is worked once for each set of own results; for each entry, or for each variant where `which` tells the
    variant of each entry.
    """
    zero = unit(candidates[0].method.final.unit).offset if candidates else 0.0
    if not zero:
        yield from _near(numbers, range(len(candidates)), candidates, in_full, which, 0.0)
        return
    plain = [i for i, h in enumerate(candidates) if h.factor.value == 1]
    scaled = [i for i, h in enumerate(candidates) if h.factor.value != 1]
    yield from _near(numbers, plain, candidates, in_full, which, 0.0)
    yield from _near(numbers, scaled, candidates, in_full, which, zero)


def _near(
    numbers: Numbers, some: Sequence[int], candidates: Sequence[Hypothesis], in_full: InFull, variant: Rows | None,
    zero: float,
) -> Iterator[tuple[tuple[int, ...], Rows]]:  # fmt: skip
    """Those of some candidates, which are indices; sizes are counted from `zero` (SI)."""
    entries = _Entries.of(numbers, zero)
    for group in _groups(some, candidates, len(entries.size)):
        with np.errstate(all="ignore"):
            values = np.stack([in_full(candidates[next(iter(by_factor.values()))[0]]) for by_factor in group]) - zero
            logs, signs = np.log(np.abs(values)), np.sign(values)
        for ruler, methods in _by_ruler(group):
            method, row, at = _beside(entries, logs[methods], variant, ruler)
            of = methods[method], row if variant is None else variant[row]
            alike = entries.sign[row] * signs[of] == ruler.signs[at]
            places = len(methods) * len(ruler.factors)
            place, row = (method * len(ruler.factors) + at)[alike].astype(np.min_scalar_type(places)), row[alike]
            order = np.argsort(place, kind="stable")
            ends = np.searchsorted(place[order], np.arange(places + 1))
            for found in np.flatnonzero(np.diff(ends)).tolist():
                which, factor = divmod(found, len(ruler.factors))
                indices = group[int(methods[which])][ruler.factors[factor]]
                yield tuple(indices), row[order[ends[found] : ends[found + 1]]]


@dataclass(frozen=True, slots=True)
class _Entries:
    """The sizes of entries on a logarithm, and in cells of a ruler; their signs, how far each may lie from what a
    method gives, and whose window is wider than the usual one."""

    size: Array
    cell: npt.NDArray[np.float32]
    sign: Array
    window: Array
    wide: Rows

    @staticmethod
    def of(numbers: Numbers, zero: float) -> "_Entries":
        """Counted from `zero` (SI)."""
        with np.errstate(all="ignore"):
            size, sign = np.log(np.abs(numbers.si - zero)), np.sign(numbers.si - zero)
            cell = ((size + REACH) * CELLS_A_UNIT).astype(np.float32)
        window = window_of(numbers)
        return _Entries(size, cell, sign, window, np.flatnonzero(window > WINDOW))


@dataclass(frozen=True, slots=True)
class _Ruler:
    """Factors in the order of their sizes, with the logarithms of these and their signs; for each cell of a ruler of
    logarithms how many come before those within whose window something that falls into it may lie, and how many these
    are."""

    factors: tuple[float, ...]
    logs: Array
    signs: Array
    before: Rows
    count: npt.NDArray[np.int16]


@lru_cache(maxsize=1_000)
def _ruler(factors: tuple[float, ...]) -> _Ruler:
    """The ruler of these factors; into its outermost cells falls all that lies beyond, which may be near any."""
    factors = tuple(sorted(factors, key=abs))
    logs = np.log(np.abs(factors))
    ends = np.arange(CELLS + 1) / CELLS_A_UNIT - REACH
    room = WINDOW + 1 / CELLS_A_UNIT
    before = np.searchsorted(logs, ends[:-1] - room)
    count = np.searchsorted(logs, ends[1:] + room) - before
    before[[0, -1]], count[[0, -1]] = 0, len(factors)
    return _Ruler(factors, logs, np.sign(factors), before, count.astype(np.int16))


def _by_ruler(group: Sequence[Mapping[float, Sequence[int]]]) -> Iterator[tuple[_Ruler, Rows]]:
    """Which methods have the same factors."""
    places: dict[tuple[float, ...], list[int]] = {}
    for place, by_factor in enumerate(group):
        places.setdefault(tuple(by_factor), []).append(place)
    for factors, methods in places.items():
        yield _ruler(factors), np.array(methods, np.intp)


Places = tuple[Rows, Rows, Rows]
"""Which method, which entry, which factor."""


def _beside(entries: _Entries, logs: Array, variant: Rows | None, ruler: _Ruler) -> Places:
    """Where the logarithms of entries, less those of what methods give (k, n or variants), lie within the window of a
    factor: those of the usual window are looked up on the ruler before."""
    size, window, wide = entries.size, entries.window, entries.wide
    method, row, at = _likely(entries, logs, variant, ruler)
    with np.errstate(all="ignore"):
        far = size[row] - logs[method, row if variant is None else variant[row]] - ruler.logs[at]
        near = np.flatnonzero(np.abs(far) < window[row])
        if not wide.size:
            return method[near], row[near], at[near]
        apart = size[wide] - logs.take(wide if variant is None else variant[wide], axis=1)
        by_wide = np.nonzero(np.abs(apart[:, :, None] - ruler.logs) < window[wide, None])
    method, row, at = np.r_[method[near], by_wide[0]], np.r_[row[near], wide[by_wide[1]]], np.r_[at[near], by_wide[2]]
    return method, row, at


def _likely(entries: _Entries, logs: Array, variant: Rows | None, ruler: _Ruler) -> Places:
    """Where an entry may lie within the window of a factor; not those whose window is wider."""
    with np.errstate(all="ignore"):
        given = (logs * CELLS_A_UNIT).astype(np.float32)
        apart = entries.cell - (given if variant is None else given.take(variant, axis=1))
        if len(ruler.factors) == 1:
            apart -= np.float32((ruler.logs[0] + REACH) * CELLS_A_UNIT)
            near = np.abs(apart, out=apart) < WINDOW * CELLS_A_UNIT + 1
            near[:, entries.wide] = False
            method, row = np.divmod(np.flatnonzero(near), len(entries.size))
            return method, row, np.zeros_like(method)
        cell = apart.astype(np.int32)
    count = ruler.count.take(cell, mode="clip")
    count[:, entries.wide] = 0
    found = np.flatnonzero(count != 0)
    method, row = np.divmod(found, len(entries.size))
    each, first = count.take(found), ruler.before.take(cell.take(found), mode="clip")
    nth = np.arange(each.sum()) - np.repeat(np.cumsum(each) - each, each)
    return np.repeat(method, each), np.repeat(row, each), np.repeat(first, each) + nth


def window_of(numbers: Numbers) -> Array:
    """How far each entry may lie from what a method gives (natural logarithm): as far as lines are rounded, and one of
    a single figure half of that further, up as far as down."""
    room = half_unit(numbers.written, fewest_figures(numbers)) / np.abs(numbers.written)
    return np.where(room > WINDOW, WINDOW - np.log1p(-room), WINDOW)


def _groups(
    some: Sequence[int], candidates: Sequence[Hypothesis], n: int
) -> Iterator[list[dict[float, list[int]]]]:  # fmt: skip
    """The indices of some candidates by method and own results, and then by factor; as many methods together as may be
    compared at once."""
    by_method: dict[tuple[int, tuple[int, ...]], dict[float, list[int]]] = {}
    for index in some:
        h = candidates[index]
        by_method.setdefault((id(h.method), h.carried), {}).setdefault(h.factor.value, []).append(index)
    methods, most = list(by_method.values()), max(MOST_AT_ONCE // max(n, 1), 1)
    for start in range(0, len(methods), most):
        yield methods[start : start + most]
