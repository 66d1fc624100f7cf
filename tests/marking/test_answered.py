"""The columns that are marked together: some of their rows alone, and what each student writes a comma for."""

import numpy as np
import pytest

from witnessmark.marking.answered import Answered, Rows
from witnessmark.reading.number.comma_habits import CommaHabit

DECIMAL, THOUSANDS = CommaHabit.DECIMAL, CommaHabit.THOUSANDS
ALL = Answered(
    {"d": np.array([1.0, 2.0, 3.0, 4.0])}, {"a": ["p", "q", "r", "s"]}, 4, [None, None, None, None],
    [DECIMAL, None, THOUSANDS, None],
)  # fmt: skip


@pytest.mark.parametrize(("rows", "given", "texts", "commas"), [
    (range(1, 3), [2.0, 3.0], ["q", "r"], [None, THOUSANDS]),
    (np.array([3, 0]), [4.0, 1.0], ["s", "p"], [None, DECIMAL]),
])  # fmt: skip
def test_some_students_are_picked_with_all_that_is_theirs(
    rows: range | Rows, given: list[float], texts: list[str], commas: list[CommaHabit | None]
) -> None:
    some = ALL.only(rows)
    assert (some.givens["d"].tolist(), list(some.entries["a"]), some.size) == (given, texts, 2)
    assert some.variants is not None
    assert some.commas is not None
    assert (list(some.variants), list(some.commas)) == ([None, None], commas)


@pytest.mark.parametrize("rows", [range(1, 3), np.array([3, 0])])
def test_what_is_not_known_of_all_is_not_known_of_some(rows: range | Rows) -> None:
    some = Answered(ALL.givens, ALL.entries, 4).only(rows)
    assert (some.variants, some.commas) == (None, None)


def test_a_comma_is_what_the_other_entries_of_the_same_student_tell_and_asked_of_doubtful_rows_alone() -> None:
    """`1,295` may be either; `0,5` is a decimal comma; the third student has nothing in doubt."""
    entries = {"a": ["1,295", "1,295", "12"], "b": ["0,5", "7", "0,5"]}
    assert Answered({}, entries, 3).habits() == {0: DECIMAL, 1: None}


def test_a_comma_is_what_more_than_these_entries_told_where_that_is_known() -> None:
    entries = {"a": ["12", "1,295", "1,295"], "b": ["7", "0,5", ""]}
    assert Answered({}, entries, 3, None, [DECIMAL, THOUSANDS, None]).habits() == {1: THOUSANDS, 2: None}
