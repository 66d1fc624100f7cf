"""Rows of columns are numbered the same where all columns are, and each number is found where it stands first."""

import numpy as np
import pytest

from witnessmark.maths import same_rows
from witnessmark.maths.same_rows import closed_up, firsts_of, numbered

NUMBERS, WHICH, WHETHER = np.array([0.5, -0.5, 0.5, 0.5]), np.array([3, 3, 3, 7]), np.array([True, True, False, True])


def test_rows_are_the_same_where_every_column_is() -> None:
    assert numbered([NUMBERS]).tolist() == [1, 0, 1, 1]
    assert numbered([NUMBERS, WHICH]).tolist() == [1, 0, 1, 2]
    assert sorted(numbered([NUMBERS, WHICH, WHETHER]).tolist()) == [0, 1, 2, 3]
    assert numbered([np.zeros(3), np.zeros(3, np.intp), np.zeros(3, np.bool_)]).tolist() == [0, 0, 0]


def test_the_numbers_have_no_gaps_and_of_no_columns_there_are_none() -> None:
    assert numbered([np.array([7, 2, 7])]).tolist() == [1, 0, 1]
    assert numbered([]).tolist() == []


def test_numbers_are_closed_up_in_their_order() -> None:
    assert closed_up(np.array([5, 2, 5, 0]), 6).tolist() == [2, 1, 2, 0]
    assert closed_up(np.array([2, 0, 1]), 3).tolist() == [2, 0, 1]
    assert closed_up(np.empty(0, np.intp), 1).tolist() == []


@pytest.mark.parametrize("most", [1, 2, 20, 2**62])
def test_more_than_a_number_can_count_is_counted_anew(monkeypatch: pytest.MonkeyPatch, most: int) -> None:
    monkeypatch.setattr(same_rows, "MOST_CODES", most)
    columns = [np.array([0, 1, 0, 1, 5]), np.array([0, 0, 4, 4, 4]), np.array([2, 2, 2, 2, 0])]
    assert numbered([*columns, *columns]).tolist() == [0, 2, 1, 3, 4]


def test_rows_of_many_wide_columns_are_told_apart_by_each_of_them() -> None:
    """Twenty-four columns of 256 numbers make 2^192 rows; a number of 64 bits would lose what stands 2^64 before."""
    rows = np.zeros((25, 24), np.intp)
    rows[np.arange(24), np.arange(24)] = 1
    assert sorted(numbered([*rows.T, np.full(25, 255)]).tolist()) == list(range(25))
    many = np.arange(600)
    alike = [np.full(600, 255)] * 22
    assert len(set(numbered([many % 256, many // 256 + 254, *alike]).tolist())) == 600


def test_each_number_stands_first_where_it_stands_first() -> None:
    assert firsts_of(np.array([1, 0, 1, 2, 0])).tolist() == [1, 0, 3]
