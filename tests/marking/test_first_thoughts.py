"""What a teacher thinks of first: a sign, a unit left as it is, turned digits, two slips of another dimension, and
workings with every operation rounded. Numbers are worked by hand from the givens."""

import math
from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.hypotheses.plan import Plan
from witnessmark.questions.working.working import ALL_CONSTANTS

# 300 · pi · 20 · 6 = 113.097 kN; over the face of the punch, 300 · pi · 10² = 94.248 kN.
HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
# 1000 · 9.81 · (sin 10° + 0.1 cos 10°) = 2.6696 kN, in a question that lists no slip.
TEXT = """
question: hauled-trolley
title: A trolley on a slip
topic: friction
level: 2
setting: A trolley of {m} is hauled up a slip at {theta} to the level; the coefficient of friction is {mu}.
given:
  m: {is: mass, unit: kg, from: 600, to: 3600, step: 100}
  theta: {is: slope, unit: deg, from: 5, to: 14, step: 1}
  mu: {is: coefficient of friction, unit: "", one of: [0.1, 0.12, 0.15]}
caution: Keep out of the line of a loaded rope.
find:
  a:
    ask: Find the pull.
    is: pull
    unit: kN
    lines:
      H: {is: weight along the slope, unit: kN, value: m*g*sin(theta), marks: 1}
      R: {is: friction, unit: kN, value: mu*m*g*cos(theta), marks: 1}
    answer: H + R
    marks: 3
"""
# 16 µm/(m K) · 3 m · 50 K = 2.4 mm, of which 1 mm is the gap.
GAP = BANK["gap-then-stress"].variant(bar="stainless steel", L="3 m", s="1 mm", dT="50 K")
# A metric thread: pi/4 · (d - 0.9382 P)², 84.27 mm² for M12 (ISO 898-1), 36.61 mm² for M8.
M12 = BANK["bolt-thread"].variant(thread="M12", R_m="400 MPa", k=3.5)
M8 = BANK["bolt-thread"].variant(thread="M8", R_m="400 MPa", k=2.5)


@pytest.mark.parametrize("typed", ["-113.1 kN", "−113.1 kN", "-113 kN"])
def test_a_lost_sign_is_told_and_costs_what_a_power_of_ten_does(typed: str) -> None:
    out = wm.mark(HOLE, {"a": typed})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("sign", Decimal(2), ())
    assert out.because.endswith("is right, but its sign is not: look at what was taken from what.")
    dearer = wm.Rules(power_of_ten=Decimal(2), most_taken_off=Decimal(2))
    assert wm.mark(HOLE, {"a": typed}, dearer)["a"].marks == 1


def test_a_slip_with_its_sign_lost_is_still_that_slip_and_keeps_less() -> None:
    plain, turned = (wm.mark(HOLE, {"a": typed})["a"] for typed in ("94.25 kN", "-94.25 kN"))
    assert turned.misconceptions == plain.misconceptions == ("face-area-for-sheared-edge",)
    assert (turned.verdict, turned.marks) == ("slip", max(plain.marks - 1, Decimal(0)))
    assert turned.because == plain.because.replace("94.25", "−94.25") + " The sign is turned as well."


@pytest.mark.parametrize(
    ("typed", "said"), [("1.131e10 N", "100"), ("1.131 GN", "ten"), ("0.1131 N", "million"), ("1.131e-7 N", "10^12")]
)
def test_powers_that_several_prefixes_make_are_powers_of_ten(typed: str, said: str) -> None:
    out = wm.mark(HOLE, {"a": typed})["a"]
    assert (out.verdict, out.marks) == ("power of ten", Decimal(2))
    assert said in out.because or "10^" in out.because


@pytest.mark.parametrize(("typed", "unit"), [("2.504 kN", "gon"), ("-6.160 kN", "radians")])
def test_a_calculator_in_another_unit_of_angle_is_seen_in_all_lines_together(typed: str, unit: str) -> None:
    """10 gon are 9°: 9810 (0.15643 + 0.098769) = 2.5035 kN. 10 rad: 9810 (-0.54402 - 0.083907) = -6.1599 kN."""
    question, problems = question_from_text(TEXT, "hauled-trolley.yaml", {})
    assert question is not None, problems
    out = wm.mark(question.variant(m="1000 kg", theta="10 deg", mu=0.1), {"a": typed})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("unit", Decimal(2), ())
    assert f"the calculator was set to {unit}" in out.because


def test_a_number_put_in_as_it_stands_is_a_unit_and_never_a_misconception() -> None:
    # 3 m taken for 3 mm: 0.0024 - 1 = -0.9976 mm.
    out = wm.mark(GAP, {"a": "-0.9976 mm"})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("unit", Decimal(1), ())
    assert "the number of L, in metres, was taken for millimetres" in out.because


