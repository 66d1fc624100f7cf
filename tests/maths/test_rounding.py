"""Rounding to significant figures against published examples (numbers only)."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.rounding import FLOAT_ROOM, decimal_to_figures, half_unit, rounding_room, to_figures

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
