"""Mean, median, spread and slope against certified values, and their intervals by putting values in."""

import statistics
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from searching import examples
from witnessmark.maths.compiled import compiled
from witnessmark.maths.dimensions import DimensionError, dimension_of
from witnessmark.maths.interval_ends import End, reaching
from witnessmark.maths.intervals import interval_of
from witnessmark.maths.many import of_columns
from witnessmark.maths.precise import FINE, evaluated
from witnessmark.maths.printing.pieces import formula
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import parse

# NIST Statistical Reference Datasets, linear regression: Norris (calibration of ozone monitors, 36 observations).
NORRIS_Y = (
    0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
    557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2,
    0.2,
)  # fmt: skip
NORRIS_X = (
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5,
    11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1,
    448.9, 0.5,
)  # fmt: skip
NORRIS_SLOPE = 1.00211681802045  # certified
# NIST StRD, univariate: NumAcc1 (3 values), NumAcc2 and NumAcc3 (1001 values); certified mean and standard deviation.
UNIVARIATE = [
    ((10000001, 10000003, 10000002), 10000002, 1),
    ((1.2, *(1.1, 1.3) * 500), 1.2, 0.1),
    ((1000000.2, *(1000000.1, 1000000.3) * 500), 1000000.2, 0.1),
]


def value(text: str, **names: float) -> float:
    return float(compiled(parse(text))(names))


def test_the_slope_of_norris_is_the_certified_one_to_thirteen_figures() -> None:
    assert float(of_columns("slope")(*NORRIS_X, *NORRIS_Y)) == pytest.approx(NORRIS_SLOPE, rel=1e-13)


@pytest.mark.parametrize(("values", "mean", "spread"), UNIVARIATE, ids=("NumAcc1", "NumAcc2", "NumAcc3"))
def test_mean_and_spread_are_the_certified_ones(values: tuple[float, ...], mean: float, spread: float) -> None:
    assert float(of_columns("mean")(*values)) == pytest.approx(mean, rel=1e-12)
    assert float(of_columns("spread")(*values)) == pytest.approx(spread, rel=1e-8)  # a float holds 1000000.1 no nearer


def test_the_examples_of_the_python_documentation_come_out() -> None:
    # docs.python.org, statistics: mean([1, 2, 3, 4, 4]), median([1, 3, 5]), median([1, 3, 5, 7]), stdev([1.5, ...])
    assert value("mean(1, 2, 3, 4, 4)") == 2.8
    assert (value("median(1, 3, 5)"), value("median(1, 3, 5, 7)")) == (3, 4)
    assert value("spread(1.5, 2.5, 2.5, 2.75, 3.25, 4.75)") == pytest.approx(1.0810874155219827, rel=1e-15)
    # linear_regression of films by year: 16 are foretold for 2019
    slope = value("slope(1971, 1975, 1979, 1982, 1983, 1, 2, 3, 4, 5)")
    assert round(3 + slope * (2019 - statistics.fmean((1971, 1975, 1979, 1982, 1983)))) == 16


@given(st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=8))
@examples(40)
def test_they_are_those_of_another_library(values: list[float]) -> None:
    size = max(map(abs, values)) or 1.0
    assert float(of_columns("mean")(*values)) == pytest.approx(np.mean(values), abs=1e-12 * size)
    assert float(of_columns("median")(*values)) == np.median(values)
    assert float(of_columns("spread")(*values)) == pytest.approx(np.std(values, ddof=1), abs=1e-12 * size)


def test_precise_numbers_give_the_same_values() -> None:
    names = {name: FINE.mpf(number) for name, number in (("a", 3), ("b", 5), ("c", 11), ("d", 2))}
    for text in ("mean(a, b, c)", "median(a, b, c)", "spread(a, b, c)", "slope(a, b, c, d)"):
        exact = float(evaluated(parse(text), names, FINE))
        assert exact == pytest.approx(value(text, **{n: float(v) for n, v in names.items()}), rel=1e-14)


spans = st.lists(st.tuples(st.floats(1, 100), st.floats(0, 2)), min_size=6, max_size=6)
shares = st.lists(st.floats(0, 1), min_size=6, max_size=6)


@pytest.mark.parametrize("function", ["mean", "median", "spread", "slope"])
@given(spans=spans, shares=shares)
@examples(60)
def test_an_interval_holds_every_value(function: str, spans: Any, shares: Any) -> None:
    box = {f"v{n}": (middle - half, middle + half) for n, (middle, half) in enumerate(spans)}
    tree = parse(f"{function}({', '.join(box)})")
    inside = {name: low + share * (high - low) for share, (name, (low, high)) in zip(shares, box.items(), strict=True)}
    low, high = interval_of(tree)(box)
    found = float(compiled(tree)(inside))
    room = 1e-9 * max(abs(float(low)), abs(float(high)), 1.0)
    assert not np.isfinite(high) or low - room <= found <= high + room


def test_intervals_of_readings_without_room_have_none_either() -> None:
    for text in ("mean(a, b, c, d)", "spread(a, b, c, d)", "slope(a, b, c, d)"):
        low, high = interval_of(parse(text))({"a": (1, 1), "b": (2, 2), "c": (4, 4), "d": (9, 9)})
        assert low == high == pytest.approx(value(text, a=1, b=2, c=4, d=9))


def test_a_slope_over_numbers_reaches_both_ends_of_its_interval() -> None:
    box = {"a": (1.0, 1.0), "b": (2.0, 2.0), "c": (4.0, 4.0), "u": (1.9, 2.1), "v": (3.9, 4.1), "w": (7.9, 8.1)}
    tree = parse("slope(a, b, c, u, v, w)")
    assert dict(reaching(tree, box, End.HIGH).ends) == {"u": End.LOW, "v": End.LOW, "w": End.HIGH}
    low, high = interval_of(tree)(box)
    assert float(low) == pytest.approx(value("slope(1, 2, 4, 2.1, 4.1, 7.9)"))
    assert float(high) == pytest.approx(value("slope(1, 2, 4, 1.9, 3.9, 8.1)"))


def test_a_mean_has_the_dimension_of_its_values_and_a_slope_that_of_y_over_x() -> None:
    names = {"F": unit("N").dimension, "G": unit("N").dimension, "x": unit("mm").dimension, "y": unit("mm").dimension}
    assert dimension_of(parse("mean(F, G)"), names) == dimension_of(parse("spread(F, G)"), names) == names["F"]
    assert dimension_of(parse("slope(x, y, F, G)"), names) == unit("N/m").dimension
    with pytest.raises(DimensionError, match="values of one dimension in mean"):
        dimension_of(parse("mean(F, x)"), names)


def test_they_are_printed_as_they_are_worked_and_read_back() -> None:
    assert spoken(formula(parse("mean(x_1, x_2)"))) == "the fraction x sub 1 plus x sub 2 over 2, end of fraction"
    said = "slope of least squares of open bracket a and b against c and d close bracket"
    assert spoken(formula(parse("slope(a, b, c, d)"))) == said
    for text in ("mean(a, b)", "slope(a, b, c, d)", "2*spread(a, b, c)"):
        assert plain(parse(text)) == text
