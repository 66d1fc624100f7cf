"""Products of powers near a right working: which are tried, what each costs, and how a working is seen to be one."""

import math
from decimal import Decimal

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.search.product_forms import (
    COST_OF_STEP,
    MOST_STEPS,
    Powers,
    forms_near,
    log_of,
    logs_of_names,
    powers_of,
    product_tree,
)
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.question import Question, Table
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.working import AskedNumber

Floats = npt.NDArray[np.float64]


def test_the_powers_that_are_tried_lie_within_a_few_steps_of_the_right_ones() -> None:
    forms = forms_near(("d", "t", "tau"), Powers((1.0, 1.0, 1.0), (1, 0)))
    steps = np.abs(forms.exponents - 1).sum(1)
    assert steps.max() == MOST_STEPS
    assert [0.0, 0.0, 0.0] not in forms.exponents.tolist()
    assert len(np.unique(forms.exponents, axis=0)) == len(forms.exponents)
    assert (0, 2) in forms.constants  # pi left out, four in its place


def test_many_names_do_not_make_the_search_endless() -> None:
    """Eleven names have 5^11 rows of powers from -2 to 2: 49 million; those within four steps are some thousands."""
    names = tuple(f"x{n}" for n in range(11))
    assert len(forms_near(names, Powers((1.0,) * 4 + (0.0,) * 7, (0, 0))).costs) < 20_000


def test_products_are_written_as_people_write_them() -> None:
    def written(constant: tuple[int, int], *powers: float) -> str:
        return plain(product_tree(constant, powers, ("a", "b", "c")))

    assert written((1, 2), 1.0, -0.5, -2.0) == "4*pi*a/(sqrt(b)*c**2)"
    assert written((-1, -1), 1.0, 0.0, 1.0) == "a*c/(2*pi)"
    assert written((0, -3), 0.0, -1.0, 0.0) == "1/(8*b)"
    assert written((2, 0), 0.0, 0.0, 1.5) == "pi**2*c**1.5"
    assert written((0, 1), 1.0, -1.0, 0.0) == "2*a/b"
    assert written((0, -1), 1.0, 0.0, 0.0) == "a/2"


def test_constants_are_tried_one_pi_and_two_factors_of_two_around_the_right_one_and_around_none() -> None:
    forms = forms_near(("d", "t"), Powers((1.0, 1.0), (1, -3)))
    assert {pi for pi, _ in forms.constants} == {-1, 0, 1, 2}
    assert {two for _, two in forms.constants} == set(range(-5, 3))
    assert forms.count == len(forms.costs) * 4 * 8
    by_hand = [math.log10(math.pi**pi * 2.0**two) for pi, two in forms.constants]
    assert forms.logs.tolist() == pytest.approx(by_hand)
    assert forms.pis.tolist() == [abs(pi) for pi, _ in forms.constants]
    costs = dict(zip(forms.constants, (forms.constant_costs / COST_OF_STEP).tolist(), strict=True))
    steps = {(1, -3): 0, (0, 0): 0, (1, -2): 1, (0, -3): 1, (1, 0): 1, (2, -3): 1, (2, -4): 2, (0, -1): 1, (-1, 2): 3}
    assert {constant: costs[constant] for constant in steps} == pytest.approx(steps)


def test_a_formula_costs_by_its_steps_from_the_right_one_and_all_have_their_share_together() -> None:
    """A tenth of all formulas that are tried (our assumption; common practice, no source)."""
    forms = forms_near(("d", "t"), Powers((1.0, -1.0), (0, 0)))
    costs = dict(zip(map(tuple, forms.exponents.tolist()), forms.costs.tolist(), strict=True))
    by_hand = {(1.0, -1.0): 0, (1.0, 0.0): 1, (2.0, -1.0): 1, (-1.0, 1.0): 4, (0.0, -2.0): 2, (-2.0, -2.0): 4}
    steps = {row: (costs[row] - costs[1.0, -1.0]) / COST_OF_STEP for row in by_hand}
    assert steps == pytest.approx(by_hand)
    assert (-2.0, 1.0) not in costs  # five steps
    assert all(float(x).is_integer() for row in costs for x in row)
    assert np.exp(-forms.costs[:, None] - forms.constant_costs).sum() == pytest.approx(0.1)


