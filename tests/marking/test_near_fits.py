"""Which formulas of many the class-wide search looks at: those that enough answers fit, in full or nearly."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.marking.search.near_fits import COLUMNS, MOST_LOOKED_AT, ROUGH_ROOM, NearFits
from witnessmark.marking.search.shared_odds import COST_OF_RIGHT_SIZE, LEAST_ODDS
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.variations import Variations

Floats = npt.NDArray[np.float64]
SIZE = 8
ROOM = 0.002


def answers(size: int = SIZE, still: Floats | None = None) -> Unexplained:
    """Numbers of four figures, none near another's digits."""
    ones = np.ones(size)
    si = np.round(1.03 * 1.043 ** np.arange(size), 3)
    return Unexplained(si, 4 * ones, ones, {}, tuple(f"S{n}" for n in range(size)), {}, still)


def looked_at(
    values: Floats, costs: float | Floats = 1.0, gains: float | Floats = 1e4, of: Unexplained | None = None,
    room: float = ROOM,
) -> list[int]:  # fmt: skip
    """The formulas, given what each works out for each answer, shape (formulas, answers)."""
    of = of or answers(values.shape[1])
    begun = [0]

    def worked(_: object, size: int) -> Floats:
        start = begun[0]
        begun[0] += size
        return values[:, start : start + size]

    varied = SimpleNamespace(count=len(values), costs=np.broadcast_to(costs, len(values)), values=worked)
    near, everyone = NearFits(cast(Variations, cast(Any, varied)), of, {}, room), np.arange(len(of.si))
    return near.likely_rows(everyone, np.broadcast_to(gains, len(of.si)), of.still())


def apart(share: float) -> Floats:
    """Values that lie so many times the width of the last digit from what was written."""
    of = answers()
    return of.si * 10 ** (share * of.chance())


def test_what_all_fit_is_looked_at_whatever_the_power_of_ten_and_the_cheapest_first() -> None:
    si = answers().si
    assert looked_at(np.stack([si, si * 1e5, -si / 1e3]), np.array([2.0, 1.0, 3.0])) == [1, 0, 2]


def test_an_answer_fits_within_half_its_last_digit_and_nearly_within_the_room_of_habits() -> None:
    si = answers().si
    assert looked_at(np.stack([apart(0.49), apart(0.53), apart(0.5)]), room=0.0) == [0, 2]  # the very end fits
    nearly, roughly, beyond = (si * 10**off for off in (0.9 * ROOM, 0.9 * ROUGH_ROOM, ROUGH_ROOM + 0.001))
    assert looked_at(np.stack([roughly, nearly, beyond, si])) == [3, 1, 0]
    assert looked_at(np.stack([nearly, nearly]), room=0.0) == []


def test_a_digit_that_was_cut_off_lies_nearly_there() -> None:
    """Half a width beyond the room of habits is where a last digit was left that should have been rounded up."""
    si, chance = answers().si, answers().chance()
    (found,) = looked_at(si[None] * 10 ** (ROUGH_ROOM + 0.9 * chance))
    assert found == 0
    assert looked_at(si[None] * 10 ** (ROUGH_ROOM + 1.1 * chance)) == []


def test_what_two_fit_is_not_looked_at_and_what_three_fit_is() -> None:
    two, three = (np.where(np.arange(SIZE) < count, answers().si, 7.77) for count in (2, 3))
    assert looked_at(np.stack([two, three])) == [1]


def test_an_answer_that_is_likelier_from_nothing_counts_for_no_formula() -> None:
    gains = np.where(np.arange(SIZE) < 3, 1e4, 1.0)
    assert looked_at(answers().si[None], gains=gains) == [0]
    assert looked_at(answers().si[None], gains=np.where(np.arange(SIZE) < 2, 1e4, 1.0)) == []


def test_an_answer_that_is_as_likely_from_nothing_stands_beside_those_who_share_a_formula() -> None:
    """Three of eight cost ln(9 * 56) = 6.2 to choose, three of three ln(4) = 1.4; three fits of e^3 are worth 9."""
    gains = np.where(np.arange(SIZE) < 3, np.exp(3.0), 1.0)
    assert looked_at(answers().si[None], gains=gains) == []
    assert looked_at(answers(3).si[None], gains=gains[:3]) == [0]


