"""Where marking differed from a fair hand: each case through the public door, with what a teacher would have done."""

from decimal import Decimal
from math import floor

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.questions.model.parts import OrderPart
from witnessmark.questions.sheet.listing import letter_of, listed_steps

D = Decimal
HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")  # 113.097 kN
SLIDE = BANK["slide-setting"].draw("heron")  # c asks for the formula D - L/n
ROVES = BANK["copper-rivets"].variant(h_0="2.8 mm", h_1="1.65 mm")  # 41.07 %, right order A B D C E


def marked(variant: object, rules: wm.Rules | None = None, **answers: str) -> wm.Outcome:
    """The outcome of the last answer named."""
    return wm.mark(variant, answers, rules)[list(answers)[-1]]  # type: ignore[arg-type]


# Calculator tails.


@pytest.mark.parametrize("tail", ["", "53", "5292", "529205", "52920508", "52920508" + "1" * 130])
def test_the_tail_of_a_calculator_lowers_nothing_and_never_waits(tail: str) -> None:
    short, long = marked(HOLE, a="113.0973 kN"), marked(HOLE, a=f"113.0973355{tail} kN")
    assert (long.verdict, long.marks, long.in_tray) == ("right", D(3), ())
    assert long.sure >= short.sure > 0.99


# Judgements.


@pytest.mark.parametrize("b", ["0.36 MPa", "360 Pa", "360000 MPa", "360 GPa", "360 kN", "360"])
def test_a_judgement_that_is_true_but_for_a_power_of_ten_or_a_unit_is_right(b: str) -> None:
    out = marked(HOLE, a="113 kN", b=b, c="yes")
    assert (out.verdict, out.marks) == ("right", D(1))


def test_a_judgement_that_is_true_of_the_number_as_written_stays_right() -> None:
    out = marked(HOLE, a="113 kN", b="360000 MPa", c="no")
    assert (out.verdict, out.marks) == ("carried forward", D(1))
    assert marked(HOLE, a="113 kN", b="360000 MPa", c="yes").because == (
        "Your yes agrees with your own number once its power of ten or its unit is put right."
    )


def test_a_judgement_that_no_own_number_bears_out_is_wrong() -> None:
    assert marked(HOLE, a="113 kN", b="0.36 MPa", c="no").marks == 0
    assert marked(HOLE, a="1000 kN", b="3180 MPa", c="yes").marks == 0


# Percentages.


@pytest.mark.parametrize("typed", ["41.1", "41.07", "41,1"])
def test_a_percentage_without_its_sign_costs_what_a_missing_unit_costs(typed: str) -> None:
    out = marked(ROVES, a=typed)
    assert (out.verdict, out.marks) == ("unit", D("1.5"))
    assert marked(ROVES, wm.Rules(unit_missing=D(0)), a=typed).marks == 2


@pytest.mark.parametrize("typed", ["41.1 %", "41.1 % %", "41.1%%", "41.1 percent", "0.411"])
def test_a_percentage_with_its_sign_once_or_in_two_cells_or_as_a_fraction_lacks_nothing(typed: str) -> None:
    out = marked(ROVES, a=typed)
    assert (out.verdict, out.marks) == ("right", D(2))


# Deductions.


def test_deductions_add_only_as_far_as_the_task_says() -> None:
    assert marked(HOLE, a="113097").marks == D(2)  # a power of ten, and no unit: one mark together
    assert marked(HOLE, wm.Rules(most_taken_off=D("1.5")), a="113097").marks == D("1.5")
    assert marked(HOLE, wm.Rules(most_taken_off=D(3)), a="113097").marks == D("1.5")


def test_one_deduction_alone_takes_what_its_rule_says() -> None:
    rules = wm.Rules(power_of_ten=D(2), most_taken_off=D("0.5"))
    assert marked(HOLE, rules, a="113097 kN").marks == D(1)
    assert marked(HOLE, rules, a="113097").marks == D(1)


def test_a_missing_unit_and_too_few_figures_add_below_the_most() -> None:
    rules = wm.Rules(figures_mark=D("0.5"), most_taken_off=D("0.5"))
    assert marked(HOLE, wm.Rules(figures_mark=D("0.5")), a="113.1").marks == D(2)
    assert marked(HOLE, rules, a="113.1").marks == D("2.5")


# Letters once too many.


@pytest.mark.parametrize("unit", ["kNN", "kkN", "kNn", "KNN"])
def test_a_letter_once_too_many_is_spelling_and_told(unit: str) -> None:
    out = marked(HOLE, a=f"113 {unit}")
    assert (out.verdict, out.marks, out.in_tray) == ("right", D(3), ())
    assert out.repairs == (f"{unit} was read as kN.",)


@pytest.mark.parametrize(
    ("typed", "asked", "read"),
    [("7 MPaa", "MPa", "MPa"), ("7 MMPa", "MPa", "MPa"), ("7 mmm", "mm", "mm"), ("7 kgg", "kg", "kg"),
     ("7 barr", "bar", "bar"), ("7 N/mmm²", "MPa", "N/mm^2"), ("7 kNNm", "kN*m", "kN*m")],
)  # fmt: skip
def test_every_unit_may_have_a_letter_too_many(typed: str, asked: str, read: str) -> None:
    reading = wm.read_quantity(typed, asked)
    assert [(c.unit, c.dimension_fits) for c in reading.readings] == [(read, True)]
    assert reading.repairs


@pytest.mark.parametrize(
    ("typed", "asked", "read"), [("7 mm", "m", "mm"), ("7 kNmm", "kN*m", "kN*mm"), ("7 Mm", "mm", "mm")]
)
def test_two_letters_that_belong_there_stay(typed: str, asked: str, read: str) -> None:
    assert [c.unit for c in wm.read_quantity(typed, asked).readings] == [read]


