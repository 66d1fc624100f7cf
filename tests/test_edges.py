"""The public doors refuse what they cannot use, and say what they take; what they give is short to read and typed."""

import contextlib
import io
import math
import pydoc
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

import numpy as np
import pandas as pd
import pint
import pytest

import witnessmark as wm
from bank_fixture import BANK

DRAIN_HOLE = BANK["drain-hole"]
HOLE = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm", punch="oil-hardened tool steel")


def refusal(act: Callable[[], object], error: type[Exception]) -> str:
    """What the refusal says, as a person reads it."""
    with pytest.raises(error) as raised:
        act()
    return str(raised.value)


# A variant from stated givens.


@pytest.mark.parametrize(
    "mass", ["300 kg", pint.UnitRegistry().Quantity(300, "kilogram")], ids=["as text", "as a quantity from elsewhere"]
)
def test_a_given_of_another_dimension_names_the_given_what_was_found_and_what_was_expected(mass: Any) -> None:
    said = refusal(lambda: DRAIN_HOLE.variant(tau=mass), wm.WitnessMarkError)
    assert said.startswith("tau: expected stress or pressure (Pa), found mass (kg), ")
    assert "300 k" in said


def test_a_length_taken_from_another_variant_is_no_stress() -> None:
    said = refusal(lambda: DRAIN_HOLE.variant(tau=HOLE.given["d"]), wm.WitnessMarkError)
    assert said == "tau: expected stress or pressure (Pa), found length (m), 20.0 mm"


@pytest.mark.parametrize(
    ("stated", "error", "words"),
    [
        ("three hundred", wm.WitnessMarkError, "tau: 'three hundred' is not a number and a unit"),
        ("300 blobs", wm.WitnessMarkError, "tau: 'blobs' is not a unit"),
        (pint.UnitRegistry().Quantity(1, "parsec"), wm.WitnessMarkError, "tau: 'parsec' is not a unit"),
        (True, TypeError, "tau: expected text such as '20 mm', a number"),
        (None, TypeError, "tau: expected text such as '20 mm', a number"),
        ([300], TypeError, "tau: expected text such as '20 mm', a number"),
        (math.nan, ValueError, "tau: expected a finite number, found NaN"),
        ("inf MPa", ValueError, "tau: expected a finite number, found Infinity"),
    ],
)
def test_what_is_no_value_of_a_given_is_refused_by_the_name_of_the_given(
    stated: object, error: type[Exception], words: str
) -> None:
    assert refusal(lambda: DRAIN_HOLE.variant(tau=stated), error).startswith(words)


@pytest.mark.parametrize("stated", [20, 20.0, Decimal(20), np.int64(20), np.float32(20), "20", "2 cm", "20 mm"])
def test_a_given_may_be_a_number_of_any_kind(stated: object) -> None:
    assert DRAIN_HOLE.variant(d=stated, t=5).expected_si["a.A_s"] == pytest.approx(math.pi * 0.02 * 0.005)


def test_an_unknown_given_is_told_with_the_nearest_name() -> None:
    said = refusal(lambda: DRAIN_HOLE.variant(tua="300 MPa"), KeyError)
    assert said.startswith("tua: the givens of drain-hole are ")
    assert said.endswith("did you mean tau?")


def test_an_unknown_row_is_told_with_the_rows_there_are_and_the_nearest() -> None:
    said = refusal(lambda: DRAIN_HOLE.variant(punch="oil hardened tool steel"), KeyError)
    assert "no row of tool-steels" in said
    assert "high-speed steel" in said
    assert said.endswith("did you mean oil-hardened tool steel?")


def test_an_unknown_question_is_told_with_the_nearest_keys_and_a_bank_stays_a_mapping() -> None:
    assert "the nearest drain-hole" in refusal(lambda: BANK["drain-hol"], KeyError)
    assert BANK.get("drain-hol") is None
    assert "drain-hol" not in BANK


def test_an_unknown_part_is_told_with_the_parts() -> None:
    assert refusal(lambda: DRAIN_HOLE.part("k"), KeyError) == "k: the parts of drain-hole are a, b, c"


# Answers.


@pytest.mark.parametrize("number", [94.2, Decimal("94.2"), np.float64(94.2), np.float32(94.2)])
def test_a_number_is_marked_as_typed_without_a_unit(number: object) -> None:
    out = wm.mark(HOLE, {"a": number})["a"]
    assert (out.verdict, out.raw) == ("unit", "94.2")
    assert out == wm.mark(HOLE, {"a": "94.2"})["a"]


@pytest.mark.parametrize("whole", [94, np.int64(94)])
def test_a_whole_number_is_marked_as_typed(whole: object) -> None:
    assert wm.mark(HOLE, {"a": whole})["a"].raw == "94"


@pytest.mark.parametrize("nothing", [None, math.nan, Decimal("NaN"), np.float64("nan")])
def test_nothing_is_a_blank(nothing: object) -> None:
    assert wm.mark(HOLE, {"a": nothing})["a"].verdict == "blank"


@pytest.mark.parametrize(("told", "verdict"), [(True, "right"), (np.True_, "right"), (False, "slip")])
def test_true_and_false_answer_a_judgement(told: object, verdict: str) -> None:
    out = wm.mark(HOLE, {"a": "94.2 kN", "b": "300 MPa", "c": told})["c"]
    assert out == wm.mark(HOLE, {"a": "94.2 kN", "b": "300 MPa", "c": "yes" if told else "no"})["c"]
    assert (out.verdict == "right") is (verdict == "right")


