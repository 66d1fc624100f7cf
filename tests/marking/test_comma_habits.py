"""A comma before three digits stands for what the same person, or the class, writes a comma for elsewhere.

ISO 80000-1 allows comma and point as the decimal sign, and parts thousands by a space alone, because of this doubt.
"""

from decimal import Decimal

import numpy as np
import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import typed
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.kinds.commas import by_habit
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.reading.number.comma_habits import CommaHabit, habit_of, habit_of_class, is_in_doubt, read_by

# 13.8 V over 1.5 ohm and 2.7 ohm side by side (0.964 ohm): 14.3 A; with 0.92 ohm for both, 15.0 A exactly.
WIRED = BANK["two-resistors"].variant(R_1=1.84, R_2=1.84, U=13.8)
HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")  # 113.097 kN
TASK = Task("winter-1", "Winter sheet 1", ("drain-hole",))


@pytest.mark.parametrize(
    ("texts", "habit"),
    [
        (["12,5 kN", "1,295 kN"], CommaHabit.DECIMAL),
        (["0,925"], CommaHabit.DECIMAL),
        (["3,1416"], CommaHabit.DECIMAL),
        (["1.234,5 N"], CommaHabit.DECIMAL),
        (["12.5 kN", "1,295 N"], CommaHabit.THOUSANDS),
        (["1,234.5 N"], CommaHabit.THOUSANDS),
        (["12,5 kN", "12.5 kN"], None),
        (["1,295 kN", "15,000 N", "yes", "a, b, c", ""], None),
        (["1,234,567 N"], CommaHabit.THOUSANDS),
    ],
)
def test_a_habit_is_seen_where_a_number_tells_it(texts: list[str], habit: CommaHabit | None) -> None:
    assert habit_of(texts) is habit


@pytest.mark.parametrize(("text", "doubtful"), [
    ("1,295 kN", True), ("12,5 kN", False), ("12,2950", False), ("1295", False), ("0,295", False), ("a, b", False),
])  # fmt: skip
def test_a_comma_is_in_doubt_before_three_digits_alone(text: str, doubtful: bool) -> None:
    assert is_in_doubt(text) is doubtful


def test_a_class_has_a_habit_where_three_show_it_and_nobody_another() -> None:
    decimal, thousands = CommaHabit.DECIMAL, CommaHabit.THOUSANDS
    assert habit_of_class([decimal, None, decimal, decimal]) is decimal
    assert habit_of_class([decimal, decimal, None]) is None
    assert habit_of_class([decimal, decimal, decimal, thousands]) is None
    assert habit_of_class([]) is None


def test_only_what_is_in_doubt_is_written_anew() -> None:
    assert read_by("F = 1,295 N", CommaHabit.DECIMAL) == "F = 1.295 N"
    assert read_by("F = 1,295 N", CommaHabit.THOUSANDS) == "F = 1295 N"
    for text in ("1,234,567 N", "0,125 m", "1,234.5 N", "12,5 kN", "1.234,567", "a, b"):
        assert read_by(text, CommaHabit.DECIMAL) == read_by(text, CommaHabit.THOUSANDS) == text


def test_who_has_decimal_commas_has_one_before_three_noughts_too() -> None:
    out = wm.mark(WIRED, {"a": "0,92 ohm", "b": "15,000 A"})["b"]
    assert (out.verdict, out.read_as, out.in_tray) == ("right", "15.000\xa0A", ())
    assert out.raw == "15,000 A"
    assert out.repairs == ("The comma was read as a decimal point, as in other answers.",)


def test_who_has_decimal_commas_means_no_thousands_though_these_would_be_right() -> None:
    meant = wm.mark(HOLE, {"a.A_s": "377,0 mm²", "a": "113,097 N"})["a"]
    assert (meant.verdict, meant.marks) == ("power of ten", Decimal(2))
    assert meant.read_as == "113.097\xa0N"
    assert meant.in_tray == ("its comma was read as in other answers; read the other way it would be right",)


