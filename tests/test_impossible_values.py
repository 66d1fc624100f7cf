"""Values refuse what they cannot be, where they are made, and say what was expected and what was found."""

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.outcome import Explanation
from witnessmark.maths.syntax import parse
from witnessmark.questions.checking.accepted_slips import AcceptedSlip
from witnessmark.questions.model.options import Option, Point
from witnessmark.questions.model.parts import Line, Slip
from witnessmark.questions.model.question import Given, Misconception, RowGiven, Table
from witnessmark.questions.model.slips import JudgeSlip, OrderSlip, PairSlip
from witnessmark.questions.sheet.task import Ask, Entry, Return, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Shown, Variant
from witnessmark.reading.quantity.entries import Reading
from witnessmark.record.rows import Change, Moderation
from witnessmark.words.problems import Place, Problem

D = Decimal
HOLE = BANK["drain-hole"]
VARIANT = HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm")
TASK = Task("shear-1", "Shear", ("drain-hole",))
STUDENT = Student("A01", "Maren Tolk")
SHEET = Sheet("XC5V-8688", TASK, STUDENT, (VARIANT,))
GIVEN_BACK = Moderation(D(2), D(1), "M. Tolk", "working shown", datetime(2027, 3, 5, tzinfo=UTC))
RIGHT = wm.mark(VARIANT, {"a": "94.2 kN"})["a"]


def changed(name: str, value: object) -> dict[str, Any]:
    return {name: value}


def refused(make: Callable[[], object]) -> str:
    """What the refusal says."""
    with pytest.raises(ValueError, match="expected") as raised:
        make()
    return str(raised.value)


@pytest.mark.parametrize("figures", [0, -1, 10, 3.0, True, "3", None])
def test_rules_ask_for_one_to_nine_figures(figures: int) -> None:
    assert refused(lambda: wm.Rules(figures=figures)) == (
        f"figures: expected a whole number from 1 to 9, found {figures!r}"
    )


AMOUNTS = ["unit_missing", "rounded_early", "wrong_unit", "power_of_ten", "unknown_method", "figures_mark"]


@pytest.mark.parametrize("name", AMOUNTS)
@pytest.mark.parametrize("amount", [D(-1), D("NaN"), D("Infinity"), 0.5, "1", None])
def test_rules_take_exact_marks_off(name: str, amount: object) -> None:
    said = refused(lambda: replace(wm.Rules(), **changed(name, amount)))
    assert said == f"{name}: expected marks as a Decimal, finite, at least 0, found {amount!r}"


@pytest.mark.parametrize("share", [-0.1, 1.1, math.nan, "0.9", True])
def test_rules_ask_below_a_share(share: float) -> None:
    assert refused(lambda: wm.Rules(ask_below=share)).startswith("ask_below: expected a number from 0 to 1")


@pytest.mark.parametrize("name", ["carried_forward", "half_marks"])
def test_rules_have_switches_that_are_on_or_off(name: str) -> None:
    assert refused(lambda: replace(wm.Rules(), **changed(name, "no"))) == f"{name}: expected True or False, found 'no'"


