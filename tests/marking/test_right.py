"""Rung 2: who worked properly and rounded as told is right, by every habit of rounding (design, section 5)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

import witnessmark as wm
from bank_fixture import BANK
from marking.students import CALCULATED, HABITS, Habit, drawn, marked, quantities, worked
from searching import every, examples
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.model.parts import Kind

RIGHT = tuple(Verdict).index(Verdict.RIGHT)
HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_by_every_habit_of_rounding_proper_working_is_right_at_full_marks(key: str) -> None:
    variants = drawn(key, ("heron", "teal"))
    rows = [(v, habit, n % 2 == 0) for v in variants for n, habit in enumerate(HABITS)]
    answers = [worked(v, habit, shows_lines) for v, habit, shows_lines in rows]
    found = marked([v for v, _, _ in rows], answers)
    for part in quantities(BANK[key]):
        for row, (verdict, marks) in enumerate(zip(found.verdicts(part.key), found.marks(part.key), strict=True)):
            assert (verdict, marks) == (RIGHT, part.marks * 100), f"{part.key}: {rows[row][1]}: {answers[row]}"
    for judged in (part for part in BANK[key].parts if part.kind is Kind.JUDGE):
        assert all(o.marks == o.out_of for o in found.words[judged.key])


@examples(25)
@given(key=st.sampled_from(CALCULATED), seed=st.text(max_size=8), habit=st.sampled_from(HABITS), shown=st.booleans())
def test_one_student_with_any_drawn_numbers_and_any_habit_is_right(
    key: str, seed: str, habit: Habit, shown: bool
) -> None:
    variant = BANK[key].draw(seed)
    out = wm.mark(variant, worked(variant, habit, shown))
    for part in BANK[key].parts:
        if part.kind in (Kind.QUANTITY, Kind.JUDGE):
            assert (out[part.key].verdict, out[part.key].marks) == ("right", part.marks), (habit, out[part.key])
    assert not any(out[part.key].in_tray for part in quantities(BANK[key]))


# pi 20 6 = 376.99 mm², times 300 MPa: 113.097 kN; worked by hand at each habit.
@pytest.mark.parametrize(
    ("entry", "how"),
    [
        ("113.097 kN", "in full"),
        ("113.0 kN", "pi as 3.14: 376.8 mm², 113.04 kN"),
        ("113.1 kN", "pi as 3.142 and the line to three figures: 377 mm²"),
        ("113.14 kN", "pi as 22/7: 377.14 mm²"),
        ("113 kN", "three figures, as the task asks"),
    ],
)
def test_each_habit_by_hand_is_right(entry: str, how: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks) == ("right", Decimal(3)), how
    assert out.because == f"Right: {entry.replace(' ', chr(0xA0))} is the punching force with your numbers."


# By hand: the line from 3.14 · 120 - 0.5 to 22/7 · 120 + 0.5 mm², times 300 MPa, half of the third figure each way.
@pytest.mark.parametrize(
    ("entry", "is_right"), [("112.3 kN", False), ("112.4 kN", True), ("113.7 kN", True), ("113.8 kN", False)]
)
def test_what_is_accepted_ends_where_the_habits_end(entry: str, is_right: bool) -> None:
    assert (wm.mark(HOLE, {"a": entry})["a"].verdict == "right") is is_right


def test_a_line_left_blank_has_its_marks_when_the_result_is_right() -> None:
    out = wm.mark(HOLE, {"a": "113 kN"})
    assert (out["a.A_s"].verdict, out["a.A_s"].marks, out["a"].marks) == ("blank", Decimal(1), Decimal(3))
    assert out["a.A_s"].because == "Not entered; your result shows that it was right."


def test_a_line_left_blank_has_none_when_the_result_is_wrong_or_blank() -> None:
    for entry in ("94.2 kN", ""):
        line = wm.mark(HOLE, {"a": entry})["a.A_s"]
        assert (line.verdict, line.marks) == ("blank", Decimal(0))


def test_a_right_line_keeps_its_mark_when_the_result_is_wrong_or_blank() -> None:
    for entry in ("500 kN", ""):
        out = wm.mark(HOLE, {"a.A_s": "377 mm²", "a": entry})
        assert (out["a.A_s"].marks, out["a"].marks) == (Decimal(1), Decimal(1))


def test_a_wrong_line_costs_nothing_when_the_result_is_right_all_the_same() -> None:
    out = wm.mark(HOLE, {"a.A_s": "333 mm²", "a": "113 kN"})
    assert (out["a"].verdict, out["a"].marks, out["a.A_s"].marks) == ("right", Decimal(3), Decimal(0))


def test_how_sure_a_right_answer_is_grows_with_the_figures_written() -> None:
    sure = [wm.mark(HOLE, {"a": entry})["a"].sure for entry in ("113 kN", "113.1 kN")]
    assert 0.9 < min(sure) <= max(sure) <= 1


def test_more_figures_asked_make_a_narrower_envelope() -> None:
    fine, coarse = wm.Rules(figures=4), wm.Rules(figures=3)
    assert wm.mark(HOLE, {"a": "113.4 kN"}, coarse)["a"].verdict == "right"
    assert wm.mark(HOLE, {"a": "113.4 kN"}, fine)["a"].verdict != "right"
