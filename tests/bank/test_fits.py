"""The fits and bores of the bank's tables against the formulae that their grades and deviations are made by.

ISO 286-1 (the formulae of its 1988 edition, annex A), from memory: i = 0.45 D^(1/3) + 0.001 D, with i in micrometres
and D in mm, the geometric mean of the range (50 to 80 for grades also where deviations part it at 65); IT6 = 10 i,
IT7 = 16 i, IT8 = 25 i, IT9 = 40 i, IT11 = 100 i. Upper deviation of d -16 D^0.44, e -11 D^0.41, f -5.5 D^0.41, c above
40 mm -(95 + 0.8 D). Lower deviation of k 0.6 D^(1/3), m IT7 - IT6, n 5 D^0.34, s up to 50 mm IT8 + 1 to 4 and above it
IT7 + 0.4 D, t IT7 + 0.63 D. A hole of the same letter lies as far on the other side of the line, and H upon it. The
standard rounds, so its values lie within five per cent or a micrometre and a half.
"""

from decimal import Decimal
from math import sqrt

import pytest

from bank_fixture import BANK
from witnessmark.questions.model.question import Table

FITS = [BANK.tables["iso-fits"], BANK.tables["iso-close-fits"]]
BORES: Table = BANK.tables["iso-bores"]
GRADES = {6: 10, 7: 16, 8: 25, 9: 40, 11: 100}
RANGES = ((10, 18), (18, 30), (30, 50), (50, 80))
LOOSE = "cdef"


def near(value: float) -> object:
    """As the standard rounds it."""
    return pytest.approx(value, rel=0.05, abs=1.5)


def unit_of_tolerance(size: float) -> float:
    of_range = next(sqrt(low * high) for low, high in RANGES if low < size < high)
    return float(0.45 * of_range ** (1 / 3) + 0.001 * of_range)


def grade(number: int, size: float) -> float:
    return GRADES[number] * unit_of_tolerance(size)


def deviation(letter: str, size: float) -> float:
    """The deviation that lies next to the line: the upper one of c to f, the lower one of k to t."""
    step = grade(7, size) - grade(6, size)
    pressed = grade(8, size) + 2 if size < 50 else grade(7, size) + 0.4 * size
    found = {"c": -(95 + 0.8 * size), "d": -16 * size**0.44, "e": -11 * size**0.41, "f": -5.5 * size**0.41,
             "k": 0.6 * size ** (1 / 3), "m": step, "n": 5 * size**0.34, "s": pressed,
             "t": grade(7, size) + 0.63 * size}  # fmt: skip
    return float(found[letter])


def cell(table: Table, row: str, column: str) -> float:
    value = table.rows[row][column]
    assert isinstance(value, Decimal)
    return float(value)


def mean_size(table: Table, row: str) -> float:
    return sqrt(cell(table, row, "above") * cell(table, row, "up_to"))


@pytest.mark.parametrize(("table", "row"), [pytest.param(t, row, id=row) for t in FITS for row in t.rows])
def test_the_deviations_of_a_fit_follow_from_the_formulae_of_the_standard(table: Table, row: str) -> None:
    hole, shaft, size = str(table.rows[row]["hole"]), str(table.rows[row]["shaft"]), mean_size(table, row)
    es, ei = cell(table, row, "es"), cell(table, row, "ei")
    assert cell(table, row, "EI") == 0
    assert cell(table, row, "ES") == near(grade(int(hole[1:]), size))
    assert (es if shaft[0] in LOOSE else ei) == near(deviation(shaft[0], size))
    assert es - ei == near(grade(int(shaft[1:]), size))


@pytest.mark.parametrize("row", BORES.rows)
def test_a_running_bore_stands_as_far_above_the_line_as_the_shaft_of_its_letter_below(row: str) -> None:
    zone, size = str(BORES.rows[row]["zone"]), mean_size(BORES, row)
    low = cell(BORES, row, "EI")
    assert low == near(-deviation(zone[0].lower(), size))
    assert cell(BORES, row, "ES") - low == near(grade(int(zone[1:]), size))


def test_the_formulae_give_the_deviations_of_25_h7_g6_that_everybody_knows() -> None:
    """25 H7 = +21/0 µm, 25 g6 = -7/-20 µm (ISO 286-2, from memory); the deviation of g is 2.5 D^0.34."""
    size = sqrt(18 * 30)
    assert round(grade(7, size)) == 21
    assert round(2.5 * size**0.34) == 7
    assert round(2.5 * size**0.34) + round(grade(6, size)) == 20


def test_a_deviation_two_micrometres_off_would_be_noticed() -> None:
    assert near(deviation("s", 38)) == 43
    assert near(deviation("s", 38)) != 46
