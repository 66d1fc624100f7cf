"""Which columns of a table are givens and answers, what is said where none is, and answers as a student types them."""

from decimal import Decimal

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.answers import answer_texts, column_texts
from witnessmark.marking.table_columns import TableColumns, columns_of_table, nothing_marked
from witnessmark.words.errors import UnknownName

HOLE = wm.load_bank(SMALL_BANK)["drain-hole"]
ANSWERS = "a.A_s, a, b.A_p, b, c"


def test_columns_are_told_apart_givens_as_they_stand_and_answers_as_the_sheet_asks_them() -> None:
    found = columns_of_table(HOLE, ["c", "seat", "t", "punch", "a", "tau", "material.shear_strength", "b.A_p"])
    assert found == TableColumns(
        ("t", "punch", "tau", "material.shear_strength"), ("a", "b.A_p", "c"), ("seat",)
    )  # fmt: skip


def said(*columns: str) -> str:
    with pytest.raises(UnknownName) as raised:
        columns_of_table(HOLE, columns)
    return str(raised.value)


def test_without_a_given_or_an_answer_what_there_is_and_what_it_may_be_meant_for_is_told() -> None:
    assert said("a", "tua") == (
        "no column is a given: expected some of tau, d, t, material.shear_strength, punch.compressive_strength, "
        "material, punch of drain-hole, found tua; tua: did you mean tau?"
    )
    assert said("d", "t") == f"no column is an answer: expected some of {ANSWERS} of drain-hole, found none"


@pytest.mark.parametrize(("givens", "missing"), [
    (("tau", "d"), "t, material, punch"), (("d", "t", "material"), "punch"), (("d", "punch"), "t, material"),
    (("d", "t", "punch.compressive_strength"), "material"), (("t", "material.shear_strength"), "d, punch"),
])  # fmt: skip
def test_where_nothing_can_be_marked_the_givens_that_are_drawn_and_have_no_column_are_told(
    givens: tuple[str, ...], missing: str
) -> None:
    """A row is told by its name or by any of its cells."""
    found = nothing_marked(HOLE, columns_of_table(HOLE, [*givens, "c"]))
    assert str(found) == f"{missing}: no column of this name, and without it c cannot be marked"


def test_a_strange_column_that_is_near_a_missing_one_is_told_beside_it() -> None:
    found = nothing_marked(HOLE, columns_of_table(HOLE, ["t", "material", "c", "punsh"]))
    assert str(found).startswith("d, punch: no column of this name")
    assert str(found).endswith("punsh: did you mean punch?")


def test_answers_are_texts_as_they_would_be_typed() -> None:
    typed = {"a": "94.2 kN", "a.A_s": None, "b": 300, "b.A_p": Decimal("314.2"), "c": True}
    assert answer_texts(HOLE, typed) == {"a": "94.2 kN", "a.A_s": "", "b": "300", "b.A_p": "314.2", "c": "yes"}
    assert answer_texts(HOLE, {"c": np.False_, "a": float("nan")}) == {"c": "no", "a": ""}
    assert column_texts("c", ["no", True, None], judged=True) == ["no", "yes", ""]


@pytest.mark.parametrize(("key", "value"), [("a", True), ("b", np.True_), ("c", ["yes"]), ("c", b"yes"), ("a", {})])
def test_what_is_no_answer_is_refused_by_the_key(key: str, value: object) -> None:
    with pytest.raises(TypeError, match=rf"^{key}: expected text such as '94.2 kN', a number"):
        answer_texts(HOLE, {key: value})


def test_a_key_that_is_no_part_is_told_with_the_nearest() -> None:
    with pytest.raises(UnknownName) as raised:
        answer_texts(HOLE, {"a": "94.2 kN", "a.As": "314 mm²"})
    assert str(raised.value) == f"a.As: the parts of drain-hole are {ANSWERS}; did you mean a.A_s?"
