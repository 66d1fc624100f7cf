"""Typed formulae: right by algebra in any shape, slips by algebra too, the rest for the teacher."""

from dataclasses import replace
from decimal import Decimal

import pytest

from witnessmark.marking.kinds.expression import asked_formula, mark_expression, spellings
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.parts import ExpressionPart, Line, QuantityPart, Slip
from witnessmark.questions.model.question import Given, Question, RowGiven, Table

D = Decimal
METALS = Table(
    "metals", "invented", {"strength": "MPa", "density": "kg/m^3"}, {"brass": {"strength": D(300), "density": D(8500)}}
)  # fmt: skip
FORCE = QuantityPart("a", "Find F.", D(2), "force", "F", "kN", answer=parse("tau*A_s"),
             lines=(Line("A_s", "sheared area", "mm^2", parse("pi*d*t"), D(1)),))  # fmt: skip
SLIPS = (Slip("face", parse("tau*pi*r**2"), D(1)), Slip("radius", parse("tau*pi*r*t"), D("0.5")))
FORMULA = ExpressionPart("b", "Write it.", D(2), "force", "P", "kN", parse("tau*2*pi*r*t"), SLIPS)
WEIGHT = ExpressionPart("c", "Write its weight.", D(1), "", "", "", parse("metal.density*g*d**3"))
QUESTION = Question(
    "q", "Q", "t", 1, "Setting.",
    (Given("tau", "shear strength", "MPa", "τ", value=parse("metal.strength")), Given("d", "diameter", "mm"),
     Given("t", "thickness", "mm"), Given("r", "", "mm", value=parse("d/2"))),
    (RowGiven("metal", "metals"),), (), (FORCE, FORMULA, WEIGHT), {"metals": METALS},
)  # fmt: skip


def marked(text: str, part: ExpressionPart = FORMULA) -> Outcome:
    return mark_expression(asked_formula(QUESTION, part), text)


@pytest.mark.parametrize(
    "text",
    ["τ π d t", "tau*pi*d*t", "P = pi d t tau", "2πrtτ", "pi*d*t*strength", "tau*d*t*3.14", "π·d·τ·t"],
)
def test_a_formula_is_right_in_any_letters_that_the_question_has(text: str) -> None:
    out = marked(text)
    assert (out.verdict, out.marks, out.in_tray) == (Verdict.RIGHT, D(2), ())


@pytest.mark.parametrize("text", ["F", "tau*A_s"])
def test_a_formula_that_is_right_by_earlier_results_alone_is_shown_to_the_teacher(text: str) -> None:
    out = marked(text)
    assert (out.verdict, out.marks) == (Verdict.UNEXPLAINED, D(0))
    assert "earlier results" in out.in_tray[0]


def test_a_number_in_the_spread_of_a_constant_stands_for_it() -> None:
    assert marked("9.81 * density * d^3", WEIGHT).repairs == ("9.81 was read as g",)
    assert marked("9.81 * density * d^3", WEIGHT).verdict is Verdict.RIGHT
    assert marked("9.8*d³*density", WEIGHT).verdict is Verdict.RIGHT
    assert marked("10 * density * d^3", WEIGHT).verdict is Verdict.UNEXPLAINED


def test_a_number_that_belongs_to_a_slip_stands_for_no_constant() -> None:
    """Who takes the weight of a cubic metre of water for that of any metal has 9.81 kN of it, which is no g."""
    water = replace(WEIGHT, slips=(Slip("water-for-metal", parse("9.81*d**3"), D("0.5")),))
    out = mark_expression(asked_formula(replace(QUESTION, parts=(FORCE, water)), water), "9.81*d^3")
    assert (out.verdict, out.misconceptions, out.repairs) == (Verdict.SLIP, ("water-for-metal",), ())


def test_of_two_readings_that_earn_the_same_the_likelier_is_told() -> None:
    out = marked("d/2t")
    assert (out.verdict, out.read_as, out.sure) == (Verdict.UNEXPLAINED, "d / (2 × t)", 0.0)


def test_an_ambiguous_formula_counts_in_its_kindest_reading_and_is_shown() -> None:
    half = ExpressionPart("d", "Write it.", D(1), "", "", "", parse("d/(2*t)"))
    asked = asked_formula(replace(QUESTION, parts=(half,)), half)
    out = mark_expression(asked, "d/2t")
    assert out.verdict is Verdict.RIGHT
    assert out.in_tray == ("the entry can be read in two ways; the kinder one was taken",)


def test_a_fixed_multiple_of_the_right_formula_is_told_to_the_teacher() -> None:
    out = marked("4*tau*pi*d*t")
    assert out.verdict is Verdict.UNEXPLAINED
    assert out.in_tray == ("no known method gives this formula; it is the right formula times 4",)


def test_a_formula_that_cannot_be_read_says_where_and_waits() -> None:
    out = marked("tau*pi*q")
    assert out.verdict is Verdict.UNREADABLE
    assert "at character 8" in out.in_tray[0]


