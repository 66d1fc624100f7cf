"""Answers that are the right ones of another sheet, worked by hand: two must agree with it to the last digit."""

from collections.abc import Mapping
from decimal import Decimal

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.other_sheets import NEUTRAL, RightValues, right_values, with_other_sheets
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Rules, Sheet, Student, Task

D = Decimal
DRAIN_HOLE = wm.load_bank(SMALL_BANK)["drain-hole"]
THICK, THIN = (DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t=t) for t in ("6 mm", "3 mm"))
TASK = Task("shear-1", "Shear", EACH_ITS_OWN)
MINE = Sheet("S1", TASK, Student("HB01", "Idris Vael"), (THICK,))
KNOWN = RightValues(
    ("S1", "S2", "S3"), ("HB01", "HB02", "LW01"),
    {"1.a": np.array([100.0, 200.0, 300.0]), "1.b": np.array([10.0, 20.0, 30.0]), "1.d": np.array([1.0, 2.0, np.nan])},
)  # fmt: skip
OPEN = Outcome(D("0.5"), D(2), Verdict.UNEXPLAINED, "so", sure=0.25, notes=("seen",), in_tray=("no known method",))
SLIP = Outcome(D(1), D(2), Verdict.SLIP, "so", ("a-slip",))


def compared(read: Mapping[str, float], known: RightValues = KNOWN, **outcomes: Outcome) -> dict[str, Outcome]:
    """The outcomes of my sheet after these values were read; open ones where none is told."""
    told = {key: outcomes.get(key[-1], OPEN) for key in ("1.a", "1.b", "1.c", "1.d")}
    return with_other_sheets(MINE, told, read, known, Rules())


def others(found: Mapping[str, Outcome]) -> set[str]:
    """The keys of those that were found to be another sheet's."""
    return {key for key, outcome in found.items() if outcome.verdict is Verdict.OTHER_SHEET}


def test_two_answers_that_agree_with_one_other_sheet_are_told_so_and_no_others() -> None:
    edit = Outcome(D(0), D(2), Verdict.EDIT, "so", ("guessed",))
    found = compared({"1.a": 200.0, "1.b": 20.0, "1.c": 5.0, "1.d": 1.5}, b=edit)
    assert others(found) == {"1.a", "1.b"}
    assert (found["1.c"], found["1.d"]) == (OPEN, OPEN)
    note = "equal to the right answer of HB02's sheet: sheets swapped, or worked from another sheet"
    told = found["1.a"]
    assert (told.marks, told.because, told.sure, told.in_tray, told.notes) == (
        D("0.5"), NEUTRAL, 1.0, (note,), (note, "seen"),
    )  # fmt: skip
    assert (found["1.b"].misconceptions, found["1.b"].notes) == ((), (note,))


@pytest.mark.parametrize("read", [
    {"1.a": 200.0, "1.b": 9.0, "1.d": 9.0}, {"1.a": 200.0, "1.b": 30.0, "1.d": 9.0}, {"1.a": 200.0, "1.c": 20.0},
    {"1.a": 100.0, "1.b": 10.0, "1.d": 1.0}, {},
])  # fmt: skip
def test_one_answer_alone_or_of_each_of_two_sheets_or_of_ones_own_is_no_other_sheets(read: dict[str, float]) -> None:
    assert compared(read) == dict.fromkeys(("1.a", "1.b", "1.c", "1.d"), OPEN)


def test_what_a_known_method_explains_is_no_other_sheets_and_counts_for_none() -> None:
    two, three = {"1.a": 200.0, "1.b": 20.0}, {"1.a": 200.0, "1.b": 20.0, "1.d": 2.0}
    assert others(compared(two, b=SLIP)) == set()
    assert others(compared(three, b=SLIP)) == {"1.a", "1.d"}


@pytest.mark.parametrize(("value", "agrees"), [(200.5, True), (199.5, True), (200.6, False), (199.4, False)])
def test_a_value_agrees_that_is_rounded_to_the_figures_of_the_task(value: float, agrees: bool) -> None:
    """200 to three figures holds from 199.5 to 200.5, and a twentieth of that more."""
    assert others(compared({"1.a": value, "1.b": 20.0})) == ({"1.a", "1.b"} if agrees else set())


def test_nought_agrees_with_a_right_result_of_nought_alone() -> None:
    known = RightValues(KNOWN.codes, KNOWN.owners, {**KNOWN.by_ask, "1.a": np.array([100.0, 0.0, 300.0])})
    assert others(compared({"1.a": 0.0, "1.b": 20.0}, known)) == {"1.a", "1.b"}
    assert others(compared({"1.a": 1e-9, "1.b": 20.0}, known)) == set()


def test_the_sheet_with_the_most_answers_is_named() -> None:
    by_ask = {**KNOWN.by_ask, "1.b": np.array([10.0, 20.0, 20.0]), "1.c": np.array([7.0, 7.5, 8.0])}
    known = RightValues(KNOWN.codes, KNOWN.owners, {**by_ask, "1.d": np.array([1.0, 2.0, 3.0])})
    found = compared({"1.a": 200.0, "1.b": 20.0, "1.c": 8.0, "1.d": 3.0}, known)
    assert others(found) == {"1.b", "1.c", "1.d"}
    assert "LW01" in found["1.b"].in_tray[0]


def test_the_right_values_of_sheets_stand_by_question_and_are_nan_where_a_sheet_lacks_one() -> None:
    """By hand: pi 20 mm 6 mm 300 MPa is 113.1 kN, and half of it on the plate of 3 mm."""
    two = Sheet("S2", TASK, Student("HB02", "Oona Brisk"), (THIN, THICK))
    found = right_values([MINE, two])
    assert (found.codes, found.owners) == (("S1", "S2"), ("HB01", "HB02"))
    assert found.by_ask["1.a"] == pytest.approx([113_097, 56_549], rel=1e-5)
    assert np.isnan(found.by_ask["2.a"][0])
    assert found.by_ask["2.a"][1] == pytest.approx(113_097, rel=1e-5)