def test_a_comma_that_slipped_in_among_points_waits_for_the_teacher() -> None:
    slipped = wm.mark(HOLE, {"a.A_s": "377.0 mm²", "a": "113,097 kN"})["a"]
    assert (slipped.verdict, slipped.read_as) == ("power of ten", "113 097\xa0kN")
    assert slipped.in_tray == ("its comma was read as in other answers; read the other way it would be right",)


def test_who_has_decimal_points_parts_thousands() -> None:
    out = wm.mark(HOLE, {"a.A_s": "377.0 mm²", "a": "113,097 N"})["a"]
    assert (out.verdict, out.read_as, out.in_tray) == ("right", "113\N{NARROW NO-BREAK SPACE}097\xa0N", ())


def test_where_nothing_tells_it_noughts_are_read_by_the_size_expected_and_the_teacher_is_asked() -> None:
    out = wm.mark(WIRED, {"b": "15,000 A"})["b"]
    assert (out.verdict, out.marks) == ("right", out.out_of)
    assert out.in_tray == ("its comma may part thousands; it was read as a decimal point, which is kinder",)
    assert wm.mark(HOLE, {"a": "113,000 N"})["a"].in_tray == ()


@pytest.mark.parametrize(("expected", "read"), [
    (15.0, "15.000 A"), (40.0, "15.000 A"), (75.0, "15,000 A"), (4.0, "15,000 A"), (15000.0, "15,000 A"),
])  # fmt: skip
def test_noughts_are_decimals_only_within_a_factor_of_three_of_what_is_expected(expected: float, read: str) -> None:
    """Half a decade is a factor of 3.16: 15 for 40 is 2.7 times too small, for 75 five times, for 4 it is 3.8."""
    assert by_habit(["15,000 A"], {0: None}, "A", np.array([expected])) == [read]


def test_where_nothing_tells_it_other_digits_are_read_both_ways() -> None:
    assert wm.mark(HOLE, {"a": "113,097 N"})["a"].verdict == "right"
    assert wm.mark(HOLE, {"a": "113,097 kN"})["a"].verdict == "right"


def test_a_table_reads_each_row_by_its_own_habit() -> None:
    givens = {"tau": [300.0] * 3, "d": [20.0] * 3, "t": [6.0] * 3}
    answers = {"a.A_s": ["377,0 mm²", "377.0 mm²", ""], "a": ["113,097 N"] * 3}
    marked = wm.mark_table(BANK["drain-hole"], pd.DataFrame({**givens, **answers}))
    assert marked["a.verdict"].tolist() == ["power of ten", "right", "right"]


def outcome_in_class(*others: str) -> Outcome:
    """The outcome of `113,097 N`, entered alone, in a class in which others entered these."""
    texts = ["113,097 N", *others]
    sheets = {f"S{n}": Sheet(f"S{n}", TASK, Student(f"A{n}", f"A{n}"), (HOLE,)) for n in range(len(texts))}
    returns = [Return(f"S{n}", f"S{n}.xlsx", (("1.a", Entry(text, "C8")),)) for n, text in enumerate(texts)]
    return mark_returns(sheets, returns, Rules())["S0"]["1.a"]


def test_a_class_tells_it_where_the_student_does_not() -> None:
    assert outcome_in_class("113,1 kN", "94,2 kN", "56,5 kN").verdict == "power of ten"
    assert outcome_in_class("113.1 kN", "94.2 kN", "56.5 kN").verdict == "right"
    assert outcome_in_class("113,1 kN", "94,2 kN", "56.5 kN").verdict == "right"


def test_the_habit_of_a_sheet_is_that_of_all_its_questions() -> None:
    right = typed(HOLE.question, "a", HOLE.expected_si["a"])
    task = Task("winter-2", "Winter sheet 2", ("drain-hole", "two-resistors"))
    sheet = Sheet("S0", task, Student("A0", "A0"), (HOLE, WIRED))
    entries = (("1.a", Entry(right.replace(".", ","), "C8")), ("2.b", Entry("15,000 A", "C20")))
    marked = mark_returns({"S0": sheet}, [Return("S0", "S0.xlsx", entries)], Rules())["S0"]
    assert (marked["2.b"].verdict, marked["2.b"].in_tray) == ("right", ())