def test_an_answer_that_is_a_little_likelier_from_a_formula_counts_among_those_who_share_it_by_that_little() -> None:
    """By hand: three fits of e^5, e^5 and 1.5 are worth 10.41; that all share it costs ln(4) = 1.39, its size 0.2."""
    gains = np.array([np.exp(5.0), np.exp(5.0), 1.5])
    left = 10 + np.log(1.5) - np.log(4) - COST_OF_RIGHT_SIZE - LEAST_ODDS
    assert looked_at(answers(3).si[None], left - 0.1, gains) == [0]
    assert looked_at(answers(3).si[None], left + 0.1, gains) == []


def test_a_formula_that_costs_more_than_its_odds_is_not_looked_at() -> None:
    si = np.stack([answers().si] * 2)
    odds = SIZE * np.log(1e4)
    assert looked_at(si, np.array([odds - 10, odds - 3])) == [0]


def test_those_who_do_not_fit_cost_less_where_they_are_explained_otherwise() -> None:
    """Three of 51: to say which three costs the logarithm of 52 times 20,825, 13.9 in all; of three, that of 4, 1.4."""
    size = 51
    fitting = np.where(np.arange(size) < 3, answers(size).si, 7.77)[None]
    gains, cost = float(np.exp(5.0)), 5.0
    assert looked_at(fitting, cost, gains) == []
    explained = answers(size, np.where(np.arange(size) < 3, 1.0, 1e-12))
    assert looked_at(fitting, cost, gains, explained) == [0]


def test_answers_are_counted_over_all_blocks_in_which_they_are_worked() -> None:
    size = 2 * COLUMNS + 5
    at = np.arange(size)
    fitting = np.where((at >= COLUMNS - 2) & (at < COLUMNS + 3), answers(size).si, 7.77)
    last = np.where(at >= size - 3, answers(size).si, 7.77)
    assert sorted(looked_at(np.stack([fitting, last]), gains=1e8)) == [0, 1]


@pytest.mark.parametrize("count", [1, 7, 8, 9, 16])
def test_every_formula_is_looked_at_however_many_there_are(count: int) -> None:
    """Eight are kept in one byte."""
    assert looked_at(np.stack([answers().si] * count)) == list(range(count))


@pytest.mark.parametrize("more", [1, 30])
def test_so_many_are_looked_at_and_no_more(more: int) -> None:
    count = MOST_LOOKED_AT + more
    assert looked_at(np.stack([answers().si] * count), np.linspace(0, 1, count)) == list(range(MOST_LOOKED_AT))


def of_names(full: dict[str, Any], of: Unexplained, blocks: list[int]) -> list[int]:
    """The formulas d*t*u and d, given the numbers of each answer; how many were worked at once goes into `blocks`."""

    def worked(columns: dict[str, Floats], size: int) -> Floats:
        blocks.append(size)
        assert {name: column.shape for name, column in columns.items()} == dict.fromkeys("dtu", (size,))
        return np.stack([columns["d"] * columns["t"] * columns["u"], columns["d"]])

    varied = SimpleNamespace(count=2, costs=np.zeros(2), values=worked)
    near = NearFits(cast(Variations, cast(Any, varied)), of, full, ROOM)
    return near.likely_rows(np.arange(len(of.si)), np.full(len(of.si), 1e4), of.still())


def test_answers_to_the_same_numbers_are_worked_once_and_each_is_compared_with_its_own() -> None:
    """Two lengths and two widths, of which four sheets can be made; nine answers, in no order."""
    d, t = np.array([7.3, 7.3, 2.1, 2.1, 7.3, 2.1, 2.1, 7.3, 7.3]), np.array([5.0, 3, 5, 3, 5, 5, 3, 3, 5])
    blocks: list[int] = []
    assert of_names({"d": d, "t": t, "u": np.float64(1.3)}, replace(answers(9), si=d * t * 1.3), blocks) == [0]
    assert blocks == [4]


def test_answers_to_many_different_numbers_are_worked_in_blocks() -> None:
    size = COLUMNS + 6
    d = np.linspace(9.0, 2.0, size)
    blocks: list[int] = []
    assert of_names({"d": d, "t": d**2, "u": d}, replace(answers(size), si=d**4), blocks) == [0]
    assert blocks == [COLUMNS, 6]
