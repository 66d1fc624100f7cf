"""Ways of rounding on the way, each worked by hand beside it: which of them matter to a method, what is carried on by
each, and whose own results are taken together.

The shares of ways are our assumption (common practice, no source); what is tested is what follows from them.
"""

import numpy as np
import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.weighing.habits import IN_FULL, Before, Habits, Own, Ways, gathered, habits
from witnessmark.marking.weights import LINE_HABITS
from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.working.methods import Method, Step
from witnessmark.questions.working.working import AskedNumber

TEXT = """
question: hoops
title: Hoops
topic: lengths
level: 2
setting: S
given:
  a: {is: length, unit: mm, from: 10, to: 99, step: 0.1}
  most: {is: limit, unit: m^2/s^2, one of: [1]}
find:
"""
THREE = """\
  x: {ask: A, is: B, symbol: u, unit: mm, answer: 2*h, marks: 2, lines: {h: {is: H, unit: mm, value: a/7}}}
  y: {ask: A, is: B, symbol: v, unit: cm, answer: pi*u, marks: 1, carries: [x], figures: 4}
  z: {ask: A, is: B, symbol: w, unit: mm, answer: v - u, marks: 1, carries: [x, y]}
  j: {ask: A, judge: g*u < most, marks: 1, carries: [x]}
"""
LINES, PI = len(LINE_HABITS), CONSTANTS["pi"].habits
LENGTHS = {"a": np.array([0.0234, 0.0517])}


def question(find: str) -> DrawableQuestion:
    """A question of one length."""
    found, problems = question_from_text(TEXT + find, "hoops.yaml", {})
    assert problems == ()
    assert found is not None
    return found


HOOPS = question(THREE)


def step(name: str, formula: str) -> Step:
    return Step(name, AskedNumber(f"z.{name}", parse(formula), "mm", 3))


def ways(formula: str, *steps: Step, taken: frozenset[str] = frozenset()) -> Habits:
    """The habits that matter to a method."""
    method = Method(steps, AskedNumber("z", parse(formula), "mm", 3))
    return Ways(HOOPS, LENGTHS, np.arange(2)).of(method, taken)


# Which habits matter.


def test_a_method_of_givens_alone_is_worked_in_one_way_in_full() -> None:
    found = ways("a/3")
    assert (found.shares.tolist(), found.figures.tolist()) == ([1.0], [[IN_FULL]])
    assert found.names["a"].tolist() == [LENGTHS["a"].tolist()]


def test_a_method_that_takes_a_constant_is_worked_with_each_value_of_it_and_of_no_other() -> None:
    found = ways("a*pi")
    assert dict(zip(found.names["pi"][:, 0].tolist(), found.shares.tolist(), strict=True)) == pytest.approx(dict(PI))
    assert found.names["g"].tolist() == [[9.81]]
    assert len(ways("a*g*pi/g").shares) == len(PI) * len(CONSTANTS["g"].habits)


def test_what_an_earlier_result_took_matters_and_what_only_a_later_one_takes_does_not() -> None:
    first, second, both = ways("3*u"), ways("3*v"), ways("v - u")
    assert len(first.shares) == LINES
    assert "v" not in first.names
    assert len(second.shares) == len(both.shares) == LINES * len(PI)
    assert {"u", "v"} <= both.names.keys()
    assert "w" not in both.names


def test_no_rounding_before_an_own_result_matters() -> None:
    assert len(ways("3*u", taken=frozenset({"u"})).shares) == 1
    assert len(ways("v - u", taken=frozenset({"v"})).shares) == LINES
    assert len(ways("2*k", step("k", "pi*a"), taken=frozenset({"k"})).shares) == 1


def test_lines_of_the_method_itself_are_rounded_where_any_of_them_is_not_the_students_own() -> None:
    lines = step("k", "a/7"), step("m", "a/9")
    assert len(ways("k + m", *lines).shares) == LINES
    assert len(ways("k + m", *lines, taken=frozenset({"k"})).shares) == LINES
    assert len(ways("k + m", *lines, taken=frozenset({"k", "m"})).shares) == 1
    assert len(ways("2*k", step("k", "pi*a")).shares) == LINES * len(PI)


def test_shares_of_ways_are_products_and_together_all() -> None:
    found = ways("3*v")
    pairs = zip(found.figures[:, 0].tolist(), found.names["pi"][:, 0].tolist(), strict=True)
    by_hand = {(figures or IN_FULL, pi): share * of_pi for figures, share in LINE_HABITS for pi, of_pi in PI}
    assert dict(zip(pairs, found.shares.tolist(), strict=True)) == pytest.approx(by_hand)


# How results are carried on.


def worked(figures: int, pi: float) -> tuple[Array, Array]:
    """u and v by hand, in SI: the line and u in millimetres to so many figures, v in centimetres to four at least."""
    h = to_figures(LENGTHS["a"] / 7 * 1e3, figures) / 1e3
    u = to_figures(2 * h * 1e3, figures) / 1e3
    return u, to_figures(pi * u * 1e2, max(figures, 4)) / 1e2


