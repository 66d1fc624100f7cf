"""The gradebook: LibreOffice works its formulas out and finds what is stored; nothing that was typed is ever run."""

import io
import re
import zipfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from html import unescape
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bank_fixture import BANK
from programs import convert, pictures, worked_out
from witnessmark.documents.gradebook import gradebook
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.files.workbooks.pages import PageCells
from witnessmark.files.workbooks.reader import read_workbook
from witnessmark.questions.sheet.task import Student
from workbooks.books import FIRST, SECOND, SHEETS, member
from workbooks.class_outcomes import EVIL, MADE, PROPOSED, SLIP, SLIPPED, STANDING, WRONG, data

D = Decimal
BELIEVED = BANK.misconceptions[SLIP].believes


@pytest.fixture(scope="module")
def written() -> bytes:
    return gradebook(data(), MADE)


@pytest.fixture(scope="module")
def stored(written: bytes) -> Any:
    """The gradebook with the results that its formulas carry."""
    return openpyxl.load_workbook(io.BytesIO(written), data_only=True)


def rows(page: Any) -> list[list[Any]]:
    return [[cell.value for cell in row] for row in page.iter_rows()]


def test_the_data_are_those_of_the_outcomes() -> None:
    first, second, third = data().students
    assert first.marks == (D(4), D("10.0"))
    assert (first.total, first.state, first.in_tray) == (D("14.0"), "marked", 0)
    assert (second.marks, second.state, second.in_tray) == ((D(2), D(0)), "waiting", 9)
    assert (third.marks, third.total, third.state) == ((None, None), None, "not returned")
    assert data().out_of == D("16.5")
    (misconception,) = data().misconceptions
    assert (misconception.key, misconception.counts, misconception.students) == (SLIP, (1, 2, 0), 2)
    assert {p.label: p.facility for p in data().facilities}["1a"] == pytest.approx((1 + 1) / 6)


def test_the_summary_has_a_row_for_each_student(stored: Any) -> None:
    page = rows(stored["Summary"])
    assert page[4] == [
        "student", "name", "group", "1 Punching a drain hole", "2 Before the mast goes up", "total", "share", "state",
        "in-tray", "to mark",
    ]  # fmt: skip
    assert page[2][3:6] == [6, 10.5, 16.5]
    assert page[5] == ["S01", "Maren Tolk", "North yard", 4, 10, 14, pytest.approx(14 / 16.5), "marked", None, None]
    assert page[6] == ["S02", "Idris Vael", "North yard", 2, 0, 2, pytest.approx(2 / 16.5), "waiting", 9, 9]
    assert page[7][:6] == ["S03", "Oona Brisk", "=South & Co", None, None, None]
    assert page[7][7] == "not returned"
    assert page[3][3:7] == [4, 10, 14, pytest.approx(14 / 16.5)], "the marks of S02 are not final"
    assert page[1][0].endswith("that the filter shows, without the student who has answers to mark.")


def test_every_answer_has_a_row_with_the_machines_mark_beside_the_one_that_stands(stored: Any) -> None:
    head, *parts = rows(stored["Answers"])
    assert len(parts) == 2 * len(FIRST.asks)
    by = {(row[0], row[1]): dict(zip(head, row, strict=True)) for row in parts}
    assert by["S01", "1a"]["typed"] == "-471"
    assert by["S01", "1a"]["what the student believes"] == BELIEVED
    assert by["S01", "1a"]["sure"] == 0.97
    moderated = by["S01", "2f"]
    assert (moderated["marks"], moderated["machine's mark"], moderated["notes"]) == (2.5, 3, "moderated by +R: why")
    assert by["S02", "1c"]["waits because"] == "could not be read: @x"


def test_libreoffice_works_out_every_formula_to_what_is_stored(
    written: bytes, stored: Any, tmp_path: Path, soffice: Path
) -> None:
    path = tmp_path / "grades.xlsx"
    path.write_bytes(written)
    recalculated, problems = read_workbook(worked_out(soffice, path, "ods", tmp_path))
    assert problems == ()
    assert recalculated is not None
    formulas = openpyxl.load_workbook(io.BytesIO(written))
    compared = 0
    for page in formulas.worksheets:
        theirs: PageCells | None = recalculated.page(page.title)
        assert theirs is not None
        for cell in (c for row in page for c in row if c.data_type == "f"):
            value, found = stored[page.title][cell.coordinate].value, theirs.at(cell.coordinate)
            assert found.note.startswith("worked out by the spreadsheet from =")
            text = found.text.removesuffix(" %")
            number = float(text) / (100 if found.text.endswith("%") else 1) if text else None
            room = 0.005 if found.text.endswith("%") else None  # taken as it is shown, in whole per cent
            expected = None if value is None else pytest.approx(value, abs=room)
            assert number == expected, f"{page.title}!{cell.coordinate}"
            compared += 1
    by_hand = 2
    assert compared == 3 * 2 + 1 + 4 + 1 + len(data().facilities) + by_hand


