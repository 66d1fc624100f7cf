"""Degrees and radians in formulas: pi is in full there, and nowhere else."""

import math

import pytest

from witnessmark.maths.compiled import compiled
from witnessmark.maths.syntax import parse

FIFTY_RADIANS = math.sin(50)
TURNS = {
    "sin(theta*180/pi)": FIFTY_RADIANS, "sin(180/pi*theta)": FIFTY_RADIANS,
    "M*sin((theta + 0)*180/pi)": 2 * FIFTY_RADIANS,
    "M*pi/180": 2 * math.pi / 180, "2*pi*theta/180": math.radians(50) * math.pi / 90,
}  # fmt: skip


@pytest.mark.parametrize("formula", TURNS)
def test_pi_over_180_and_180_over_pi_are_turned_by_a_key_whatever_is_taken_for_pi(formula: str) -> None:
    for pi in (math.pi, 3.14, 3):
        assert compiled(parse(formula))({"theta": math.radians(50), "M": 2.0, "pi": pi}) == pytest.approx(
            TURNS[formula]
        )


@pytest.mark.parametrize("formula", ["pi*M", "180*pi*M", "pi*M + 180", "M*pi/(180 + M)", "pi*M*(M/180 + 1)"])
def test_any_other_pi_is_the_one_that_somebody_takes(formula: str) -> None:
    three, full = (compiled(parse(formula))({"M": 2.0, "pi": pi}) for pi in (3.0, math.pi))
    assert three != full
