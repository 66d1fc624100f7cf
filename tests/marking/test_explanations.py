"""Each explanation that is weighed at a place: its verdict, its figures, what it costs, and which are left out.

At the drain hole of the small bank (3 marks, slips that keep 1 and 2), and at a crate whose slip is a conversion too.
"""

import itertools
from dataclasses import replace
from decimal import Decimal

import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.hypotheses.first_thoughts import first_thoughts, unit_hypotheses
from witnessmark.marking.hypotheses.hypotheses import (
    Hypothesis,
    carried_together,
    edit_hypotheses,
    hypotheses,
    starts,
    works_alike,
)
from witnessmark.marking.hypotheses.plan import Plan
from witnessmark.marking.weights import PRIOR_OF_KIND
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
NAMES = frozenset({"tau", "d", "t", "pi", "g", "A_s", "F", "sigma_a", "A_p"})
PLACES = {place.key: place for place in places(HOLE, 3)}
METHODS = {key: methods_at(place, dimensions(HOLE)) for key, place in PLACES.items()}


def all_at(key: str, own_count: int = 0, rules: Rules | None = None) -> list[Hypothesis]:
    """Everything that is weighed at a place of the drain hole."""
    plan = Plan(HOLE, rules or Rules(), NAMES)
    return [*plan.candidates(PLACES[key], own_count), *plan.further(PLACES[key], own_count)()]


def test_each_explanation_has_its_verdict_its_figures_and_its_cost() -> None:
    """Early rounding is to two figures and costs a half; a power of ten or a unit costs 1 (the design, section 5)."""
    found: dict[str, set[tuple[str, int | None, bool, Decimal]]] = {}
    for h in all_at("a", 1):
        found.setdefault(h.kind, set()).add((h.verdict.value, h.figures, h.cut_off, h.off))
    half, one, none = Decimal("0.5"), Decimal(1), Decimal(0)
    assert found == {
        "right": {("right", None, False, none)}, "carried": {("carried forward", None, False, none)},
        "carried early": {("carried forward", 2, False, half)}, "rounded early": {("rounded early", 2, False, half)},
        "cut off": {("right", None, True, none), ("carried forward", None, True, none)},
        "each rounded": {("right", None, False, none)}, "coarse constant": {("rounded early", None, False, half)},
        "power of ten": {("power of ten", None, False, one)}, "conversion": {("unit", None, False, one)},
        "slip": {("slip", None, False, none)}, "slip carried": {("slip", None, False, none)},
        "slip and power of ten": {("slip", None, False, one)}, "two slips": {("two slips", None, False, none)},
        "sign": {("sign", 2, False, one)}, "slip and sign": {("slip", None, False, one)},
        "digits": {("edit", None, False, none)}, "edit": {("edit", None, False, none)},
        "rarer edit": {("edit", None, False, none)}, "two edits": {("edit", None, False, none)},
    }  # fmt: skip


def test_no_explanation_but_a_power_of_ten_and_a_conversion_changes_the_size() -> None:
    for h in all_at("a", 1):
        size = (h.factor.power, abs(h.factor.value), h.factor.conversion)
        assert (size == (0, 1.0, "")) != (h.kind in ("power of ten", "slip and power of ten", "conversion"))
        assert bool(h.factor.power) == (h.kind in ("power of ten", "slip and power of ten"))


def test_every_explanation_is_told_but_edits_that_are_no_one_mistake() -> None:
    for h in all_at("b", 2):
        assert h.told or h.kind in ("edit", "rarer edit", "two edits")
    assert {h.told for h in all_at("b", 2) if h.kind == "two edits"} == {False}
    assert {h.told for h in all_at("b", 2) if h.kind == "edit"} == {False, True}


def first_at(key: str, rules: Rules, own_count: int = 0) -> list[Hypothesis]:
    """What is thought of first at a place."""
    return list(first_thoughts(PLACES[key], METHODS[key], METHODS[key][1:2], own_count, rules))


def test_a_turned_sign_costs_what_a_power_of_ten_does_and_never_more_than_there_is() -> None:
    """Of 3 marks, of slips that keep 1 and 2, and of the one mark of a line, whose slips keep nothing."""

    def marks(key: str, off: str) -> dict[str, list[Decimal]]:
        found: dict[str, list[Decimal]] = {}
        for h in first_at(key, Rules(power_of_ten=Decimal(off))):
            found.setdefault(h.kind, []).append(h.marks)
        return {kind: found[kind] for kind in ("sign", "slip and sign")}

    assert marks("a", "0.5") == {"sign": [Decimal("2.5")], "slip and sign": [Decimal("0.5"), Decimal("1.5")]}
    assert marks("a", "9") == {"sign": [Decimal(0)], "slip and sign": [Decimal(0)] * 2}
    slips = len(METHODS["a.A_s"]) - 1
    assert marks("a.A_s", "0.5") == {"sign": [Decimal("0.5")], "slip and sign": [Decimal(0)] * slips}
    assert {h.factor.value for h in first_at("a", Rules()) if "sign" in h.kind} == {-1.0}
    assert {h.factor.value for h in first_at("a", Rules()) if "sign" not in h.kind} == {1.0}


