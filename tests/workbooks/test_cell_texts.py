"""What a cell holds, turned back into what was typed; where that is not certain, it is spoiled and says why."""

from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.files.workbooks.cell_texts import (
    AS_LOGICAL,
    AS_NUMBER,
    Cell,
    cell_of,
    error_cell,
    formula_cell,
    number_text,
)

CASES = Path(__file__).parents[1] / "cases" / "workbooks"
NUMBERS = [line.split() for line in (CASES / "numbers.txt").read_text().split("\n")[3:] if line]


@pytest.mark.parametrize(("stored", "text"), NUMBERS)
def test_a_number_has_its_shortest_text(stored: str, text: str) -> None:
    assert number_text(float(stored)) == text
    assert cell_of(float(stored)) == Cell(text, AS_NUMBER)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_the_text_of_a_number_reads_back_to_the_same_number(value: float) -> None:
    assert float(number_text(value)) == value


def test_text_is_left_as_it_was_typed() -> None:
    for text in ("94,2", " 1/2 ", "=70/2", "1 1/2", "12:30", "a\nb", "\t"):
        assert cell_of(text) == Cell(text)
    assert cell_of(None) == cell_of("") == Cell("")


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (date(2026, 1, 2), "a date (2 January 2026)"),
        (datetime(2026, 1, 2), "a date (2 January 2026)"),  # noqa: DTZ001 - workbooks know no zones
        (datetime(2026, 1, 2, 12, 30), "a date (2 January 2026, 12:30:00)"),  # noqa: DTZ001
        (time(12, 30), "a time (12:30:00)"),
        (timedelta(hours=30), "a time (30:00:00)"),
        (timedelta(minutes=-90), "a time (-1:30:00)"),
    ],
)
def test_a_date_or_time_is_spoiled_and_never_guessed(value: date | time | timedelta, shown: str) -> None:
    cell = cell_of(value)
    assert cell.spoiled
    assert cell.note == f"the spreadsheet turned this entry into {shown}"


@pytest.mark.parametrize(
    ("value", "number_format", "text"),
    [
        (0.15, "0%", "15 %"),
        (0.07, "0.00%", "7.00 %"),
        (0.36, "0.0%", "36.0 %"),
        (0.36123, "0.0%", "36.1 %"),
        (0.361, "0.0##%", "36.1 %"),
        (1.1, "0%", "110 %"),
        (0.29, "0 %", "29 %"),
        (0.5, '0"%"', "0.5"),
    ],
)
def test_a_percentage_keeps_its_meaning(value: float, number_format: str, text: str) -> None:
    assert cell_of(value, number_format).text == text


def test_a_format_that_shows_something_else_is_told() -> None:
    assert cell_of(69995.0, "#,##0").note.endswith("; the cell shows it in the format #,##0")


def test_a_logical_value_is_text_with_a_note() -> None:
    assert cell_of(True) == Cell("TRUE", AS_LOGICAL)
    assert formula_cell("=FALSE()", cell_of(0.0)) == Cell("FALSE", AS_LOGICAL)  # as LibreOffice saves it


def test_a_formula_has_its_saved_result_or_is_spoiled() -> None:
    assert formula_cell("=70/2", cell_of(35.0)) == Cell("35", "worked out by the spreadsheet from =70/2")
    unsaved = formula_cell("=70/2", None)
    assert unsaved == Cell("=70/2", "the cell holds the formula =70/2 and the file does not hold its result", True)
    assert formula_cell("=TODAY()", cell_of(date(2026, 1, 2))).spoiled


def test_an_error_is_spoiled() -> None:
    assert error_cell("#DIV/0!") == Cell("#DIV/0!", "the cell holds the error #DIV/0!", True)
    assert error_cell("#DIV/0!", "=1/0") == Cell("=1/0", "the formula =1/0 gives the error #DIV/0!", True)