def test_where_the_right_working_is_no_product_those_near_nothing_are_tried() -> None:
    forms = forms_near(("d", "t"), None)
    costs = dict(zip(map(tuple, forms.exponents.tolist()), forms.costs.tolist(), strict=True))
    assert set(costs) == {(d, t) for d in range(-2, 3) for t in range(-2, 3) if (d, t) != (0, 0)}
    assert (costs[2.0, -2.0] - costs[1.0, 0.0]) / COST_OF_STEP == pytest.approx(3)
    assert set(forms.constants) == {(pi, two) for pi in (-1, 0, 1) for two in (-2, -1, 0, 1, 2)}


def test_half_powers_are_tried_where_the_right_method_takes_a_root_and_not_elsewhere() -> None:
    forms = forms_near(("d", "t"), Powers((0.5, 1.0), (0, 0)))
    assert {row[0] for row in forms.exponents.tolist()} == {n / 2 for n in range(-4, 5)}
    assert {row[1] for row in forms.exponents.tolist()} == {-2.0, -1.0, 0.0, 1.0, 2.0}


def powers(formula: str, **names: list[float]) -> Powers | None:
    """What the powers of these names in a formula are found to be, pi among those that are known."""
    full = {name: np.array(values) for name, values in names.items()}
    with np.errstate(all="ignore"):
        logs = np.log10(np.abs(np.array(list(full.values())))).reshape(len(names), -1)
    method = Method((), AskedNumber("x", parse(formula), "1", 3))
    return powers_of(method, tuple(names), {**full, "pi": np.array(math.pi), "k": np.array([5.0, 6.0])}, logs)


A, B = [2.0, 7.0], [3.0, 0.4]


@pytest.mark.parametrize(("formula", "of_names", "constant"), [
    ("4*a**2/(pi*sqrt(b))", (2.0, -0.5), (-1, 2)),
    ("a/b", (1.0, -1.0), (0, 0)),
    ("-a*b", (1.0, 1.0), (0, 0)),  # a sign is no part of a size
    ("2", (0.0, 0.0), (0, 1)),
    ("a*(pi*b/2)**3*2**9", (1.0, 3.0), (3, 6)),
    ("a*(2/(pi*b))**3/2**9", (1.0, -3.0), (-3, -6)),
    ("128*a*b", (1.0, 1.0), None),  # seven twos, and four pis, are more than any working has
    ("a*b/128", (1.0, 1.0), None),
    ("pi**4*a*b", (1.0, 1.0), None),
    ("a*b/pi**4", (1.0, 1.0), None),
    ("3*a*b", (1.0, 1.0), None),
])  # fmt: skip
def test_a_product_is_seen_by_doubling_each_name_with_the_constant_before_it(
    formula: str, of_names: tuple[float, ...], constant: tuple[int, int] | None
) -> None:
    assert powers(formula, a=A, b=B) == Powers(of_names, constant)


@pytest.mark.parametrize("formula", ["a + b", "a*(1 + b)", "a**0.4*b", "sin(a)*b", "a*b + 0.001*b", "c*a*b"])
def test_a_working_that_is_no_product_of_powers_is_none(formula: str) -> None:
    assert powers(formula, a=A, b=B) is None


def test_a_name_that_is_not_among_those_that_may_be_used_leaves_a_constant_that_is_none_of_ours() -> None:
    assert powers("a*k", a=A, b=B) == Powers((1.0, 0.0), None)
    assert powers("a*b*k*pi", a=A, b=B) == Powers((1.0, 1.0), None)  # every name there is


def test_a_name_is_doubled_in_one_variant_as_in_the_next() -> None:
    """In the first variant a is the greater, in the second b."""
    assert powers("max(a, b)", a=[9.0, 1.0], b=[3.0, 2.0]) is None
    assert powers("max(a, b)", a=[9.0, 8.0], b=[3.0, 2.0]) == Powers((1.0, 0.0), (0, 0))


