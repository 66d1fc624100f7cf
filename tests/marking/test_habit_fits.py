"""How likely a formula gives the digits of an answer, by habits of working whose numbers are written down here."""

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.marking.search.habit_fits import HabitFits
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.weighing.habits import Habits
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import parse
from witnessmark.questions.working.methods import Method, Step
from witnessmark.questions.working.working import AskedNumber

Floats = npt.NDArray[np.float64]
ROOM = 0.001
X = Method((), AskedNumber("a", parse("x"), "1", 3))


def answers(written: list[float], scale: float = 1.0) -> Unexplained:
    """Numbers of three figures in a unit of this scale."""
    ones = np.ones(len(written))
    return Unexplained(np.array(written) * scale, 3 * ones, scale * ones, {}, ("S",) * len(written))


def fits(given: Unexplained, value: list[list[float]], shares: list[float], room: float = ROOM) -> HabitFits:
    """What habits with these shares work out, x being so much by each of them (rows) for each answer."""
    ways = Habits(np.array(shares), np.full((len(shares), 1), 17.0), {"x": np.array(value)})
    return HabitFits(given, ways, {}, room)


def digits(
    value: list[list[float]], written: list[float], shares: list[float], room: float = ROOM, scale: float = 1.0
) -> list[list[float]]:
    """How likely each answer is by these habits, and the power of ten between."""
    _, like, powers = fits(answers(written, scale), value, shares, room).look(0, X)
    return [like.tolist(), powers.tolist()]


def test_digits_are_as_likely_as_the_habits_that_give_them_and_a_little_where_they_lie_near() -> None:
    """94.2 is what 94.24 rounds to, and 94.26 does not; room and last digit reach to 10^0.00146 = 1.0034 times it. By a
    habit that is not listed 15 in 100 come, spread evenly over that (our assumption; common practice, no source)."""
    chance = 0.1 / 94.2 / math.log(10)
    near = 0.15 * chance / (2 * ROOM + 2 * chance)
    like, power = digits([[94.24, 94.26, 94.2 * 1.0033, 94.2 * 1.0035], [94.26] * 4], [94.2] * 4, [0.75, 0.25])
    assert like == pytest.approx([0.75, near, near, 0.0])
    assert power == [0, 0, 0, 0]
    like, _ = digits([[94.2 / 1.0033, 94.2 / 1.0035]], [94.2] * 2, [1.0])
    assert like == pytest.approx([near, 0.0])
    assert digits([[94.26], [94.24]], [94.2], [0.75, 0.25])[0] == pytest.approx([0.25])
    assert digits([[94.24], [94.22], [94.26]], [94.2], [0.5, 0.3, 0.2])[0] == pytest.approx([0.8])


def test_without_any_room_a_last_digit_that_was_cut_off_lies_near_still() -> None:
    """94.29 cut off is 94.2; by hand 0.15 over the width of two last digits."""
    assert digits([[94.29, 94.31]], [94.2] * 2, [1.0], room=0.0)[0] == pytest.approx([0.15 / 2, 0.0], rel=1e-9)


def test_a_rare_habit_that_gives_the_digits_counts_no_less_than_one_that_is_not_listed() -> None:
    chance = 0.1 / 94.2 / math.log(10)
    near = 0.15 * chance / (2 * ROOM + 2 * chance)
    assert digits([[94.26], [94.24]], [94.2], [0.999, 0.001])[0] == pytest.approx([near])


def test_digits_are_compared_whatever_the_power_of_ten_which_is_that_of_the_habit_that_gives_them() -> None:
    assert digits([[94.24], [94.26]], [94_200.0], [0.5, 0.5]) == [[0.5], [3]]
    like, power = digits([[94.26]], [0.0942], [1.0])
    assert (0 < like[0] < 0.1, power) == (True, [-3])
    assert digits([[94.26], [9.424]], [94.2], [0.5, 0.5]) == [[0.5], [1]]
    assert digits([[94.24], [9.424]], [94.2], [0.5, 0.5]) == [[1.0], [0]]  # of two habits the first


def test_a_sign_is_no_part_of_the_digits() -> None:
    assert digits([[-94.24, 94.24, -94.24]], [94.2, -94.2, -94.2], [1.0]) == [[1.0] * 3, [0, 0, 0]]


def test_digits_are_those_of_the_number_in_the_unit_that_is_asked() -> None:
    """5654.7 s are 94.245 min, which is 94.2; 5656.2 s are 94.27 min, which is not, and 5652 s are 94.2 min."""
    like, power = digits([[5654.7, 5656.2]], [94.2] * 2, [1.0], scale=60.0)
    assert like[0] == 1
    assert 0 < like[1] < 0.1
    assert power == [0, 0]


def test_a_formula_that_no_habit_matters_to_is_worked_once_for_all_of_them() -> None:
    """Its name has one row, and the shares of the habits add up to all."""
    given = answers([94.2, 3.5])
    ways = Habits(np.array([0.6, 0.4]), np.array([[2.0], [3.0]]), {"x": np.array([[94.2, 3.6]])})
    logs, like, _ = HabitFits(given, ways, {}, ROOM).look(0, X)
    assert like.tolist() == pytest.approx([1.0, 0.0])
    assert logs.tolist() == pytest.approx(np.log10([94.2, 3.6]).tolist())


def test_a_formula_without_a_name_gives_one_number_for_all_answers() -> None:
    logs, like, _ = fits(answers([94.2, 3.5]), [[1.0, 1.0]], [1.0]).look(
        0, replace(X, final=replace(X.final, tree=parse("94.2")))
    )
    assert like.tolist() == [1.0, 0.0]
    assert logs.shape == (2,)


def test_lines_are_rounded_by_the_figures_of_each_habit_and_the_first_works_in_full() -> None:
    """L = x/3 with x = 2 and 3 L: 2 in full, 2.01 from 0.67."""
    line = Step("L", AskedNumber("a.L", parse("x/3"), "1", 3))
    method = Method((line,), AskedNumber("a", parse("3*L"), "1", 3))
    ways = Habits(np.array([0.7, 0.3]), np.array([[17.0], [2.0]]), {"x": np.array([[2.0, 2.0], [2.0, 2.0]])})
    logs, like, _ = HabitFits(answers([2.0, 2.01]), ways, {}, 0.0).look(0, method)
    assert like.tolist() == pytest.approx([0.7, 0.3])
    assert logs.tolist() == pytest.approx([math.log10(2)] * 2)


def test_a_formula_of_bare_millimetres_is_worked_in_them() -> None:
    """0.5 m are 500 mm, whose square is 250,000 as a bare number."""
    ways = Habits(np.array([1.0]), np.array([[17.0]]), {"x": np.array([[0.5]])})
    method = Method((), AskedNumber("a", parse("x**2"), "N", 3), bare=True, millimetres=True)
    logs, _, powers = HabitFits(answers([250.0]), ways, {"x": unit("m").dimension}, ROOM).look(0, method)
    assert (logs.tolist(), powers.tolist()) == ([pytest.approx(math.log10(250_000))], [-3])


def test_what_was_looked_at_is_known_with_its_method_and_nothing_else_is() -> None:
    looked = fits(answers([94.2]), [[94.24]], [1.0])
    assert looked.known(7) is None
    found = looked.look(7, X)
    assert looked.known(7) == (X, found)
    assert looked.known(8) is None
