"""Rounding to significant figures against published examples (numbers only)."""

import sys
from decimal import ROUND_HALF_UP, Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.rounding import (
    FLOAT_FIGURES,
    FLOAT_ROOM,
    decimal_to_division,
    decimal_to_figures,
    half_unit,
    rounding_room,
    to_division,
    to_figures,
)

PUBLISHED = [
    ("12.223", 3, "12.2", "ISO 80000-1:2009 Annex B, B.2 (secondary source)"),
    ("12.251", 3, "12.3", "ISO 80000-1:2009 Annex B, B.2 (secondary source)"),
    ("12.275", 3, "12.3", "ISO 80000-1:2009 Annex B, B.2 (secondary source)"),
    ("12.25", 3, "12.3", "ISO 80000-1:2009 Annex B, B.3 rule B (printed numbers from memory)"),
    ("12.35", 3, "12.4", "ISO 80000-1:2009 Annex B, B.3 rule B (printed numbers from memory)"),
    ("1223.3", 3, "1220", "ISO 80000-1 Annex B, range 10 (from memory)"),
    ("1225.1", 3, "1230", "ISO 80000-1 Annex B, range 10 (from memory)"),
    ("1227.5", 3, "1230", "ISO 80000-1 Annex B, range 10 (from memory)"),
    ("0.028675", 3, "0.0287", "OpenStax Chemistry 2e sec. 1.5"),
    ("18.3384", 3, "18.3", "OpenStax Chemistry 2e sec. 1.5"),
    ("6.8752", 3, "6.88", "OpenStax Chemistry 2e sec. 1.5"),
    ("31.57", 2, "32", "OpenStax Chemistry 2e sec. 1.5, example"),
    ("8.1649", 3, "8.16", "OpenStax Chemistry 2e sec. 1.5, example"),
    ("45.76", 3, "45.8", "ASTM E29 sec. 6.4 (secondary source)"),
    ("45.45001", 3, "45.5", "ASTM E29 sec. 6.4 (secondary source)"),
    ("1.655000", 3, "1.66", "ASME A112.18.1-2018 Annex A"),
    ("2.449", 2, "2.4", "IEC 60840 annex (half-up rule)"),
    ("2.453", 2, "2.5", "IEC 60840 annex (half-up rule)"),
    ("25.0478", 5, "25.048", "IEC 60840 annex (half-up rule)"),
    ("2.675", 3, "2.68", "Python documentation of round(): binary floats hold 2.675 below the tie"),
]


@pytest.mark.parametrize(("text", "figures", "printed", "source"), PUBLISHED)
def test_rounding_gives_the_published_figure(text: str, figures: int, printed: str, source: str) -> None:
    assert decimal_to_figures(Decimal(text), figures) == Decimal(printed), source
    assert float(to_figures(float(text), figures)) == pytest.approx(float(printed), rel=1e-12), source


def test_two_roundings_are_not_one() -> None:
    once, twice = (
        decimal_to_figures(Decimal("1.347"), 2),
        decimal_to_figures(decimal_to_figures(Decimal("1.347"), 3), 2),
    )
    assert (once, twice) == (Decimal("1.3"), Decimal("1.4"))  # Ontario MTO LS-100 rev. 16 sec. 3.3


@given(st.floats(1e-12, 1e12), st.integers(1, 8))
def test_rounding_moves_a_value_by_half_a_unit_at_most(x: float, figures: int) -> None:
    assert abs(float(to_figures(x, figures)) - x) <= float(half_unit(x, figures)) * (1 + 1e-9) + 1e-10 * x


@given(st.floats(1e-12, 1e12), st.integers(1, 8))
def test_rounding_twice_to_the_same_figures_changes_nothing(x: float, figures: int) -> None:
    once = to_figures(x, figures)
    assert float(to_figures(once, figures)) == pytest.approx(float(once), rel=1e-12)


def test_zero_and_values_that_are_not_finite_stay() -> None:
    assert np.array_equal(
        to_figures(np.array([0.0, np.inf, np.nan]), 3), np.array([0.0, np.inf, np.nan]), equal_nan=True
    )


@given(st.floats(1e-12, 1e12), st.integers(1, 8), st.floats(-3, 3), st.sampled_from([-1, 1]))
def test_a_value_lies_in_the_room_of_a_number_just_where_it_is_rounded_to_it(
    x: float, figures: int, steps: float, sign: int
) -> None:
    written = float(to_figures(sign * x, figures))
    value = written + steps * float(half_unit(written, figures))
    low, high = rounding_room(written, figures)
    is_rounded_to_it = abs(float(to_figures(value, figures)) / written - 1) < FLOAT_ROOM
    is_on_the_border = min(abs(value - low), abs(value - high)) < 1e-10 * abs(written)
    assert (low <= value <= high) == is_rounded_to_it or is_on_the_border


# Ties and borders, against the decimal module of Python, which rounds the printed digits (ROUND_HALF_UP is ISO 80000-1
# Annex B rule B, and ASTM E29 calls it rounding half up).


def rounded(text: str, figures: int) -> Decimal:
    """A printed number rounded by the decimal module."""
    exact = Decimal(text)
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() + 1 - figures), rounding=ROUND_HALF_UP)


def unit_of(number: Decimal, figures: int) -> Decimal:
    """What one in the last of so many figures of a number is worth."""
    return Decimal(1).scaleb(number.adjusted() + 1 - figures)


