"""Significant figures by the stated rule: noughts at the end of a whole number count up to three figures in all.

The rules for noughts in front, for noughts after a point and for powers of ten are those of OpenStax Chemistry 2e, 1.5
(from memory); that for whole numbers is ours, since print leaves it open.
"""

import pytest

from witnessmark.reading.quantity.entries import read_quantity


@pytest.mark.parametrize(
    ("entry", "figures", "least", "most"),
    [
        ("70 kN", 2, 1, 2), ("70.0 kN", 3, 3, 3), ("70.00 kN", 4, 4, 4), ("7.0e4 N", 2, 2, 2), ("7e4 N", 1, 1, 1),
        ("70 000 N", 3, 1, 5), ("70,000 N", 3, 1, 5), ("94 200 N", 3, 3, 5), ("69 995 N", 5, 5, 5), ("700 N", 3, 1, 3),
        ("69,995.40 N", 7, 7, 7), ("0.0700 MN", 3, 3, 3), ("0.07 MN", 1, 1, 1), ("7.00 x 10^4 N", 3, 3, 3),
        ("10^4 N", 1, 1, 1), ("1200 N", 3, 2, 4), ("120 000 000 N", 3, 2, 9), ("007 N", 1, 1, 1), ("-70.0 kN", 3, 3, 3),
        ("70. kN", 2, 1, 2),
        ("F = 1000.", 3, 1, 4), ("0 N", 1, 1, 1), ("0.00 N", 2, 2, 2), ("½ kN", 1, 1, 1), ("1 1/2 kN", 2, 2, 2),
        ("1/3 kN", 15, 15, 15), ("69,5 kN", 3, 3, 3), ("70 thousand N", 2, 1, 2),
    ],
)  # fmt: skip
def test_figures_are_counted_by_the_rule(entry: str, figures: int, least: int, most: int) -> None:
    candidate = read_quantity(entry, "kN").readings[0]
    assert (candidate.figures, candidate.least_figures, candidate.most_figures) == (figures, least, most)


def test_a_comma_with_three_digits_keeps_both_readings_with_their_own_figures() -> None:
    thousands, decimal = read_quantity("69,950 N", "kN").readings
    assert (int(thousands.digits), thousands.figures) == (69950, 4)
    assert (str(decimal.digits), decimal.figures) == ("69.950", 5)


def test_minutes_of_arc_count_as_figures_of_the_angle() -> None:
    candidate = read_quantity("2° 30'", "deg").readings[0]
    assert (float(candidate.digits), candidate.figures) == (2.5, 3)  # 150 minutes
