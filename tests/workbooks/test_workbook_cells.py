"""Cells of hostile workbooks, straight from openpyxl and after LibreOffice saved them in either format."""

import datetime as dt
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from programs import convert
from witnessmark.files.workbooks.cell_texts import AS_LOGICAL, AS_NUMBER, AS_PERCENTAGE, Cell
from witnessmark.files.workbooks.pages import PageCells, WorkbookCells
from witnessmark.files.workbooks.reader import read_workbook
from workbooks.books import ANSWERS, FIRST, write_book

WAYS = ("as written", "xlsx", "ods", "ods, then xlsx")
SHARED = {
    "A2": Cell("94,2 kN"),
    "A3": Cell("a\n b  c"),
    "A4": Cell("=not a formula"),
    "A5": Cell("70.5", AS_NUMBER),
    "A6": Cell("69995", AS_NUMBER),
    "A7": Cell("15 %", AS_PERCENTAGE),
    "A8": Cell("2026-01-02", "the spreadsheet turned this entry into a date (2 January 2026)", True),
    "A9": Cell("12:30:00", "the spreadsheet turned this entry into a time (12:30:00)", True),
    "A10": Cell("30:00:00", "the spreadsheet turned this entry into a time (30:00:00)", True),
    "A11": Cell("TRUE", AS_LOGICAL),
    "A14": Cell("  blanks  "),
    "A15": Cell("1e22", AS_NUMBER),
    "A16": Cell("é ² μ Ω ‰ 🚣"),
    "A17": Cell(""),
    "A18": Cell("<b>&amp;</b>"),
    "C20": Cell("far"),
}
AS_WRITTEN = {
    "A12": Cell("=1/0", "the cell holds the formula =1/0 and the file does not hold its result", True),
    "A13": Cell("=70/2", "the cell holds the formula =70/2 and the file does not hold its result", True),
    "A19": Cell("#N/A", "the cell holds the error #N/A", True),
}
SAVED = {
    "A12": Cell("=1/0", "the formula =1/0 gives the error #DIV/0!", True),
    "A13": Cell("35", "worked out by the spreadsheet from =70/2"),
    "A19": Cell("=#N/A", "the formula =#N/A gives the error #N/A", True),
}


def hostile(path: Path) -> Path:
    book = openpyxl.Workbook()
    page = book.worksheets[0]
    page.title = "It's odd"
    values: dict[str, Any] = {
        "A2": "94,2 kN", "A3": "a\n b  c", "A4": "=not a formula", "A5": 70.5, "A6": 69995.0, "A7": 0.15,
        "A8": dt.date(2026, 1, 2), "A9": dt.time(12, 30), "A10": dt.timedelta(hours=30), "A11": True, "A12": "=1/0",
        "A13": "=70/2", "A14": "  blanks  ", "A15": 1e22, "A16": "é ² μ Ω ‰ 🚣", "A18": "<b>&amp;</b>", "A19": "#N/A",
        "C20": "far",
    }  # fmt: skip
    for cell, value in values.items():
        page[cell] = value
    page["A4"].data_type, page["A19"].data_type = "s", "e"
    page["A7"].number_format, page["A8"].number_format, page["A10"].number_format = "0%", "d-mmm", "[h]:mm"
    book.save(path)
    return path


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory, soffice: Path) -> dict[str, WorkbookCells]:
    folder = tmp_path_factory.mktemp("hostile")
    for name in ("again", "back"):
        (folder / name).mkdir()
    written = hostile(folder / "book.xlsx")
    again, ods = convert(soffice, written, "xlsx", folder / "again"), convert(soffice, written, "ods", folder)
    paths = (written, again, ods, convert(soffice, ods, "xlsx", folder / "back"))
    found = {}
    for way, path in zip(WAYS, paths, strict=True):
        book, problems = read_workbook(path)
        assert problems == ()
        assert book is not None
        found[way] = book
    return found


@pytest.mark.parametrize("way", WAYS)
def test_every_cell_is_what_was_typed_or_says_what_became_of_it(books: dict[str, WorkbookCells], way: str) -> None:
    page = books[way].page("It's odd")
    assert page is not None
    expected = SHARED | (AS_WRITTEN if way == "as written" else SAVED)
    assert {cell: page.at(cell) for cell in expected} == expected


@pytest.mark.parametrize("way", WAYS)
def test_addresses_do_not_shift_where_the_first_row_is_empty(books: dict[str, WorkbookCells], way: str) -> None:
    page = books[way].pages[0]
    assert page.at("A1") == page.at("B2") == page.at("ZZ99999") == page.at("nowhere") == Cell("")
    assert len(page.rows) == 20


def test_names_properties_and_the_hidden_page_survive_libreoffice(tmp_path: Path, soffice: Path) -> None:
    written = write_book(tmp_path / "S01.xlsx")
    ods = convert(soffice, written, "ods", tmp_path)
    (tmp_path / "back").mkdir()
    for path in (written, ods, convert(soffice, ods, "xlsx", tmp_path / "back")):
        book, _ = read_workbook(path)
        assert book is not None
        assert book.names["answer_2"] == ("Answers", "C8")
        assert book.names["answer_2_unit"] == ("Answers", "D8")
        assert book.properties["sheet code"] == FIRST.code
        hidden = book.page("witness mark")
        assert hidden is not None
        assert hidden.at("B1").text == FIRST.code
        front = book.page("Answers")
        assert front is not None
        assert (front.at("C8").text, front.at("D8").text) == ANSWERS["1.a"]


def test_a_page_is_rows_from_the_first_row_and_column() -> None:
    page = PageCells("x", ((), (Cell("a"), Cell("b"))))
    assert page.at("B2") == Cell("b")
    assert page.at("A1") == Cell("")