@pytest.mark.parametrize("typed", ["36.16 mm²", "336.61 mm²"])
def test_digits_turned_or_typed_twice_are_told_as_that_and_wait_for_the_teacher(typed: str) -> None:
    out = wm.mark(M8, {"a": typed})["a"]
    assert (out.verdict, out.marks, out.misconceptions) == ("edit", Decimal(0), ())
    assert "a slip of the fingers" in out.because
    assert "two digits may be turned" in out.in_tray
    assert out.notes == ()


def test_two_slips_of_which_one_changes_the_dimension_are_named_both() -> None:
    # pi · 8 for pi/4 · (8 - 0.9382 · 1.25)²: the shank's size, and its way round.
    out = wm.mark(M8, {"a": "25.13 mm²"})["a"]
    assert (out.verdict, set(out.misconceptions)) == ("two slips", {"shank-for-thread", "circumference-for-area"})
    assert out.marks < 2


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("71.01 mm²", "P and d stand in each other's place"),  # pi/4 · (1.75 - 0.9382 · 12)² = 71.01
        ("9.180 mm²", "the root of the result is taken"),  # of 84.266
    ],
)
def test_rarer_changes_are_told_in_words_and_earn_what_an_unknown_method_does(typed: str, said: str) -> None:
    out = wm.mark(M12, {"a": typed})["a"]
    assert (out.verdict, out.marks) == ("edit", Decimal(0))
    assert said in out.because


def test_what_several_things_done_at_once_give_is_shown_to_the_teacher_alone() -> None:
    # Two thirds of the stress area.
    out = wm.mark(M12, {"a": "56.178 mm²"})["a"]
    assert out.because == "This is not the right value; your teacher will look at your working."
    assert any("the result is divided by one and a half" in note for note in out.notes)


def test_a_result_in_full_that_is_rounded_to_two_figures_is_not_right_by_rounding_every_step() -> None:
    out = wm.mark(M8, {"a": "37 mm²"})["a"]
    assert (out.verdict, out.marks) == ("rounded early", Decimal("2.5"))


def test_what_the_right_line_gives_in_two_figures_is_not_taken_for_the_own_lines_result() -> None:
    # 380 mm² are 377 in two figures; 110 kN are 113.1 and 114 alike, and the line's mark is not lost twice.
    alone, beside = (wm.mark(HOLE, answers)["a"] for answers in ({"a": "110 kN"}, {"a.A_s": "380 mm²", "a": "110 kN"}))
    assert (beside.verdict, beside.because) == (alone.verdict, alone.because)
    assert alone.verdict == "rounded early"


def test_who_works_on_from_an_own_line_is_surely_that_whatever_slips_the_line_knows() -> None:
    # 400 mm² for 377: 300 · 400 = 120 kN, whichever way the line went wrong.
    outs = wm.mark(HOLE, {"a.A_s": "400 mm²", "a": "120.0 kN"})
    assert outs["a"].verdict == "carried forward"
    assert outs["a"].sure > 0.9
    assert outs["a"].in_tray == ()


def test_a_factor_that_a_slip_of_the_question_explains_is_that_slip_surely() -> None:
    # minutes taken for seconds is a slip there, and a factor of 60 besides.
    ram = BANK["ram-speed"].draw("heron")
    by_slip = ram.slips["b"]["minutes-as-seconds"]
    out = wm.mark(ram, {"b": f"{float(by_slip.magnitude):.4g} {by_slip.units}"})["b"]
    assert (out.verdict, out.misconceptions) == ("slip", ("minutes-as-seconds",))
    assert out.sure > 0.97


# 1/(1/1.5 + 1/2.7) = 0.964 ohm; 13.8/0.964 = 14.31 A, near to the 13.8 V that are given.
TWO_RESISTORS = BANK["two-resistors"].variant(R_1=1.5, R_2=2.7, U=13.8)
# 0.65 · 110/(120/12.8) = 7.627 h; 9.375 A on the way.
BATTERY = BANK["battery-hours"].variant(C=110, U=12.8, k=65, P=120, t_n=12)


def test_who_gives_fewer_figures_than_were_asked_has_first_of_all_rounded_the_result() -> None:
    out = wm.mark(TWO_RESISTORS, {"a": "0.96 ohm", "b": "14 A"})["b"]
    assert (out.verdict, out.marks) == (
        "rounded early",
        wm.mark(TWO_RESISTORS, {"b": "14.3 A"})["b"].marks - Decimal("0.5"),
    )


def test_two_mistakes_that_undo_each_other_are_less_likely_than_a_line_mistyped() -> None:
    four = wm.Rules(figures=4)
    out = wm.mark(BATTERY, {"a.I": "0.9375 A", "a": "7.63 h"}, four)["a"]
    assert (out.verdict, out.marks) == ("rounded early", wm.mark(BATTERY, {"a": "7.63 h"}, four)["a"].marks)