@pytest.mark.parametrize("answers", [{"a": True}, {"a": ["94.2 kN"]}, {"c": b"yes"}, {"a": HOLE.given["d"]}])
def test_what_is_no_answer_is_refused_with_what_is_taken(answers: Mapping[str, object]) -> None:
    (key,) = answers
    said = refusal(lambda: wm.mark(HOLE, answers), TypeError)
    assert said.startswith(f"{key}: expected text such as '94.2 kN', a number, None where nothing was entered")


def test_an_unknown_answer_is_told_with_the_nearest_part() -> None:
    said = refusal(lambda: wm.mark(HOLE, {"a.As": "314 mm^2"}), KeyError)
    assert said == "a.As: the parts of drain-hole are a.A_s, a, b.A_p, b, c; did you mean a.A_s?"


# Tables.


def table(**columns: object) -> pd.DataFrame:
    return pd.DataFrame({"tau": [300.0, 300.0], "d": [20.0, 20.0], "t": [5.0, 5.0], **columns})


def test_a_table_takes_numbers_missing_cells_and_truth_values_as_one_answer_does() -> None:
    strength = {"punch.compressive_strength": [1150.0, 1150.0]}
    out = wm.mark_table(DRAIN_HOLE, table(a=[94.2, None], c=[True, False], **strength))
    assert list(out["a.verdict"]) == ["unit", "blank"]
    assert [verdict == "right" for verdict in out["c.verdict"]] == [True, False]
    assert out["a"].iloc[0] == 94.2  # what came in stays as it was


def test_a_table_without_givens_names_what_it_expects_and_what_a_column_may_be_meant_for() -> None:
    said = refusal(lambda: wm.mark_table(DRAIN_HOLE, pd.DataFrame({"tua": [300.0], "a": ["94.2 kN"]})), KeyError)
    assert "expected some of " in said
    assert "of drain-hole" in said
    assert "tua: did you mean tau?" in said


def test_a_table_without_answers_names_the_answers_there_are() -> None:
    said = refusal(lambda: wm.mark_table(DRAIN_HOLE, table(A=["94.2 kN", ""])), KeyError)
    assert (
        said
        == "no column is an answer: expected some of a.A_s, a, b.A_p, b, c of drain-hole, found A; A: did you mean a?"
    )


def test_a_table_in_which_no_answer_can_be_marked_names_the_columns_it_lacks() -> None:
    frame = pd.DataFrame({"tau": [300.0], "d": [20.0], "thick": [5.0], "a": ["94.2 kN"]})
    said = refusal(lambda: wm.mark_table(DRAIN_HOLE, frame), KeyError)
    assert said.startswith("t, ")
    assert "without it a cannot be marked" in said


@pytest.mark.parametrize("cell", ["20 mm", None, math.inf])
def test_a_cell_that_is_no_number_where_a_given_stands_is_told_with_its_column(cell: str | float | None) -> None:
    frame = table(a=["94.2 kN", ""]).assign(d=pd.Series([20.0, cell], dtype=object))
    said = refusal(lambda: wm.mark_table(DRAIN_HOLE, frame), TypeError)
    assert said.startswith("column d: expected a number in mm in every row, found ")


def test_a_row_that_its_table_lacks_is_told_with_the_nearest() -> None:
    frame = table(a=["94.2 kN", ""], punch=["high-speed steel", "high speed steel"])
    said = refusal(lambda: wm.mark_table(DRAIN_HOLE, frame), KeyError)
    assert "no row of tool-steels, in column punch" in said
    assert "did you mean high-speed steel?" in said


def test_what_is_no_table_is_refused() -> None:
    assert refusal(lambda: wm.mark_table(DRAIN_HOLE, {"a": ["1"]}), TypeError) == (  # type: ignore[call-overload]
        "expected a table (pandas.DataFrame), found dict"
    )


# What is given out is short to read, and known by its types.


@pytest.mark.parametrize("value", [HOLE, BANK, DRAIN_HOLE], ids=["variant", "bank", "question"])
def test_a_variant_a_bank_and_a_question_are_shown_in_one_short_line(value: object) -> None:
    assert "\n" not in repr(value)
    assert len(repr(value)) < 120


def test_the_line_of_a_variant_holds_its_numbers() -> None:
    shown = repr(DRAIN_HOLE.variant(tau="300 MPa", d="20 mm"))
    assert shown == "<Variant of drain-hole: tau 300 MPa, d 20 mm>"


def test_dir_shows_the_public_names_and_no_others() -> None:
    assert [name for name in dir(wm) if not name.startswith("_")] == sorted(wm.__all__)
    assert len(wm.__all__) == 12


def test_help_tells_of_every_public_name() -> None:
    told = io.StringIO()
    with contextlib.redirect_stdout(told):
        pydoc.Helper(output=told).help(wm)
    assert [name for name in wm.__all__ if name not in told.getvalue()] == []
    assert "The outcomes of one student's answers" in told.getvalue()


def test_a_misspelt_attribute_of_a_draw_or_a_variant_is_seen_by_the_type_checker_too() -> None:
    # Without these errors mypy, which is strict with the tests, reports each `type: ignore` as not needed.
    drawn, stated = DRAIN_HOLE.draw("any seed text"), wm.load_bank(BANK.figures_path.parent)["oar"].variant()
    with pytest.raises(AttributeError):
        _ = drawn.expcted  # type: ignore[attr-defined]
    with pytest.raises(AttributeError):
        _ = stated.acepts  # type: ignore[attr-defined]
    with pytest.raises(AttributeError):
        _ = wm.mark(HOLE, {"a": ""})["a"].vedict  # type: ignore[attr-defined]
