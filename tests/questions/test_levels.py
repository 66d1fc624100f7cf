"""Steps of a question, counted by hand on small ones: what is worked, what is only measured, what is carried along."""

from decimal import Decimal

import pytest

from witnessmark.maths.syntax import Comparison, parse
from witnessmark.questions.checking.levels import level_of, steps
from witnessmark.questions.model.parts import (
    ExpressionPart,
    HandPart,
    JudgePart,
    Line,
    Part,
    QuantityPart,
    Slip,
    ValueChoicePart,
)
from witnessmark.questions.model.question import Given, Question

D = Decimal
GIVENS = (
    Given("d", "diameter", "mm"), Given("L", "length", "m"), Given("F", "force", "kN"), Given("E", "modulus", "GPa"),
    Given("theta", "angle", "deg"),
)  # fmt: skip
AREA = Line("A", "area", "mm^2", parse("pi*d**2/4"))
STRESS_LINE = Line("s", "stress", "MPa", parse("F/A"))


def result(key: str, symbol: str, unit: str, answer: str, *lines: Line, carries: tuple[str, ...] = ()) -> Part:
    return QuantityPart(key, "Find it.", D(1), "it", symbol, unit, parse(answer), lines, carries)


def question(*parts: Part) -> Question:
    return Question("q", "Q", "t", 1, "Setting.", GIVENS, (), (), parts)


def test_one_relation_is_one_step() -> None:
    assert steps(question(result("a", "w", "N/m", "F/L"))) == 1


def test_an_area_on_the_way_is_measured_and_counts_no_step() -> None:
    assert steps(question(result("a", "sigma", "MPa", "F/A", AREA))) == 1
    slope = Line("h", "height", "m", parse("L*sin(theta)"))
    assert steps(question(result("a", "W", "kJ", "F*h", slope))) == 1


def test_a_line_that_is_a_relation_counts() -> None:
    assert steps(question(result("a", "epsilon", "", "s/E", AREA, STRESS_LINE))) == 2


def test_what_is_carried_brings_its_steps_along_once() -> None:
    stress = result("a", "sigma", "MPa", "F/A", AREA)
    strain = result("b", "epsilon", "", "sigma/E", carries=("a",))
    stretch = result("c", "x", "mm", "epsilon*L", carries=("b",))
    work = result("d", "U", "J", "sigma*x*d**2", carries=("a", "c"))
    assert [steps(question(*[stress, strain, stretch, work][:n])) for n in (1, 2, 3, 4)] == [1, 2, 3, 4]


def test_parts_that_do_not_need_each_other_do_not_add_up() -> None:
    assert steps(question(result("a", "sigma", "MPa", "F/A", AREA), result("b", "w", "N/m", "F/L"))) == 1


def test_a_judgement_takes_the_steps_of_what_it_carries() -> None:
    both = (result("a", "w", "N/m", "F/L"), result("b", "sigma", "MPa", "F/d**2"))
    tree = parse("w*L < sigma*d**2")
    assert isinstance(tree, Comparison)
    judged = JudgePart("c", "Is it?", D(1), tree, ("a", "b"))
    assert steps(question(*both, judged)) == 2


def test_a_formula_and_a_choice_between_values_are_one_step_and_words_are_none() -> None:
    formula = ExpressionPart("a", "Write it.", D(1), "", "", "", parse("F/L"))
    values = ValueChoicePart("a", "Which?", D(1), "", "N/m", parse("F/L"), (Slip("m", parse("F*L")),))
    words = HandPart("a", "Sketch it.", D(1), (("it is there", D(1)),))
    assert [steps(question(p)) for p in (formula, values, words)] == [1, 1, 0]


@pytest.mark.parametrize(("count", "level"), [(1, 1), (2, 2), (3, 3), (4, 3)])
def test_the_level_is_the_number_of_steps_and_three_is_several(count: int, level: int) -> None:
    first = result("a", "a_1", "mm", "F*d/F")
    parts = [first] + [result(k, f"{k}_1", "mm", f"{p}_1*F/F", carries=(p,)) for p, k in zip("abc", "bcd", strict=True)]
    assert (steps(question(*parts[:count])), level_of(question(*parts[:count]))) == (count, level)
