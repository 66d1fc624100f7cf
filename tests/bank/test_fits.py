"""The fits of the bank's table against the formulae that their grades and deviations are made by.

ISO 286-1 (the formulae of its 1988 edition, annex A), from memory: i = 0.45 D^(1/3) + 0.001 D, with i in micrometres
and D in mm, the geometric mean of the range (50 to 80 for grades also where deviations part it at 65); IT7 = 16 i,
IT8 = 25 i, IT9 = 40 i, IT11 = 100 i; upper deviation of d -16 D^0.44, e -11 D^0.41, f -5.5 D^0.41, c above 40 mm
-(95 + 0.8 D); the lower deviation of a hole H is nought. The standard rounds, so its values lie within five per cent.
"""

from decimal import Decimal
from math import sqrt

import pytest

from bank_fixture import BANK
from witnessmark.questions.model.question import Table

TABLE: Table = BANK["shaft-in-bush"].tables["iso-fits"]
GRADES = {7: 16, 8: 25, 9: 40, 11: 100}
RANGES = ((10, 18), (18, 30), (30, 50), (50, 80))
ROUNDED = 0.05


def unit_of_tolerance(size: float) -> float:
    return float(0.45 * size ** (1 / 3) + 0.001 * size)


def upper_deviation(letter: str, size: float) -> float:
    found = {"c": 95 + 0.8 * size, "d": 16 * size**0.44, "e": 11 * size**0.41, "f": 5.5 * size**0.41}
    return -float(found[letter])


def cell(row: str, column: str) -> float:
    value = TABLE.rows[row][column]
    assert isinstance(value, Decimal)
    return float(value)


@pytest.mark.parametrize("row", TABLE.rows)
def test_the_deviations_of_a_fit_follow_from_the_formulae_of_the_standard(row: str) -> None:
    hole, shaft = str(TABLE.rows[row]["hole"]), str(TABLE.rows[row]["shaft"])
    size = sqrt(cell(row, "above") * cell(row, "up_to"))
    i = unit_of_tolerance(next(sqrt(low * high) for low, high in RANGES if low < size < high))
    assert cell(row, "EI") == 0
    assert cell(row, "ES") == pytest.approx(GRADES[int(hole[1:])] * i, rel=ROUNDED)
    assert cell(row, "es") == pytest.approx(upper_deviation(shaft[0], size), rel=ROUNDED)
    assert cell(row, "es") - cell(row, "ei") == pytest.approx(GRADES[int(shaft[1:])] * i, rel=ROUNDED)


def test_the_formulae_give_the_deviations_of_25_h7_g6_that_everybody_knows() -> None:
    """25 H7 = +21/0 µm, 25 g6 = -7/-20 µm (ISO 286-2, from memory); the deviation of g is 2.5 D^0.34, IT6 is 10 i."""
    size = sqrt(18 * 30)
    assert round(GRADES[7] * unit_of_tolerance(size)) == 21
    assert round(2.5 * size**0.34) == 7
    assert round(2.5 * size**0.34) + round(10 * unit_of_tolerance(size)) == 20
