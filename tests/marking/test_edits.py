"""Rung 7: wrong methods that the bank does not know, found by editing the right one and told in words."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK

# 310 MPa, 20 mm, 6.5 mm: the right force is 310 pi 20 6.5 N = 126.61 kN. Every entry was worked by hand; where a
# dimension is lost the number is that of newtons and millimetres, as people work it.
HOLE = BANK["drain-hole"].variant(tau="310 MPa", d="20 mm", t="6.5 mm", punch="oil-hardened tool steel")
BY_HAND = [
    ("40.30 kN", "π is left out"),  # 310 · 130
    ("19.478 kN", "t is left out"),  # 310 pi 20
    ("253.21 kN", "d is doubled"),  # 310 pi 40 6.5
    ("41.147 kN", "t stands in the place of d"),  # 310 pi 6.5²
    ("389.56 kN", "d stands in the place of t"),  # 310 pi 20²
    ("2.9966 kN", "t divides where it should multiply"),  # 310 pi 20/6.5
]
NOT_ONE_THING = [
    ("506.42 kN", "4 × ", "the result is taken four times"),
    ("822.94 kN", "t²", "t is used twice"),  # 310 pi 20 6.5²
]


@pytest.mark.parametrize(("entry", "done"), BY_HAND)
def test_an_edit_of_the_right_method_is_told_in_words_and_waits_for_the_teacher(entry: str, done: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("edit", Decimal(0), ())
    said = entry.replace(" ", "\xa0")
    assert out.because == f"{said} is what comes out if {done}; your teacher will look at your working."
    assert "a method that the bank does not know" in out.in_tray


@pytest.mark.parametrize(("entry", "formula", "done"), NOT_ONE_THING)
def test_what_is_not_one_thing_a_person_does_is_told_to_the_teacher_alone(entry: str, formula: str, done: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert out.verdict == "edit"
    assert out.because == "This is not the right value; your teacher will look at your working."
    (note,) = out.notes
    assert note.endswith(f": {done}")
    assert f"gives with this student's numbers: {done}" in note
    assert formula in note


def test_however_many_figures_agree_what_no_question_lists_is_never_as_sure_as_what_one_lists() -> None:
    left_out = wm.mark(HOLE, {"a": "40.3000 kN"})["a"]
    listed = wm.mark(HOLE, {"a": "97.389 kN"})["a"]  # 310 pi 20²/4: the face instead of the edge
    assert (left_out.verdict, listed.verdict) == ("edit", "slip")
    assert left_out.sure < 0.9945
    assert listed.sure > 0.998
    assert left_out.sure == pytest.approx(left_out.evidence[0].sure)
    assert sum(one.sure for one in left_out.evidence) < 0.9945


def test_two_edits_are_never_one_sentence_for_the_student() -> None:
    # d for t and t doubled in it: 310 pi 20 · 2 · 20 / ... two things at once; the teacher sees the formula.
    out = wm.mark(HOLE, {"a": "80.60 kN"})["a"]  # 2 · 310 · 130
    assert " and " not in out.because
    assert out.because.startswith(("This is not the right value", "80.60"))


def test_a_ratio_upside_down_is_told() -> None:
    variant = BANK["boom-lift"].draw("heron")
    moment, arm, force = (variant.expected_si[k] for k in ("a", "b.y", "b"))
    assert force == pytest.approx(moment / arm)
    out = wm.mark(variant, {"a": f"{moment:.6g} N*m", "b": f"{arm / moment:.5g} N"})["b"]
    assert (out.verdict, out.marks) == ("edit", Decimal(0))
    assert "is upside down" in out.because


def test_what_an_unknown_method_earns_is_a_rule_of_the_task() -> None:
    out = wm.mark(HOLE, {"a": "40.30 kN"}, wm.Rules(unknown_method=Decimal(1)))["a"]
    assert (out.verdict, out.marks) == ("edit", Decimal(1))
    assert out.in_tray


def test_an_edit_is_carried_from_own_results() -> None:
    # b is F over pi d²/4; with pi left out, from the own 100 kN: 100 kN / (20²/4 mm²) = 1000 MPa.
    out = wm.mark(HOLE, {"a": "100 kN", "b": "1000.0 MPa"})["b"]
    assert (out.verdict, out.marks) == ("edit", Decimal(0))
    assert "π is left out" in out.because


def test_a_number_that_no_method_gives_is_unexplained_and_waits() -> None:
    out = wm.mark(HOLE, {"a": "87.654 kN"})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("unexplained", Decimal(0), ())
    assert out.in_tray == ("no known method gives this number",)
    assert "your teacher will look at your working" in out.because


@pytest.mark.parametrize("entry", ["0 kN", "1e-30 kN", "9e99 kN"])
def test_noughts_and_extremes_are_unexplained_and_nothing_fails(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry, "b": entry, "a.A_s": entry})
    assert {out[k].marks for k in ("a", "b", "a.A_s")} == {Decimal(0)}
    assert out["a"].verdict == "unexplained"
    assert all(0 <= out[k].sure <= 1 for k in out)


@pytest.mark.parametrize("entry", ["-126.6 kN", "-127 kN", "-130 kN"])
def test_a_sign_that_is_turned_is_told_as_that_and_costs_what_a_power_of_ten_does(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("sign", Decimal(2), ())
    assert "its sign is not" in out.because


@pytest.mark.parametrize("entry", ["162.6 kN", "1226.6 kN"])
def test_digits_that_were_turned_or_typed_twice_are_told_as_that_and_wait(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("edit", Decimal(0), ())
    assert "two digits may have changed places" in out.because
    assert "two digits may be turned" in out.in_tray


def test_what_a_calculator_in_radians_shows_is_told_as_that() -> None:
    """A calculator in radians shows asin(450/900) as 0.5236, which is typed as degrees."""
    board = BANK["tilting-board"].variant(L="900 mm", h="450 mm")
    out = wm.mark(board, {"a": "0.524 deg"})["a"]
    assert (out.verdict, out.misconceptions, out.marks) == ("unit", (), Decimal(1))
    assert "radian" in out.because


def test_the_evidence_keeps_every_explanation_likeliest_first() -> None:
    evidence = wm.mark(HOLE, {"a": "63.30 kN"})["a"].evidence  # the radius for the diameter
    assert evidence[0].misconceptions == ("radius-for-diameter",)
    assert [e.sure for e in evidence] == sorted((e.sure for e in evidence), reverse=True)
    assert all(e.formula and e.sentence and 0 <= e.sure <= 1 for e in evidence)