TEXT = """
question: lead-shoe
title: A lead shoe
topic: buoyancy
level: 2
setting: A shoe of {metal.name}, {L} long and {w} wide, hangs below a keel by a strap that bears {metal.strength}.
given:
  metal: {row of: metals}
  rho: {is: density, unit: kg/m^3, value: metal.density}
  L: {is: length, unit: m, from: 1, to: 4, step: 0.1}
  w: {is: width, unit: mm, from: 100, to: 190, step: 1}
find:
  a:
    ask: Find the weight.
    is: weight
    symbol: W
    unit: kN
    answer: rho*g*L*w**2
    marks: 2
  b:
    ask: Find the stress where the strap is {metal.width} wide.
    is: stress
    symbol: sigma
    unit: MPa
    carries: [a]
    answer: W/(metal.width*w)
    marks: 2
  c:
    ask: Find the stress where it is twisted.
    is: twisting stress
    symbol: tau
    unit: MPa
    answer: metal.hardness*pi*w/L
    marks: 2
    slips: [{misconception: x, answer: metal.thickness*w, keeps: 1}]
  d:
    ask: Does it hold at {metal.price}?
    judge: tau < metal.resilience
    marks: 1
"""
CELLS = {
    "density": "kg/m^3", "strength": "MPa", "width": "mm", "hardness": "MPa", "thickness": "mm", "price": "1",
    "resilience": "MPa", "number": "1",
}  # fmt: skip


@pytest.fixture(scope="module")
def shoe() -> Question:
    rows: dict[str, dict[str, Decimal | str]] = {
        name: dict.fromkeys(CELLS, Decimal(n)) for n, name in enumerate(("lead", "iron"), 2)
    }
    table = Table("metals", "invented for a test", CELLS, rows)
    question, problems = question_from_text(TEXT, "lead-shoe.yaml", {"metals": table})
    assert question is not None, problems
    return question


def names_at(question: Question, key: str, full: dict[str, Floats], size: int = 2) -> tuple[tuple[str, ...], Floats]:
    """The names that may have been used at a place, with their logarithms."""
    (place,) = (p for p in places(question, 3) if p.key == key)
    return logs_of_names(question, methods_at(place, dimensions(question))[0], place, full, size)


def values() -> dict[str, Floats]:
    """Numbers of every name of the shoe, all different."""
    found = {n: np.array([k, k**1.5]) for k, n in enumerate(["rho", "L", "w", "W", "g", "pi", "sigma", "tau"], 2)}
    return found | {f"metal.{cell}": np.array([k, k**1.5]) for k, cell in enumerate(CELLS, 20)}


CELLS_SEEN = tuple(f"metal.{cell}" for cell in CELLS if cell != "number")


def test_the_names_of_a_place_are_givens_what_is_carried_constants_in_use_and_cells_that_are_shown_or_used(
    shoe: Question,
) -> None:
    assert names_at(shoe, "a", values())[0] == ("rho", "L", "w", "g", *CELLS_SEEN)
    assert names_at(shoe, "b", values())[0] == ("rho", "L", "w", "W", *CELLS_SEEN)
    assert names_at(shoe, "c", values())[0] == ("rho", "L", "w", *CELLS_SEEN)


def test_logarithms_are_those_of_the_sizes_once_for_each_answer(shoe: Question) -> None:
    some = {"rho": np.array(100.0), "L": np.array([-10.0, 1e-3])}
    known, logs = names_at(shoe, "a", some)
    assert (known, logs.tolist()) == (("rho", "L"), [[2, 2], [1, -3]])
    assert names_at(shoe, "a", {}, size=5)[1].shape == (0, 5)


def test_of_names_with_the_same_values_the_first_stands_for_both(shoe: Question) -> None:
    same = values()
    same["metal.density"] = same["rho"] * (1 + 1e-15)
    same["metal.width"] = same["rho"] * np.array([1.0, 1.01])  # as it is in one variant alone
    assert names_at(shoe, "c", same)[0] == ("rho", "L", "w", *CELLS_SEEN[1:])


