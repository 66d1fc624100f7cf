"""How a mean, a median, a spread or a slope comes about in a student's numbers: the sums on the way, in a sentence."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from witnessmark.maths.many import HOW, MEDIAN, SLOPE, SPREAD, series_of
from witnessmark.maths.printing.numbers import quantity_text, shown_number, unit_text
from witnessmark.maths.rounding import decimal_to_figures
from witnessmark.maths.syntax import Call, Name, Tree, is_call_of_many, walk

FIGURES = 5
Numbers = Mapping[str, tuple[float, str]]
"""Numbers by name, each in its unit."""


def long_calls(tree: Tree) -> tuple[Call, ...]:
    """The functions of many in a tree whose numbers would not stand in one line: all but the mean."""
    return tuple(one for one in walk(tree) if is_call_of_many(one) and one.function in HOW)


def how_it_comes_about(call: Call, numbers: Numbers) -> str:
    """What is done, and what its sums are here; the sums only where its readings are numbers that stand somewhere."""
    names = [one.name for one in call.arguments if isinstance(one, Name) and one.name in numbers]
    if len(names) < len(call.arguments):
        return HOW[call.function]
    return f"{HOW[call.function]} {_SUMS[call.function](names, numbers)}"


def _spread(names: Sequence[str], numbers: Numbers) -> str:
    values, unit = [numbers[name][0] for name in names], numbers[names[0]][1]
    squares = sum(off * off for off in _off(values))
    return (
        f"Here the mean is {_quantity(_mean(values), unit)}, and the squares add up to "
        f"{_product(squares, unit, unit)}, over {len(values) - 1}."
    )


def _slope(names: Sequence[str], numbers: Numbers) -> str:
    columns = series_of(SLOPE, names)
    x, y = ([numbers[name][0] for name in column] for column in columns)
    of_x, of_y = (numbers[column[0]][1] for column in columns)
    products = sum(a * b for a, b in zip(_off(x), _off(y), strict=True))
    squares = sum(a * a for a in _off(x))
    return (
        f"Here the means are {_quantity(_mean(x), of_x)} and {_quantity(_mean(y), of_y)}, the products add up to "
        f"{_product(products, of_x, of_y)}, the squares to {_product(squares, of_x, of_x)}."
    )


def _median(names: Sequence[str], numbers: Numbers) -> str:
    ordered = sorted(numbers[name][0] for name in names)
    return f"Here in order: {', '.join(shown_number(_rounded(value)) for value in ordered)}."


_SUMS = {SPREAD: _spread, SLOPE: _slope, MEDIAN: _median}


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _off(values: Sequence[float]) -> list[float]:
    return [value - _mean(values) for value in values]


def _rounded(value: float) -> Decimal:
    return decimal_to_figures(Decimal(f"{value:.12g}"), FIGURES)


def _quantity(value: float, unit: str) -> str:
    return quantity_text(_rounded(value), unit)


def _product(value: float, first: str, second: str) -> str:
    """A sum of products, in both units."""
    units = [unit_text(unit) for unit in (first, second) if unit]
    said = f"{units[0]}²" if len(set(units)) == 1 and len(units) > 1 else " × ".join(units)
    return f"{shown_number(_rounded(value))} {said}".rstrip()