def test_two_letters_too_many_are_not_guessed_at() -> None:
    assert not wm.read_quantity("7 kNNN", "kN").readings


# Orders.


def in_letters(typed: str) -> str:
    """The text with the letters (or numbers) that the sheet gives the first, second ... of the steps in right order."""
    part = ROVES.question.part("b")
    assert isinstance(part, OrderPart)
    listed = listed_steps(part, ROVES)
    for n, step in enumerate(part.steps):
        letter = letter_of(listed.index(step))
        for name, said in (
            ("ABCDE"[n], letter),
            ("abcde"[n], letter.lower()),
            (str(n + 1), str(listed.index(step) + 1)),
        ):
            typed = typed.replace("{" + name + "}", said)
    return typed


@pytest.mark.parametrize(
    "typed",
    ["{A}{B}{C}{D}{E}", "{A}{B} {C}{D} {E}", "{A} {B} {C} {D} {E} (I think)", "{a}{b}{c}{d}{e}",
     "I think {A}{B}{C}{D}{E}", "{A}, {B}, {C}, {D}, {E} maybe", "{1}{2}{3}{4} {5}"],
)  # fmt: skip
def test_an_order_is_read_in_groups_and_with_a_doubt_beside_it(typed: str) -> None:
    """A to E stand for the steps in their right order, whatever their letters on this sheet."""
    out = marked(ROVES, b=in_letters(typed))
    assert (out.verdict, out.marks) == ("right", D(2))


def test_an_order_that_lacks_a_step_says_which() -> None:
    assert "step e is missing" in marked(ROVES, b="AB DC").because


def test_an_order_is_not_named_as_what_it_does_not_show() -> None:
    cold = marked(ROVES, b=in_letters("{A}{D}{B}{C}{E}"))
    assert cold.misconceptions == ("pickled-before-heating",)  # the metal is cold in the acid
    assert marked(ROVES, b=in_letters("{A}{B}{D}{C}{E}")).misconceptions == ("hot-metal-into-acid",)


# Cut off.


def test_a_number_that_was_cut_off_is_told_as_that_and_costs_what_the_figures_rule_takes() -> None:
    variant, value = _with_a_high_next_digit()
    cut = f"{floor(value * 10) / 10:.1f} %"
    out = marked(variant, a=cut)
    assert (out.verdict, out.marks, out.in_tray) == ("right", D(2), ())
    assert "cut off where it should be rounded" in out.because
    assert "too early" not in out.because
    assert marked(variant, wm.Rules(figures_mark=D("0.5")), a=cut).marks == D("1.5")


def _with_a_high_next_digit() -> tuple[object, float]:
    for seed in range(100):
        variant = BANK["copper-rivets"].draw(str(seed))
        value = variant.expected_si["a"] * 100
        if 10 < value < 100 and 0.6 < value * 10 % 1 < 0.9:
            return variant, value
    raise AssertionError("no variant has such a value")


def test_two_figures_are_still_rounded_too_early() -> None:
    assert marked(HOLE, a="110 kN").verdict == "rounded early"


# A colon for division.


@pytest.mark.parametrize("typed", ["D - L:n", "D - L : n", "d = D - L : n", "D-L∶n"])
def test_a_colon_is_a_sign_of_division_in_a_formula(typed: str) -> None:
    out = marked(SLIDE, c=typed)
    assert (out.verdict, out.in_tray) == ("right", ()), out
    assert "“:” was read as a sign of division" in out.repairs


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [("small end: D - L/n", "right"), ("1c: D - L/n", "right"), ("L: D - n", "unreadable"), ("L:n", "unexplained")],
)
def test_a_colon_behind_a_name_is_none(typed: str, verdict: str) -> None:
    assert marked(SLIDE, c=typed).verdict == verdict


# Another g.

PORT = BANK["viewing-port"].draw("heron")
BY_TEN = wm.Rules(g=D(10))


def test_a_task_may_take_ten_for_g() -> None:
    pressure = PORT.expected_si["a"]
    out = marked(PORT, BY_TEN, a=f"{pressure / 9.81 * 10:.5g} Pa")
    assert (out.verdict, out.marks) == ("right", out.out_of)
    assert marked(PORT, a=f"{pressure / 9.81 * 10:.5g} Pa").verdict == "rounded early"


@pytest.mark.parametrize("g", [9.81, 9.8])
def test_who_takes_the_usual_g_is_right_all_the_same(g: float) -> None:
    out = marked(PORT, BY_TEN, a=f"{PORT.expected_si['a'] / 9.81 * g:.5g} Pa")
    assert (out.verdict, out.marks) == ("right", out.out_of)
    assert "not as this task takes it" in out.because


def test_a_table_is_marked_by_the_g_of_its_task_too() -> None:
    pressure = PORT.expected_si["a"] / 9.81 * 10
    givens = {name: [float(s.number)] for name, s in PORT.shown.items() if "." not in name}
    frame = pd.DataFrame({**givens, "a": [f"{pressure:.5g} Pa"]})
    assert wm.mark_table(BANK["viewing-port"], frame, BY_TEN)["a.verdict"].tolist() == ["right"]


@pytest.mark.parametrize("g", [D("9.6"), D("10.1"), D("NaN"), 10, 9.81])
def test_g_is_an_exact_number_near_what_it_is_on_earth(g: object) -> None:
    with pytest.raises(ValueError, match=r"^g: expected a Decimal from 9\.7 to 10"):
        wm.Rules(g=g)  # type: ignore[arg-type]