def test_slips_that_are_one_formula_by_algebra_keep_what_the_kinder_keeps() -> None:
    again = Slip("half-turned", parse("r*tau*t*pi"), D("1.5"))
    part = replace(FORMULA, slips=(*SLIPS, again))
    out = mark_expression(asked_formula(replace(QUESTION, parts=(FORCE, part)), part), "tau*pi*r*t")
    assert (out.marks, set(out.misconceptions)) == (D("1.5"), {"radius", "half-turned"})


def test_a_student_is_told_right_of_a_right_formula_alone() -> None:
    assert [marked(text).because.startswith("Right: ") for text in ("tau*pi*d*t", "tau*pi*r*t", "t")] == [
        True,
        False,
        False,
    ]
    assert "is not the force" in marked("tau*pi*r*t").because


def test_a_formula_that_had_to_be_repaired_waits_where_it_is_not_right() -> None:
    repaired = "the entry had to be repaired before it could be read"
    right, slip, unknown = (marked(text) for text in ("tau*pi*(d*t", "tau*pi*(r*t", "tau*(r*t"))
    assert (right.verdict, right.in_tray) == (Verdict.RIGHT, ())
    assert (slip.verdict, slip.in_tray) == (Verdict.SLIP, (repaired,))
    assert (unknown.verdict, unknown.in_tray[1:]) == (Verdict.UNEXPLAINED, (repaired,))
    assert [bool(out.repairs) for out in (right, slip, unknown)] == [True] * 3


def test_right_and_a_slip_are_sure_by_algebra_and_what_is_neither_is_not_sure_at_all() -> None:
    assert [marked(text).sure for text in ("tau*pi*d*t", "tau*pi*r*t", "t")] == [1.0, 1.0, 0.0]


def test_what_is_said_names_what_is_asked_where_it_has_a_name_and_that_the_teacher_looks_at_what_is_unknown() -> None:
    assert marked("tau*pi*r*t").because == "τ × π × r × t is not the force."
    assert marked("t").because == "t is not the force; your teacher will look at your working."
    assert marked("density*g*d^3", WEIGHT).because.endswith(" is what is asked.")
    assert "is not what is asked" in marked("density*d^3", WEIGHT).because


@pytest.mark.parametrize(("text", "verdict"), [
    ("P = tau*pi*d*t", Verdict.RIGHT), ("F = tau*pi*d*t", Verdict.RIGHT), ("F = tau*pi*r*t", Verdict.SLIP),
    ("tau = tau*pi*d*t", Verdict.UNREADABLE), ("F = q", Verdict.UNREADABLE), ("=", Verdict.BLANK),
])  # fmt: skip
def test_the_letter_of_an_earlier_result_may_stand_for_what_is_asked_and_that_of_a_given_not(
    text: str, verdict: Verdict
) -> None:
    assert marked(text).verdict is verdict


def test_a_column_that_two_cells_of_the_answer_have_names_neither() -> None:
    answer = parse("metal.strength*bolt.strength*metal.density")
    both = ExpressionPart("b", "Write it.", D(2), "force", "P", "kN", answer)
    rows = (RowGiven("metal", "metals"), RowGiven("bolt", "metals"))
    question = replace(QUESTION, rows=rows, parts=(both,))
    found = [mark_expression(asked_formula(question, both), text) for text in ("strength*density", "density*d")]
    assert [out.verdict for out in found] == [Verdict.UNREADABLE, Verdict.UNEXPLAINED]
    assert not spellings(question, {"metal.strength", "bolt.strength", "metal.density"}).keys() & {
        "metal.strength", "bolt.strength",
    }  # fmt: skip


def test_the_letter_that_is_asked_may_be_that_of_a_given() -> None:
    radius = ExpressionPart("b", "Write the radius.", D(1), "radius", "r", "mm", parse("d/2"))
    asked = asked_formula(replace(QUESTION, parts=(FORCE, radius)), radius)
    found = [mark_expression(asked, text) for text in ("r = d/2", "t = d/2")]
    assert [out.verdict for out in found] == [Verdict.RIGHT, Verdict.UNREADABLE]


def test_the_name_of_an_earlier_result_is_that_and_no_product_of_letters() -> None:
    line = Line("dt", "long way round", "mm^2", parse("d*t"), D(1))
    earlier = replace(FORCE, answer=parse("tau*pi*dt"), lines=(line,))
    asked = asked_formula(replace(QUESTION, parts=(earlier, FORMULA)), FORMULA)
    found = [mark_expression(asked, text) for text in ("tau*pi*dt", "tau*pi*d*t")]
    assert [out.verdict for out in found] == [Verdict.UNEXPLAINED, Verdict.RIGHT]
    assert "earlier results" in found[0].in_tray[0]


def test_nothing_typed_is_no_wrong_formula() -> None:
    assert marked(" ").verdict is Verdict.BLANK