def test_a_carried_number_that_needs_no_more_figures_was_not_rounded_early() -> None:
    variant = BANK["shaft-in-bush"].variant(fit="H9/d9 over 18 to 30", D="25 mm", s="75 µm")
    given = {name: Decimal(variant.shown[name].number) / 1000 for name in ("ES", "EI", "es", "ei")}
    bore, shaft = [25 + given["ES"], 25 + given["EI"] + Decimal("0.003")], [25 + given["es"], 25 + given["ei"]]
    least = (bore[1] - shaft[0]) * 1000
    assert 10 < least < 99
    typed = {"a": f"{bore[0]}, {bore[1]} mm", "b": f"{shaft[0]}, {shaft[1]} mm"}
    out = wm.mark(variant, {**typed, "c": f"{(bore[0] - shaft[1]) * 1000:.0f} µm, {least:.0f} µm"})["c"]
    assert (out.verdict, out.marks) == ("carried forward", Decimal(2))


def test_a_multiple_left_as_it_is_is_told_before_a_slip_with_a_power_of_ten() -> None:
    """A washer of 50 mm with a hole of 13 mm: the 50 taken as metres, 350 MPa · pi · (50 + 0.013) m · 3 mm = 165 GN."""
    washer = BANK["washer-blank"].variant(material="naval brass", D=50, d=13, t=3)
    tau = float(washer.shown["tau"].number) * 1e6
    newtons = tau * math.pi * (50 + 0.013) * 0.003
    out = wm.mark(washer, {"a": f"{newtons / 1000:.4g} kN"})["a"]
    assert (out.verdict, out.misconceptions) == ("unit", ())


def test_noughts_behind_a_point_are_figures_whatever_the_power_of_ten() -> None:
    """A bore of 25 mm, H9 and more: 25.000 is the drawn size, 25.040 the smallest; 10^9 beside it hides neither."""
    bush = BANK["rudder-bush"].draw("lie")
    drawn = f"{float(bush.shown['D'].number):.3f}".replace(".", "")
    out = wm.mark(bush, {"a.smallest": f"{drawn[0]}.{drawn[1:]}e10 mm"})["a.smallest"]
    assert (out.verdict, out.misconceptions) == ("slip", ("bore-from-the-drawn-size",))


def test_a_nought_too_many_behind_the_point_is_no_slip_of_the_fingers() -> None:
    """I = 1560 A by an own slip of ten; 0.0172 · 2 · 8 · 1560 / (0.03 · 12) = 1192.5, typed 1190.0."""
    cable = BANK["cable-size"].variant(P=130, U=12, L=8, k=3, rho=0.0172, A_s=10)
    out = wm.mark(cable, {"a": "1560 A", "b": "1190.0 mm²"})["b"]
    assert "fingers" not in out.because
    assert out.verdict == "carried forward"


def test_a_slip_of_the_fingers_on_the_way_from_an_own_result_is_told_from_that_result() -> None:
    """The same: 1192.5 with two digits turned."""
    cable = BANK["cable-size"].variant(P=130, U=12, L=8, k=3, rho=0.0172, A_s=10)
    out = wm.mark(cable, {"a": "1560 A", "b": "1129 mm²"})["b"]
    assert "may be what follows from your own earlier result, with a slip of the fingers" in out.because


def test_two_slips_that_leave_nothing_but_a_number_are_no_method() -> None:
    """A part over a part: 1 says nothing of what anybody did."""
    share = BANK["fibre-share"].draw("lie")
    out = wm.mark(share, {"a": "100.0 %"})["a"]
    assert out.verdict != "two slips"


def test_a_turned_sign_is_told_of_a_number_of_two_figures_too() -> None:
    """113.1 kN in two figures is 110."""
    assert wm.mark(HOLE, {"a": "-110 kN"})["a"].verdict == "sign"


def test_a_unit_left_as_it_is_stands_on_the_rung_of_units() -> None:
    """The design, section 5."""
    plan = Plan(GAP.question, wm.Rules(), frozenset({*GAP.values, *ALL_CONSTANTS}))
    left = [h for place in plan.places for h in plan.candidates(place, 0) if h.kind == "not converted"]
    assert {(h.rung, h.verdict) for h in left} == {(4, "unit")}


def test_a_unit_left_as_it_is_in_one_term_of_a_sum_is_set_against_that_term_left_out() -> None:
    """A stepped rod: the thin part alone stretches 4 F l / (pi E d^2); the thick one in thousandths adds no digit."""
    rod = BANK["stepped-rod"].draw("lie")
    given = {name: float(shown.number) for name, shown in rod.shown.items()}
    alone = 4 * given["F"] * given["l_2"] / (math.pi * given["E"] * given["d_2"] ** 2)
    out = wm.mark(rod, {"b": f"{alone:.3g} mm"})["b"]
    assert any(e.verdict is wm.Verdict.EDIT for e in out.evidence), (alone, out)
    assert out.sure < 0.9