@pytest.mark.parametrize("power", [-300, -30, -12, -5, -1, 0, 1, 6, 12, 22, 30, 290])
@pytest.mark.parametrize("sign", ["", "-"])
def test_every_printed_tie_of_three_figures_goes_away_from_zero(power: int, sign: str) -> None:
    texts = [f"{sign}{n}5E{power}" for n in range(100, 1000)]
    found = to_figures(np.array([float(t) for t in texts]), 3)
    assert found == pytest.approx([float(rounded(t, 3)) for t in texts], rel=1e-14, abs=0)


def test_two_units_of_the_twelfth_figure_below_a_tie_is_not_a_tie() -> None:
    texts = [f"1.{n}49999999{end}" for n in range(10) for end in ("98", "97", "90")]  # 1.n5 less 2, 3, 10 of them
    assert [float(to_figures(float(t), 2)) for t in texts] == [float(rounded(t, 2)) for t in texts]


@pytest.mark.parametrize("figures", range(1, 15))
def test_rounding_moves_no_value_by_more_than_half_a_unit_however_many_figures(figures: int) -> None:
    values = np.linspace(1.1, 99.7, 200) ** 3 / 7
    moved = [abs(Decimal(y) - Decimal(x)) for x, y in zip(values, to_figures(values, figures).tolist(), strict=True)]
    assert max(m / unit_of(Decimal(x), figures) for m, x in zip(moved, values, strict=True)) <= Decimal("0.52")


def test_as_many_figures_as_a_float_holds_are_left_alone() -> None:
    assert FLOAT_FIGURES == sys.float_info.dig == 15  # IEEE 754: so many decimal digits survive in a double
    third = 0.1 + 0.2  # 0.30000000000000004
    assert float(to_figures(third, 15)) == third
    assert float(to_figures(third, 14)) == 0.3


@pytest.mark.parametrize("figures", [1, 2, 3, 6])
@pytest.mark.parametrize("text", ["1", "-1", "94.2", "-94.2", "0.000999", "9.99", "100", "1E-290", "2.5E+290", "0.5"])
def test_half_a_unit_is_half_of_what_one_in_the_last_figure_is_worth(text: str, figures: int) -> None:
    exact = float(unit_of(Decimal(text), figures) / 2)
    assert float(half_unit(float(text), figures)) == pytest.approx(exact, rel=1e-14)


def test_nothing_has_no_last_figure() -> None:
    assert half_unit(np.array([0.0, np.inf, np.nan]), 3).tolist() == [0.0, 0.0, 0.0]


WRITTEN = ["942", "-942", "100", "-100", "1E+6", "0.1", "-0.001", "999", "0.000123", "5E-8", "-1E-300", "7.1E+290"]


@pytest.mark.parametrize("figures", [1, 2, 3, 5])
@pytest.mark.parametrize("text", WRITTEN)
def test_the_room_of_a_number_reaches_from_tie_to_tie_and_holds_the_one_that_is_rounded_to_it(
    text: str, figures: int
) -> None:
    written = rounded(text, figures)
    size, half = abs(written), unit_of(written, figures) / 2
    below = half / 10 if size == Decimal(10) ** size.adjusted() else half  # under a power of ten figures are finer
    low, high = (float(x) for x in rounding_room(float(written), figures))
    inner, outer = (low, high) if written > 0 else (-high, -low)
    assert (inner, outer) == pytest.approx((float(size - below), float(size + half)), rel=1e-10)
    assert rounded(str(size - below), figures) == size  # the lower tie goes up to the number, the upper one beyond it
    assert inner <= float(size - below)
    assert rounded(str(size + half), figures) > size
    assert outer < float(size + half)


@pytest.mark.parametrize("written", [2.0, -2.0, 1.0])
def test_where_figures_are_finer_than_a_billionth_the_room_is_a_billionth_each_way(written: float) -> None:
    assert FLOAT_ROOM == 1e-9
    low, high = (float(x) for x in rounding_room(written, 14))
    assert ((high - written) * 1e9, (written - low) * 1e9) == pytest.approx((abs(written), abs(written)), rel=0.05)


def test_one_exact_value_keeps_every_digit_until_it_is_rounded() -> None:
    assert str(decimal_to_figures(Decimal("0.12345678901234567895"), 19)) == "0.1234567890123456790"
    assert str(decimal_to_figures(2.675, 3)) == "2.68"  # Python documentation of round(): the float is 2.67499999...
    assert str(decimal_to_figures(Decimal(1), 3)) == "1.00"
    assert [str(decimal_to_figures(Decimal(t), 3)) for t in ("0", "NaN", "-Infinity")] == ["0", "NaN", "-Infinity"]


@pytest.mark.parametrize(("x", "division", "read"), [
    ("12.34", "0.05", "12.35"), ("12.32", "0.05", "12.30"), ("12.325", "0.05", "12.35"), ("7", "2", "8"),
    ("-7", "2", "-8"),
])  # fmt: skip
def test_an_exact_number_is_read_to_the_nearest_division_and_written_to_its_last_place(
    x: str, division: str, read: str
) -> None:
    assert str(decimal_to_division(Decimal(x), Decimal(division))) == read


@pytest.mark.parametrize("division", ["0.01", "0.02", "0.05", "0.1", "0.2", "0.5", "1", "2", "5", "10"])
@pytest.mark.parametrize("sign", [1, -1])
def test_an_instrument_is_read_as_its_decimals_are_also_just_between_two_divisions(division: str, sign: int) -> None:
    """Binary floats hold many a half division a hair below: 0.15 / 0.1 is 1.4999999999999998."""
    tenths = [sign * n * Decimal(division) / 10 for n in range(400)]
    exactly = [float(decimal_to_division(x, Decimal(division))) for x in tenths]
    assert to_division(np.array([float(x) for x in tenths]), float(division)) == pytest.approx(exactly, rel=1e-12)