@pytest.mark.parametrize("of", ["method", "question"])
def test_each_way_carries_results_on_in_its_figures_or_in_those_that_a_result_asks_for_itself(of: str) -> None:
    found = ways("v - u") if of == "method" else habits(HOOPS, LENGTHS)
    assert len(found.shares) == LINES * len(PI)
    assert found.shares.sum() == pytest.approx(1.0)
    for row, (figures, pi) in enumerate(zip(found.figures[:, 0], found.names["pi"][:, 0], strict=True)):
        u, v = worked(int(figures), float(pi))
        assert found.names["u"][row] == pytest.approx(u, rel=1e-12)
        assert found.names["v"][row] == pytest.approx(v, rel=1e-12)


def test_the_habits_of_a_question_are_of_what_it_works_out_and_not_of_what_it_judges() -> None:
    found = habits(HOOPS, LENGTHS)
    assert found.names["g"].tolist() == [[9.81]] * len(found.shares)
    assert found.names["w"].shape == found.names["a"].shape == (LINES * len(PI), 2)
    finer = habits(HOOPS, LENGTHS, 4)
    assert set(finer.figures.ravel().tolist()) == {IN_FULL, 4.0, 5.0}
    assert finer.shares.sum() == pytest.approx(1.0)
    assert set(found.figures.ravel().tolist()) == {IN_FULL, 2.0, 3.0, 4.0, 5.0}
    slip = "slips: [{misconception: m, answer: pi*u}]"
    plain = question("  x: {ask: A, is: B, symbol: u, unit: mm, answer: 2*a, marks: 1}\n"
                     f"  y: {{ask: A, is: B, unit: mm, answer: 3*u, carries: [x], marks: 1, {slip}}}\n")  # fmt: skip
    assert len(habits(plain, LENGTHS).shares) == LINES * len(PI)


def test_a_line_and_a_result_may_take_all_the_names_there_are() -> None:
    """By pi and g in full and nothing rounded, the square of pi g a."""
    line = "lines: {k: {is: K, unit: m^2/s^2, value: pi*g*a}}"
    asked = f"ask: A, is: B, symbol: u, unit: m^4/s^4, answer: k*pi*g*a, marks: 1, {line}"
    found = habits(question(f"  x: {{{asked}}}\n"), LENGTHS)
    ways = np.hstack([found.figures, found.names["pi"], found.names["g"]]).tolist()
    full = ways.index([IN_FULL, np.pi, 9.81])
    assert found.names["u"][full] == pytest.approx((np.pi * 9.81 * LENGTHS["a"]) ** 2)


def test_each_variant_is_worked_by_a_habit_of_its_own() -> None:
    found = habits(HOOPS, LENGTHS)
    names, figures = found.each(np.array([7, 2, 13]), np.array([1, 0, 0]))
    assert names["v"].tolist() == [found.names["v"][7, 1], found.names["v"][2, 0], found.names["v"][13, 0]]
    assert names["pi"].tolist() == [found.names["pi"][habit, 0] for habit in (7, 2, 13)]
    assert figures.tolist() == [found.figures[habit, 0] for habit in (7, 2, 13)]
    assert len({*found.figures[[7, 2, 13], 0].tolist()}) > 1


@pytest.mark.parametrize("rows", [[1], [1, 0, 1]])
def test_of_some_variants_each_name_is_theirs(rows: list[int]) -> None:
    found = ways("v - u")
    some = found.only(np.array(rows), {"v", "pi"})
    assert some.names.keys() == {"v", "pi"} < found.names.keys()
    assert some.names["v"].tolist() == found.names["v"][:, rows].tolist()
    assert some.names["pi"].tolist() == found.names["pi"].tolist()
    assert (some.shares.tolist(), some.figures.tolist()) == (found.shares.tolist(), found.figures.tolist())


def test_what_all_methods_share_of_the_ways_cannot_be_changed_by_one_of_them() -> None:
    found = ways("a*pi")
    for shared in (found.figures, found.names["pi"], found.names["g"]):
        with pytest.raises(ValueError, match="read-only"):
            shared[0, 0] = 3.0


# Own results that are carried on together.


def own(values: list[float], typed: list[float]) -> Own:
    """Own results: wrong ones, and what was typed of the right ones."""
    n, room = len(values), np.where(np.isnan(values), np.nan, 0.5)
    return Own(("u",), np.array(values), Before.unknown(n), room, room, np.array(typed), np.ones(n, np.bool_))


def test_many_results_go_on_together_where_any_of_them_is_wrong_the_right_ones_as_they_were_typed() -> None:
    nan = np.nan
    first, second = gathered(
        [own([7.0, nan, nan, 9.0], [1.0, 2.0, 3.0, 4.0]), own([nan, 8.0, nan, 6.0], [5.0, 2.5, 3.5, 4.5])]
    )
    assert first.values[[0, 1, 3]].tolist() == [7.0, 2.0, 9.0]
    assert second.values[[0, 1, 3]].tolist() == [5.0, 8.0, 6.0]
    assert np.isnan([first.values[2], second.values[2]]).all()
    assert (first.half.tolist(), second.written.tolist()) == ([0.5, 0.0, 0.0, 0.5], [0.0, 0.5, 0.0, 0.5])