REFUSED: list[tuple[str, Callable[[], object]]] = [
    ("key of a task", lambda: replace(TASK, key=" ")),
    ("questions", lambda: replace(TASK, questions=())),
    ("questions", lambda: replace(TASK, questions=("drain-hole", "drain-hole"))),
    ("code of a student", lambda: Student("", "Maren Tolk")),
    ("code of a sheet", lambda: replace(SHEET, code="")),
    ("attempt", lambda: replace(SHEET, attempt=0)),
    ("variants", lambda: replace(SHEET, variants=())),
    ("variants", lambda: replace(SHEET, task=replace(TASK, questions=("oar",)))),
    ("number of a question", lambda: Ask(0, HOLE.part("a"))),
    ("note", lambda: Entry("45292", "C8", spoiled=True)),
    ("code of a sheet", lambda: Return("", "a.xlsx", ())),
    ("entries", lambda: Return("XC5V-8688", "a.xlsx", (("1.a", Entry("1")), ("1.a", Entry("2"))))),
    ("number", lambda: Shown(D("NaN"), "mm")),
    ("number", lambda: Shown(20.0, "mm")),  # type: ignore[arg-type]
    ("name of a row", lambda: Variant(HOLE, {}, {"plate": "mild steel"})),
    ("row of punch", lambda: Variant(HOLE, {}, {"punch": "cheese"})),
    ("d", lambda: Variant(HOLE, {"d": 20}, {})),  # type: ignore[dict-item]
    ("marks", lambda: replace(RIGHT, marks=D(-1))),
    ("marks", lambda: replace(RIGHT, marks=RIGHT.out_of + 1)),
    ("out_of", lambda: replace(RIGHT, out_of=D("NaN"))),
    ("sure", lambda: replace(RIGHT, sure=1.5)),
    ("sure", lambda: replace(RIGHT, sure=math.nan)),
    ("marks", lambda: Explanation(wm.Verdict.SLIP, ("a",), D(-1), "No.")),
    ("sure", lambda: Explanation(wm.Verdict.SLIP, ("a",), D(1), "No.", sure=2.0)),
    ("readings", lambda: Reading("94 kN", "kN", wm.Certainty.CERTAIN)),
    ("readings", lambda: replace(wm.read_quantity("94 kN", asked="kN"), certainty=wm.Certainty.BLANK)),
    ("name of a given", lambda: Given("2d", "diameter", "mm", one_of=(D(1),))),
    ("d", lambda: Given("d", "diameter", "mm", one_of=(D(1),), value=parse("2*t"))),
    ("values of d", lambda: Given("d", "diameter", "mm", one_of=(D(1), D(1)))),
    ("d", lambda: Given("d", "diameter", "mm", span=(D(1), D(8), D(0)))),
    ("d", lambda: Given("d", "diameter", "mm", span=(D(8), D(1), D(1)))),
    ("d", lambda: Given("d", "diameter", "mm", span=(D(1), D(8), D(3)))),
    ("name of a line", lambda: Line("2a", "area", "mm^2", parse("d*t"))),
    ("marks of A_s", lambda: Line("A_s", "area", "mm^2", parse("d*t"), D(-1))),
    ("misconception", lambda: Slip("", parse("d*t"))),
    ("what edge keeps", lambda: Slip("edge", parse("d*t"), D(-1))),
    ("what edge keeps", lambda: Slip("edge", parse("d*t"), D("NaN"))),
    ("misconception", lambda: JudgeSlip(" ")),
    ("misconception", lambda: OrderSlip("", "clamp", "press")),
    ("before", lambda: OrderSlip("late", "clamp", "clamp")),
    ("misconception", lambda: PairSlip("", "bore", "reaming")),
    ("option", lambda: Option(" ")),
    ("what 'larger' keeps", lambda: Option("larger", keeps=D(-1))),
    ("right option 'larger'", lambda: Option("larger", right=True, misconception="edge")),
    ("right option 'larger'", lambda: Option("larger", right=True, keeps=D(1))),
    ("name of a point", lambda: Point("", ("brake",))),
    ("wordings of brake", lambda: Point("brake", ())),
    ("wording of brake", lambda: Point("brake", ("holds", " "))),
    ("marks of part a", lambda: replace(HOLE.part("a"), marks=D(0))),
    ("marks of part a", lambda: replace(HOLE.part("a"), marks=D("NaN"))),
    ("marks of part a", lambda: replace(HOLE.part("a"), marks=2.0)),  # type: ignore[arg-type]
    ("table", lambda: RowGiven("material", "")),
    ("rows", lambda: RowGiven("material", "metals", ("steel", "steel"))),
    ("strength of steel", lambda: Table("metals", "", {"strength": "MPa"}, {"steel": {"strength": "much"}})),
    ("key of a misconception", lambda: Misconception("", "", "", "")),
    ("title of a question", lambda: replace(HOLE, title=" ")),
    ("level of drain-hole", lambda: replace(HOLE, level=4)),
    ("parts of drain-hole", lambda: replace(HOLE, parts=())),
    ("parts of drain-hole", lambda: replace(HOLE, parts=(HOLE.part("a"), HOLE.part("a")))),
    ("givens of drain-hole", lambda: replace(HOLE, givens=(HOLE.givens[0], HOLE.givens[0]))),
    ("table of ", lambda: replace(HOLE, tables={})),
    ("key of a question", lambda: replace(BANK, questions={"oar": HOLE})),
    ("marks", lambda: replace(GIVEN_BACK, marks=D(-1))),
    ("machine", lambda: replace(GIVEN_BACK, machine=D("NaN"))),
    ("after", lambda: Change("XC5V-8688", "1.a", None, None)),
    ("part", lambda: AcceptedSlip("drain-hole", "", Misconception("edge", "", "", ""), "d*t")),
    ("what edge keeps", lambda: AcceptedSlip("drain-hole", "a", Misconception("edge", "", "", ""), "d*t", D(-1))),
    ("place", lambda: Place("a.yaml", -1)),
    ("code", lambda: Problem("", Place("a.yaml"), "a key", "none")),
]


@pytest.mark.parametrize(("what", "make"), REFUSED, ids=[f"{n}-{what}" for n, (what, _) in enumerate(REFUSED, 1)])
def test_an_impossible_value_is_refused_by_its_name(what: str, make: Callable[[], object]) -> None:
    assert refused(make).startswith(what)


BLOBS = [
    lambda: Given("d", "diameter", "blobs"),
    lambda: Shown(D(1), "blobs"),
    lambda: Line("d", "diameter", "blobs", parse("2*t")),
]


@pytest.mark.parametrize("make", BLOBS)
def test_a_value_has_a_unit_of_the_unit_list(make: Callable[[], object]) -> None:
    with pytest.raises(wm.WitnessMarkError, match="'blobs' is not a unit"):
        make()