OF_A_TABLE = """
question: dipped-rods
title: Three readings of one rod
topic: measuring
level: 1
setting: A rod of density {rho} is dipped three times, and its length below water is read with the force on it.
table:
  is: Length below water, and the force
  rows: 3
  behind:
    k: {is: force for each metre, unit: N/m, from: 2, to: 9, step: 0.1}
    s: {is: step of the length, unit: m, from: 0.2, to: 0.6, step: 0.01}
  columns:
    L: {is: length, unit: m, symbol: L, value: row*s, scatter: 0.04, step: 0.01}
    F: {is: force, unit: N, symbol: F, value: L*k, scatter: 0.04, step: 0.01}
given:
  rho: {is: density, unit: kg/m^3, from: 1000, to: 9000, step: 10}
find:
  a: {ask: Find the force for each metre., each row: F/L, is: force for each metre, symbol: q, unit: N/m, marks: 1}
  b: {ask: Find the mean., is: mean, symbol: q_m, unit: N/m, carries: [a], answer: mean(q), marks: 1}
  c: {ask: Find how far they lie apart., is: range, symbol: w, unit: N/m, carries: [a], answer: q_3 - q_1, marks: 1}
  d: {ask: Find it for each density., is: quotient, symbol: z, unit: m^3/s^2, carries: [b], answer: q_m/rho, marks: 1}
"""


def test_of_the_cells_of_a_table_those_alone_may_stand_in_that_a_working_uses_as_such() -> None:
    """Whoever takes a mean of readings does not take one of them for another, and whoever takes the last less the first
    may; a result that is no cell is carried on as any other."""
    question, problems = question_from_text(OF_A_TABLE, "dipped-rods.yaml", {})
    assert question is not None, problems
    names = ["rho", *(f"{column}_{row}" for column in "LFq" for row in (1, 2, 3)), "q_m", "w"]
    full = {name: np.array([n, n**1.5]) for n, name in enumerate(names, 2)}
    assert names_at(question, "a1", full)[0] == ("rho", "L_1", "F_1")
    assert names_at(question, "b", full)[0] == ("rho",)
    assert names_at(question, "c", full)[0] == ("rho", "q_1", "q_3")
    assert names_at(question, "d", full)[0] == ("rho", "q_m")


@pytest.mark.parametrize("nothing", [0.0, math.nan, math.inf])
def test_a_name_that_is_nothing_in_one_variant_is_left_out(shoe: Question, nothing: float) -> None:
    some = values() | {"L": np.array([nothing, 2.0])}
    assert names_at(shoe, "c", some)[0] == ("rho", "w", *CELLS_SEEN)


def test_no_more_names_stand_in_a_product_than_one_more_than_in_the_right_one_or_five() -> None:
    def most(*base: float) -> int:
        return int((forms_near([f"x{n}" for n in range(len(base))], Powers(base, (0, 0))).exponents != 0).sum(1).max())

    assert most(1, 1, 1, 0, 0, 0, 0) == 5
    assert most(1, 1, 1, 1, 1, 0, 0, 0) == 6
    assert most(1, 1, 1, 1, 1, 1, 0, 0, 0) == 7


def test_powers_above_two_are_tried_as_far_as_the_right_one_has_them() -> None:
    forms = forms_near(("d", "t"), Powers((-3.0, 1.0), (0, 0)))
    assert {row[0] for row in forms.exponents.tolist()} == {-3.0, -2.0, -1.0, 0.0, 1.0}  # four steps from -3
    assert {row[1] for row in forms.exponents.tolist()} == {-2.0, -1.0, 0.0, 1.0, 2.0}


def test_where_there_is_no_name_there_is_no_product() -> None:
    for right in (None, Powers((), (0, 0))):
        forms = forms_near((), right)
        assert (forms.count, forms.exponents.shape) == (0, (0, 0))


def test_a_constant_that_is_none_of_ours_is_as_if_there_were_none() -> None:
    of_three, of_none = (forms_near(("d",), Powers((1.0,), constant)) for constant in (None, (0, 0)))
    assert of_three.constants == of_none.constants
    assert of_three.constant_costs.tolist() == of_none.constant_costs.tolist()


def test_a_form_is_written_with_its_constant_and_its_powers() -> None:
    forms = forms_near(("d", "t"), Powers((2.0, -1.0), (1, 2)))
    row, column = forms.exponents.tolist().index([1.0, -2.0]), forms.constants.index((1, 0))
    assert plain(forms.tree(row, column)) == "pi*d/t**2"


def test_each_step_from_the_right_working_makes_a_product_ten_times_as_rare() -> None:
    """That each step is one of about ten is our assumption (common practice, no source)."""
    assert math.exp(COST_OF_STEP) == pytest.approx(10, rel=0.01)


def test_the_logarithm_of_a_constant_is_that_of_its_number() -> None:
    assert log_of((2, -3)) == pytest.approx(math.log10(math.pi**2 / 8))
