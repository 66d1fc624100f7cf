"""Answers that no method explains: which are used, and how much likelier a formula makes them, by hand."""

import math

import numpy as np
import pytest

from witnessmark.marking.search.unexplained import Unexplained

MINUTE = 60.0  # s, no power of ten: digits are those of the number in the unit asked


def minutes(*numbers: float, figures: int = 2) -> Unexplained:
    """Numbers of minutes, of so many figures."""
    written, ones = np.array(numbers), np.ones(len(numbers))
    return Unexplained(written * MINUTE, figures * ones, MINUTE * ones, {}, tuple(f"S{n}" for n in range(len(numbers))))


def test_the_digits_of_a_number_without_a_method_are_as_likely_as_they_are_wide_in_its_unit() -> None:
    """From 4.95 to 5.05 and from 8.85 to 8.95 min, as common logarithms: leading digits spread evenly over them."""
    wide = [math.log10(5.05 / 4.95), math.log10(8.95 / 8.85)]
    assert minutes(5.0, -8.9).chance().tolist() == pytest.approx(wide, rel=1e-4)


def test_a_formula_gains_by_the_digits_and_by_how_near_the_answer_is_to_what_is_right() -> None:
    """Half of all such numbers lie within one decade of ten on a side of what is right, and 0.15 a decade beyond."""
    found = minutes(5.0, 5.0).gains(np.array([4.0 * MINUTE, 400.0 * MINUTE]))
    wide = math.log10(5.05 / 4.95)
    assert found.tolist() == pytest.approx([1 / (wide * 0.5), 1 / (wide * 0.15)], rel=1e-4)


def test_an_answer_of_one_figure_is_used_and_one_without_figures_is_not() -> None:
    one, none = minutes(5.0, 7.0, figures=1), minutes(5.0, 7.0, figures=0)
    assert [len(some.usable().si) for some in (one, none)] == [2, 0]


def test_what_is_nothing_or_no_number_is_left_out_and_all_else_is_used() -> None:
    """A figure of 1 in SI units is a number as any other."""
    some = minutes(math.nan, 5.0, math.inf, 0.0, 1 / MINUTE, -3.0)
    assert some.usable().who == ("S1", "S4", "S5")
    every = minutes(5.0, 7.0)
    assert every.usable() is every
