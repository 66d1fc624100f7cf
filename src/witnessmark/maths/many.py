"""Functions of many values: mean, median, spread, and the slope of the straight line of least squares.

`slope` has all x first and then all y, as many of each. Spread is the standard deviation of a sample, with one less
than the number of values below (ISO 3534-1:2006, 2.16); the slope is that of least squares in y alone.
"""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import numpy as np

T = TypeVar("T")
Interval = tuple[Any, Any]
MEAN, MEDIAN, SPREAD, SLOPE = "mean", "median", "spread", "slope"
OF_MANY = frozenset({MEAN, MEDIAN, SPREAD, SLOPE})
LEAST = {MEAN: 2, MEDIAN: 2, SPREAD: 2, SLOPE: 4}
HOW = {
    SPREAD: "The spread is the root of what remains when the squares of all distances from the mean are added and "
    "divided by one less than the number of values.",
    SLOPE: "The slope is that of least squares: for each reading the distance of x from its mean times that of y from "
    "its mean, all added, over the sum of the squares of the distances of x.",
    MEDIAN: "The median is the value in the middle when all are put in order, or the mean of the two there.",
}


def takes(function: str, count: int) -> bool:
    """Whether a function of many takes so many values."""
    return count >= LEAST[function] and (function != SLOPE or count % 2 == 0)


def series_of(function: str, values: Sequence[T]) -> tuple[Sequence[T], ...]:
    """The series that the values are of: x and y of a slope, else one."""
    half = len(values) // 2
    return (values[:half], values[half:]) if function == SLOPE else (values,)


def worked(function: str, values: Sequence[Any], root: Callable[[Any], Any], ordered: Callable[[Any], Any]) -> Any:
    """The value of a function of many, in whatever numbers these are; `root` is their square root, `ordered` puts them
    in order. A spread of equal values is nought; a slope over one x alone has no value (division by nought)."""
    count = len(values)
    if function == MEDIAN:
        row = ordered(values)
        return (row[(count - 1) // 2] + row[count // 2]) / 2
    if function == SLOPE:
        x, y = series_of(function, values)
        off = _off(x)
        return _sum([a * b for a, b in zip(off, _off(y), strict=True)]) / _sum([a * a for a in off])
    if function == SPREAD:
        return root(_sum([a * a for a in _off(values)]) / (count - 1))
    return _sum(values) / count


def of_columns(function: str) -> Callable[..., Any]:
    """The function over columns of numbers, one argument a value."""

    def run(*values: Any) -> Any:
        columns = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in values))
        return worked(function, columns, np.sqrt, lambda row: np.sort(np.stack(row), axis=0))

    return run


def _sum(values: Sequence[Any]) -> Any:
    total = values[0]
    for value in values[1:]:
        total = total + value
    return total


def _off(values: Sequence[Any]) -> list[Any]:
    """How far each lies from the mean of all."""
    mean = _sum(values) / len(values)
    return [value - mean for value in values]


def of_intervals(function: str) -> Callable[..., Interval]:
    """The interval of a function of many over intervals; it holds every value that there is, and is exact for mean and
    median, and for a slope whose x are numbers."""

    def run(*spans: Interval) -> Interval:
        lows = np.broadcast_arrays(*(np.asarray(low, dtype=np.float64) for low, _ in spans))
        highs = np.broadcast_arrays(*(np.asarray(high, dtype=np.float64) for _, high in spans))
        if function in (MEAN, MEDIAN):
            return of_columns(function)(*lows), of_columns(function)(*highs)
        middle, half = (np.stack(highs) + np.stack(lows)) / 2, (np.stack(highs) - np.stack(lows)) / 2
        room = _room_of_spread(half) if function == SPREAD else _room_of_slope(middle, half)
        value = of_columns(function)(*middle)
        low = np.maximum(value - room, 0.0) if function == SPREAD else value - room
        return low, value + room

    return run


def _room_of_spread(half: Any) -> Any:
    """How far a spread can move: it is a norm of the values, so by no more than the norm of what these move."""
    return np.sqrt((half**2).sum(axis=0) / (len(half) - 1))


def _room_of_slope(middle: Any, half: Any) -> Any:
    """How far a slope can move: the greatest of each partial derivative anywhere in the box, times half its side."""
    (x, y), (dx, dy) = np.split(middle, 2), np.split(half, 2)
    off, up = x - x.mean(axis=0), y - y.mean(axis=0)
    most_off, most_up = np.abs(off) + dx + dx.mean(axis=0), np.abs(up) + dy + dy.mean(axis=0)
    below = np.maximum(np.sqrt((off**2).sum(axis=0)) - np.sqrt((dx**2).sum(axis=0)), 0.0) ** 2
    if not np.any(dx):
        return (np.abs(off) * dy).sum(axis=0) / below
    steepest = np.sqrt((most_up**2).sum(axis=0)) / np.sqrt(below)
    by_x = (most_up + 2 * steepest * most_off) / below
    return (most_off / below * dy + by_x * dx).sum(axis=0)


def sides(function: str, spans: Sequence[tuple[float, float]], upper: bool) -> tuple[int, ...]:
    """For each value the end of its span (0 low, 1 high) that moves the function towards its upper, or lower, end."""
    middle = [(low + high) / 2 for low, high in spans]
    found = []
    for at, (low, high) in enumerate(spans):
        ends = [float(of_columns(function)(*middle[:at], end, *middle[at + 1 :])) for end in (low, high)]
        found.append(int((ends[1] > ends[0]) == upper))
    return tuple(found)
