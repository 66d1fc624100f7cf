"""Which end of which name gives an end of an interval: the way of interval propagation, walked backwards.

`reaching(tree, values, End.LOW)` starts at the low end of a tree's interval and finds, part by part, the corner of the
parts below that gives it, down to the names. A name that makes no difference there is left out.
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from witnessmark.maths.compiled import compiled
from witnessmark.maths.intervals import Intervals, interval_of
from witnessmark.maths.many import OF_MANY, sides
from witnessmark.maths.syntax import Call, Name, Tree, children, names_in, rebuilt

Span = tuple[float, float]
SAME = 1e-12  # relative: corners nearer than this to an end are that end


class End(StrEnum):
    """The two ends of an interval."""

    LOW = "low"
    HIGH = "high"


SIDES = (End.LOW, End.HIGH)


@dataclass(frozen=True, slots=True)
class Reached:
    """How an end is reached: every name that has a say with the end it lies at, in the order of the expression.

    A name stands here twice where two of its places want different ends. `between` are names of parts whose least or
    greatest value lies between the ends (the top of a sine), so that no end of a name gives it.
    """

    ends: tuple[tuple[str, End], ...] = ()
    between: frozenset[str] = frozenset()

    @property
    def both(self) -> frozenset[str]:
        """Names that would have to lie at both ends at once."""
        return frozenset(n for n, end in self.ends if end is End.LOW) & {n for n, end in self.ends if end is End.HIGH}


def reaching(tree: Tree, values: Intervals, end: End) -> Reached:
    """The ends of names that give this end of the expression's interval (values in SI, one of each, all finite)."""
    low, high = _span(tree, values)
    if low == high:
        return Reached()
    if isinstance(tree, Name):
        return Reached(((tree.name, end),))
    below = children(tree)
    spans = [_span(child, values) for child in below]
    corner = _corner(tree, spans, low if end is End.LOW else high, SAME * max(abs(low), abs(high)))
    if corner is None:
        return Reached(between=frozenset(n for n in names_in(tree) if values[n][0] != values[n][1]))
    found = [
        reaching(below[i], values, SIDES[side]) for i, side in enumerate(corner) if _matters(tree, spans, corner, i)
    ]
    ends = dict.fromkeys(e for part in found for e in part.ends)
    return Reached(tuple(ends), frozenset().union(*(part.between for part in found)))


def _span(tree: Tree, values: Intervals) -> Span:
    low, high = interval_of(tree)(values)
    return float(low), float(high)


def _corner(tree: Tree, spans: Sequence[Span], wanted: float, room: float) -> tuple[int, ...] | None:
    """The sides (0 low, 1 high) of the parts below whose corner is the wanted end; None where no corner is."""
    corners = _corners(tree, spans)
    nearest = min(corners, key=lambda c: _apart(_at(tree, spans, c), wanted))
    return nearest if _apart(_at(tree, spans, nearest), wanted) <= room else None


def _corners(tree: Tree, spans: Sequence[Span]) -> Iterable[tuple[int, ...]]:
    """Every corner of the parts below; of many values only the two that lead to an end, since there are too many."""
    if isinstance(tree, Call) and tree.function in OF_MANY:
        return [sides(tree.function, spans, upper) for upper in (False, True)]
    return itertools.product((0, 1), repeat=len(spans))


def _apart(x: float, y: float) -> float:
    return math.inf if math.isnan(x) else abs(x - y)


def _at(tree: Tree, spans: Sequence[Span], corner: Sequence[int]) -> float:
    return float(
        compiled(_top(tree))({_slot(i): span[side] for i, (span, side) in enumerate(zip(spans, corner, strict=True))})
    )


def _matters(tree: Tree, spans: Sequence[Span], corner: tuple[int, ...], part: int) -> bool:
    """True where this part, anywhere else in its range, would give another value."""
    pinned = {_slot(i): (span[corner[i]],) * 2 if i != part else span for i, span in enumerate(spans)}
    low, high = interval_of(_top(tree))(pinned)
    return bool(low != high)


def _top(tree: Tree) -> Tree:
    """The top of a tree over names that stand for the parts below; a part without names stays, as an exponent does."""
    return rebuilt(tree, tuple(Name(_slot(i)) if names_in(c) else c for i, c in enumerate(children(tree))))


def _slot(part: int) -> str:
    return f"part {part}"  # no name of an expression has a blank in it