@pytest.mark.parametrize("everybody", [False, True])
def test_answers_that_wait_for_the_teacher_are_no_zeros_in_facilities_means_or_charts(
    tmp_path: Path, soffice: Path, everybody: bool
) -> None:
    both = dict.fromkeys((FIRST.code, SECOND.code), WRONG if everybody else WRONG | {"1.a": SLIPPED})
    path = tmp_path / "grades.xlsx"
    path.write_bytes(gradebook(gradebook_data("First years", SHEETS, both, both), MADE))
    results = openpyxl.load_workbook(path, data_only=True)
    charts = {row[0]: row[1:4] for row in rows(results["Charts"])[3:]}
    assert charts["1a"] == (["none marked yet", 0, 2] if everybody else [pytest.approx(1 / 3), 2, None])
    assert charts["1c"] == ["none marked yet", 0, 2]
    assert rows(results["Summary"])[3][3:7] == ["none yet"] * 4
    recalculated, _ = read_workbook(worked_out(soffice, path, "ods", tmp_path))
    assert recalculated is not None
    (summary, shares) = (recalculated.page(name) for name in ("Summary", "Charts"))
    assert summary is not None
    assert shares is not None
    assert [summary.at(f"{column}4").text for column in "DEFG"] == ["none yet"] * 4
    assert shares.at("B5").text == "none marked yet"
    drawing = member(path.read_bytes(), "xl/drawings/drawing1.xml") if not everybody else ""
    assert everybody or "Bar chart of the facility of 1 answers. Hardest: 1a, 33%." in drawing


def test_nothing_that_was_typed_becomes_a_formula_a_link_or_a_number(written: bytes) -> None:
    book = openpyxl.load_workbook(io.BytesIO(written))
    allowed = re.compile(r"=(SUM|IF|IFERROR|COUNTIF|SUMIFS)\(")
    formulas = [str(c.value) for page in book for row in page for c in row if c.data_type == "f"]
    assert formulas
    assert all(allowed.match(f) for f in formulas)
    typed = {c.value for row in book["Answers"].iter_rows(min_col=3, max_col=3) for c in row}
    assert EVIL.replace("\x01", "[U+0001]") in typed
    assert {c.data_type for row in book["Answers"].iter_rows(min_row=2, max_col=5) for c in row if c.value} == {"s"}
    assert {c.number_format for row in book["Answers"].iter_rows(min_row=2, min_col=3, max_col=3) for c in row} == {"@"}
    with zipfile.ZipFile(io.BytesIO(written)) as archive:
        assert not [n for n in archive.namelist() if b"<hyperlink" in archive.read(n) or "externalLink" in n]


@pytest.mark.parametrize(
    "text", ["=1", "+1", "-1", "@SUM(A1)", "{=1}", "http://x", "\t=1", "1e5", "\ud800", "x" * 40_000]
)
def test_any_name_and_any_entry_stays_text(text: str) -> None:
    named = tuple(replace(s, student=Student(text, text, text)) for s in SHEETS)
    outcomes = {FIRST.code: {"1.a": replace(PROPOSED[FIRST.code]["1.a"], raw=text, read_as=text, because=text)}}
    book = openpyxl.load_workbook(io.BytesIO(gradebook(gradebook_data(text, named, outcomes), MADE)))
    cells = [book["Summary"]["A6"], book["Summary"]["B6"], *(book["Answers"][f"{c}2"] for c in "ACDK")]
    assert {cell.data_type for cell in cells} == {"s"}


def test_the_same_data_and_time_give_the_same_bytes(written: bytes) -> None:
    assert gradebook(data(), MADE) == written
    assert gradebook(data(), MADE.astimezone(timezone(timedelta(hours=5)))) == written
    assert gradebook(data(), datetime(2027, 1, 26, tzinfo=UTC)) != written
    assert "2027-01-25T09:00:00Z" in member(written, "docProps/core.xml")


def test_charts_are_native_and_say_in_words_what_they_show(written: bytes) -> None:
    drawing = member(written, "xl/drawings/drawing1.xml")
    words = re.findall(r'descr="([^"]*)"', drawing)
    assert len(words) == 2
    assert words[0].startswith("Bar chart of the facility of 11 answers. Hardest: 1a, 33%.")
    shown = f'Bar chart of the 1 misconceptions that most students show. Most often: "{BELIEVED}" (2 students).'
    assert unescape(words[1]).startswith(shown)
    assert "Charts!$B$4:$B$14" in member(written, "xl/charts/chart1.xml")
    assert "Misconceptions!$A$2" in member(written, "xl/charts/chart2.xml")  # bars are named by words, not by keys
    assert "Misconceptions!$C$2" in member(written, "xl/charts/chart2.xml")


def test_panes_are_frozen_and_filters_offered(written: bytes) -> None:
    book = openpyxl.load_workbook(io.BytesIO(written))
    assert {page.title: (page.freeze_panes, page.auto_filter.ref) for page in book} == {
        "Summary": ("C6", "A5:J8"), "Answers": ("C2", "A1:S23"), "Hand 2f": ("B2", None),
        "Misconceptions": ("D2", "A1:C2"), "Charts": (None, None),
    }  # fmt: skip
    assert {page.page_setup.paperSize for page in book} == {9}


def test_a_class_without_returns_or_sheets_has_a_gradebook_too(tmp_path: Path, soffice: Path, pdftoppm: Path) -> None:
    for sheets, outcomes in ((SHEETS, {}), ((), {}), (SHEETS[:1], {SECOND.code: STANDING[SECOND.code]})):
        book = openpyxl.load_workbook(io.BytesIO(gradebook(gradebook_data("x", sheets, outcomes), MADE)))
        assert book.sheetnames == ["Summary", "Answers", "Misconceptions", "Charts"]
    path = tmp_path / "grades.xlsx"
    path.write_bytes(gradebook(data(), MADE))
    assert len(pictures(pdftoppm, convert(soffice, path, "pdf", tmp_path), tmp_path)) >= 4