def test_first_thoughts_share_the_chance_of_their_kind_among_those_that_start_from_right_results() -> None:
    for key, kind in itertools.product(("a", "b"), ("sign", "slip and sign", "digits")):
        alike = [h for h in first_at(key, Rules(), own_count=2) if h.kind == kind]
        assert sum(h.prior for h in alike if not h.carried) == pytest.approx(PRIOR_OF_KIND[kind])
        assert len({h.prior for h in alike}) == 1
    found = first_at("b", Rules(), own_count=2)
    assert {h.carried for h in found if h.kind == "sign"} == {(), (0, 1), (1,)}
    assert {h.carried for h in found if h.kind == "slip and sign"} == {()}
    assert {h.method for h in found if h.kind in ("sign", "digits")} == {METHODS["b"][0]}


def edited(key: str, formula: str, weight: float) -> Edited:
    """The right method of a place ended otherwise."""
    right = METHODS[key][0]
    return Edited(replace(right, final=right.final.worked_by(parse(formula))), (f"it were {formula}",), weight)


def test_a_unit_left_as_it_is_costs_what_a_wrong_unit_does_and_is_as_likely_as_its_weight_says() -> None:
    units = [edited("a", "1000*tau*A_s", 2.0), edited("a", "tau*A_s/1000", 0.5)]
    for off, marks in (("0.5", "2.5"), ("9", "0")):
        found = unit_hypotheses(PLACES["a"], METHODS["a"], units, 1, Rules(wrong_unit=Decimal(off)))
        assert [(h.marks, h.off, h.rung, h.verdict.value) for h in found] == [
            (Decimal(marks), Decimal(off), 4, "unit")
        ] * 4  # fmt: skip
        assert [h.prior / PRIOR_OF_KIND["not converted"] for h in found] == pytest.approx([2.0, 2.0, 0.5, 0.5])
        assert [h.carried for h in found] == [(), (0,), (), (0,)]
    (line,) = unit_hypotheses(PLACES["a.A_s"], METHODS["a.A_s"], [edited("a.A_s", "1000*t*d", 1.0)], 0, Rules())
    assert line.marks == 0  # of the one mark of the line


def test_an_edit_of_a_line_for_which_an_own_result_stands_is_none() -> None:
    right = METHODS["a"][0]
    (step,) = right.steps
    in_line = replace(right, steps=(replace(step, asked=replace(step.asked, tree=parse("pi*d"))),))
    edits = [Edited(in_line, ("t were left out",), 1.0), edited("a", "tau*A_s/2", 3.0)]
    found = edit_hypotheses(PLACES["a"], METHODS["a"], edits, [], edits[:1], 1, Rules(unknown_method=Decimal("0.5")))
    told = [(h.kind, h.done[0], h.carried, h.prior / PRIOR_OF_KIND[h.kind]) for h in found]
    assert told == [
        ("edit", "t were left out", (), 0.25), ("edit", "it were tau*A_s/2", (), 0.75),
        ("edit", "it were tau*A_s/2", (0,), 0.75), ("two edits", "t were left out", (), 1.0),
    ]  # fmt: skip
    assert unit_hypotheses(PLACES["a"], METHODS["a"], edits[:1], 1, Rules())[0].carried == ()
    assert len(unit_hypotheses(PLACES["a"], METHODS["a"], edits[:1], 1, Rules())) == 1


def test_methods_work_alike_where_they_differ_in_lines_alone_that_own_results_stand_for() -> None:
    right, final = METHODS["a"][0], METHODS["a"][1]
    (step,) = right.steps
    in_line = replace(right, steps=(replace(step, asked=replace(step.asked, tree=parse("pi*d"))),))
    assert works_alike(PLACES["a"], in_line, [final, right], (0,))
    assert not works_alike(PLACES["a"], in_line, [right], ())
    assert not works_alike(PLACES["a"], in_line, [right], (1,))  # the result of another place
    assert not works_alike(PLACES["a"], final, [right], (0,))
    assert not works_alike(PLACES["a"], in_line, [], (0,))


