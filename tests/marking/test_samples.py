"""Tables of formulas on a sample: which are the same, which are kept, and how long each is, against sums by hand."""

import math

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.marking.search.samples import (
    MOST_ROWS,
    Table,
    cheapest,
    crossed,
    description_lengths,
    empty,
    joined,
    same_values,
    with_one_more,
)
from witnessmark.marking.search.tables import NO_CHANGE, POWERS_OF_DIMENSION

Ints = npt.NDArray[np.intp]
LENGTH = np.eye(POWERS_OF_DIMENSION)[0]


def ints(*rows: tuple[int, ...]) -> Ints:
    return np.array(rows, np.intp)


def table(weights: list[float], changes: Ints | None = None, of_length: list[bool] | None = None) -> Table:
    """Formulas of these weights (as they are, not logarithms), with one change each unless told."""
    count = len(weights)
    told = ints(*[(n, NO_CHANGE) for n in range(count)]) if changes is None else changes
    dimensions = np.stack([LENGTH if fits else 2 * LENGTH for fits in of_length or [True] * count])
    return Table(np.zeros((count, 2)), told, np.log(weights), dimensions)


def test_rows_are_the_same_where_all_their_values_are_with_their_sign_to_nine_digits() -> None:
    keys = same_values(np.array([
        [1.5, 2.5, 7.0], [1.5 * (1 + 1e-13), 2.5, 7.0], [-1.5, 2.5, 7.0], [1.5, 2.5, 7.00001], [2.5, 1.5, 7.0],
        [0.5, 2.5, 7.0], [-0.5, 2.5, 7.0],
    ]))  # fmt: skip
    assert keys[0] == keys[1]
    assert len(set(keys.tolist())) == 6


@pytest.mark.parametrize("one", [math.nan, math.inf, 0.0])
def test_a_row_with_one_value_that_is_no_number_has_no_key(one: float) -> None:
    assert same_values(np.array([[1.0, one, 2.0], [one, one, one]])).tolist() == [0, 0]


def test_many_different_rows_have_different_keys() -> None:
    rows = np.random.default_rng(5).lognormal(0, 3, (1_000_000, 2))
    assert len(np.unique(same_values(rows))) == len(rows)


def test_of_rows_with_one_key_the_likeliest_is_kept_and_none_without_a_key() -> None:
    keys = ints((7, 7, 0, 9))[0]
    assert cheapest(table([0.1, 0.4, 0.9, 0.2]), keys).tolist() == [1, 3]
    assert cheapest(table([0.4, 0.1, 0.9, 0.2]), keys).tolist() == [0, 3]
    assert cheapest(table([0.4, 0.4, 0.9, 0.2]), keys).tolist() == [0, 3]  # of equals the first
    usable = np.array([False, True, True, False])
    assert cheapest(table([0.4, 0.1, 0.9, 0.2]), keys, usable).tolist() == [1, 2]


def test_only_so_many_of_the_likeliest_are_kept() -> None:
    weights = np.linspace(1, 2, MOST_ROWS + 3)
    kept = cheapest(table(weights.tolist()), np.arange(1, len(weights) + 1))
    assert kept.tolist() == list(range(3, MOST_ROWS + 3))


def test_changes_are_crossed_each_with_each_the_smaller_first_and_none_behind() -> None:
    none = (NO_CHANGE, NO_CHANGE)
    found = crossed(ints((4, NO_CHANGE), none), ints((2, NO_CHANGE), none))
    assert found.tolist() == [[2, 4], [4, NO_CHANGE], [2, NO_CHANGE], list(none)]


def test_one_more_change_comes_behind_those_that_are_there() -> None:
    before = ints((3, NO_CHANGE), (NO_CHANGE, NO_CHANGE))
    assert with_one_more(before, 9).tolist() == [[3, 9], [9, NO_CHANGE]]
    assert before.tolist() == [[3, NO_CHANGE], [NO_CHANGE, NO_CHANGE]]


def test_a_description_is_as_long_as_the_share_of_its_weight_among_those_with_as_many_changes() -> None:
    """Six shares of ten are of workings with one change, three of those with two (our assumption; common practice, no
    source)."""
    changes = ints((0, NO_CHANGE), (1, NO_CHANGE), (0, 1), (0, 2))
    lengths = description_lengths(table([1.0, 3.0, 0.5, 0.5], changes), LENGTH)
    assert lengths == pytest.approx([-math.log(share) for share in (0.6 * 1 / 4, 0.6 * 3 / 4, 0.3 / 2, 0.3 / 2)])


def test_a_formula_of_another_dimension_is_told_with_a_fifth_of_the_share() -> None:
    """A fifth is our assumption (common practice, no source)."""
    lengths = description_lengths(table([1.0, 1.0], of_length=[True, False]), LENGTH)
    assert lengths == pytest.approx([-math.log(0.6 / 1.2), -math.log(0.6 * 0.2 / 1.2)])


def test_where_no_formula_has_two_changes_those_with_one_have_their_share_all_the_same() -> None:
    (alone,) = description_lengths(table([0.3]), LENGTH)
    assert alone == pytest.approx(-math.log(0.6))


def test_a_table_without_a_formula_is_joined_with_others_and_changes_nothing() -> None:
    some = table([1.0, 2.0])
    both = joined([empty(2), some])
    for name in ("values", "changes", "weights", "dimensions"):
        assert getattr(both, name).tolist() == getattr(some, name).tolist()
    assert len(empty(2).values) == len(empty(2).dimensions) == 0