def test_what_is_carried_together_and_what_two_slips_start_from() -> None:
    assert carried_together(0) == []
    assert carried_together(2) == [(0,), (1,), (0, 1)]
    assert carried_together(3)[-1] == (0, 1, 2)
    assert carried_together(4) == [(0, 1, 2, 3)]
    assert starts(PLACES["b"], 0) == ((),)
    assert starts(PLACES["b"], 1) == ((), (0,))
    assert starts(PLACES["b"], 3) == ((), (1, 2), (0, 1, 2))
    assert starts(PLACES["a.A_s"], 2) == ((), (0, 1))


def kinds_at(place: NumberPlace, methods: list[Method], rules: Rules) -> dict[str, list[Hypothesis]]:
    found: dict[str, list[Hypothesis]] = {}
    for h in hypotheses(place, methods, [], 1, rules):
        found.setdefault(h.kind, []).append(h)
    return found


def test_pi_as_three_is_three_times_in_ten_beside_g_as_ten() -> None:
    """Our assumption (common practice, no source)."""
    right = METHODS["a"][0]
    both = replace(right, final=right.final.worked_by(parse("tau*A_s*g")))
    found = kinds_at(PLACES["a"], [both], Rules())["coarse constant"]
    assert [plain(h.method.formula) for h in found] == ["tau*(pi*d*t)*10", "tau*(3*d*t)*g"]
    assert [(h.rung, h.verdict.value, h.marks) for h in found] == [(3, "rounded early", Decimal("2.5"))] * 2
    assert [h.prior / PRIOR_OF_KIND["coarse constant"] for h in found] == pytest.approx([1 / 1.3, 0.3 / 1.3])


def test_where_carried_working_is_not_paid_own_results_earn_nothing_and_right_ones_all() -> None:
    found = kinds_at(PLACES["a"], [METHODS["a"][0]], Rules(carried_forward=False))
    assert [h.marks for h in found["carried"]] == [Decimal(0)]
    assert [h.marks for h in found["carried early"]] == [Decimal(0)]
    assert [(h.carried, h.marks) for h in found["cut off"]] == [((), Decimal(3)), ((0,), Decimal(0))]


def test_own_results_are_as_likely_as_if_all_were_right_whatever_the_number_of_slips() -> None:
    found = kinds_at(PLACES["a"], list(METHODS["a"]), Rules())
    assert [h.prior for h in found["carried"]] == [PRIOR_OF_KIND["carried"]]
    assert [h.prior for h in found["carried early"]] == [PRIOR_OF_KIND["carried early"]]
    assert {h.prior for h in found["slip"]} == {PRIOR_OF_KIND["slip"] / 2}
    assert {h.prior for h in found["slip carried"]} == {PRIOR_OF_KIND["slip carried"] / 2}
    alone = kinds_at(PLACES["a"], [METHODS["a"][0]], Rules())
    assert "slip carried" not in alone


CRATE = """
question: lead-crate
title: Two crates of lead
topic: buoyancy
level: 1
setting: Two crates of {m} each hang from one hook.
given:
  m: {is: mass, unit: kg, from: 20, to: 90, step: 1}
find:
  a:
    ask: Find the pull on the hook.
    is: pull
    symbol: P
    unit: N
    lines: {W: {is: weight of one, unit: N, value: m*g, marks: 1}}
    answer: 2*W
    marks: 3
    slips:
      - {misconception: mass-for-weight, line: W, answer: m, keeps: 1}
      - {misconception: one-for-two, answer: W, keeps: 1}
"""


@pytest.fixture(scope="module")
def crate() -> Question:
    question, problems = question_from_text(CRATE, "lead-crate.yaml", {})
    assert question is not None, problems
    return question


def test_a_conversion_that_is_always_a_slips_number_is_left_to_the_slip_but_where_an_own_line_stands(
    crate: Question,
) -> None:
    """Whoever takes the mass for the weight is off by 9.81, as whoever takes kilograms-force for newtons; not so from
    an own weight, which the mass has no part in."""
    plan = Plan(crate, Rules(), frozenset({"m", "g", "pi", "W", "P"}))
    found = plan.candidates(plan.places[1], 1)
    conversions = {(f"{h.factor.value:.4g}", h.carried) for h in found if h.kind == "conversion"}
    of_weight = {"9.81", "0.1019", "9.807", "0.102", "4.448", "0.2248", "9964", "0.0001004", "8896", "0.0001124"}
    assert conversions == {(by, own) for by in of_weight for own in ((), (0,))} - {("0.1019", ())}
    assert {h.method.misconceptions for h in found if h.kind == "slip"} == {("mass-for-weight",), ("one-for-two",)}
