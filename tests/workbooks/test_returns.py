"""A folder of returned answer books: whoever saved them, every answer comes back as it was typed."""

import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from programs import convert
from witnessmark.files.workbooks.returns import read_returns
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Return
from workbooks.books import (
    ANSWERS,
    BY_CODE,
    FIRST,
    RAW,
    SECOND,
    THIRD,
    cell_of_ask,
    changed,
    member,
    opened,
    with_member,
    write_book,
)


def raw(handed_in: Return) -> dict[str, str]:
    return {key: entry.raw for key, entry in handed_in.entries}


def only(folder: Path) -> Return:
    read = read_returns(folder, BY_CODE)
    assert read.problems == ()
    assert len(read.returns) == 1
    return read.returns[0]


def test_every_answer_is_received_as_it_was_typed(tmp_path: Path) -> None:
    path = write_book(tmp_path / "S01.xlsx")
    handed_in = only(tmp_path)
    assert handed_in.sheet_code == FIRST.code
    assert handed_in.file == str(path)
    assert raw(handed_in) == RAW
    places = {key: entry.place for key, entry in handed_in.entries}
    assert places["1.a"] == "Answers!C8"
    assert not any(entry.note or entry.spoiled for _, entry in handed_in.entries)


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory, soffice: Path) -> Path:
    """Answer books that LibreOffice saved: as ods, as xlsx, and as xlsx from its own ods."""
    folder = tmp_path_factory.mktemp("saved")
    for way in ("ods", "xlsx", "back"):
        (folder / way).mkdir()
    written = write_book(folder / "S01.xlsx")
    ods = convert(soffice, written, "ods", folder / "ods")
    convert(soffice, written, "xlsx", folder / "xlsx")
    convert(soffice, ods, "xlsx", folder / "back")
    return folder


@pytest.mark.parametrize("way", ["ods/S01.ods", "xlsx/S01.xlsx", "back/S01.xlsx"])
def test_books_saved_by_libreoffice_give_the_same_answers(saved: Path, tmp_path: Path, way: str) -> None:
    shutil.copy(saved / way, tmp_path)
    assert raw(only(tmp_path)) == RAW


@pytest.mark.parametrize("way", ["ods", "xlsx"])
def test_a_saved_book_still_tells_its_sheet_code_when_the_visible_cell_is_gone(
    tmp_path: Path, soffice: Path, way: str
) -> None:
    changed(tmp_path / "S01.xlsx", {"B2": None})
    folder = tmp_path / "returned"
    folder.mkdir()
    convert(soffice, tmp_path / "S01.xlsx", way, folder)
    shutil.rmtree(folder / "profile", ignore_errors=True)
    assert only(folder).sheet_code == FIRST.code


def test_a_renamed_book_is_known_by_its_code(tmp_path: Path) -> None:
    write_book(tmp_path / "my answers (final) 2.xlsx")
    assert only(tmp_path).sheet_code == FIRST.code


def test_books_in_folders_inside_are_read_and_what_systems_leave_is_not(tmp_path: Path) -> None:
    write_book(tmp_path / "North yard" / "S01.XLSX")
    for name in (".DS_Store", "Thumbs.db", "desktop.ini", ".git/x.xlsx", "__MACOSX/S01.xlsx"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(b"x")
    assert only(tmp_path).file.endswith("S01.XLSX")


@pytest.mark.parametrize("gone", ["visible", "hidden", "property", "visible hidden", "visible hidden property"])
def test_the_code_is_looked_for_in_the_cell_the_hidden_page_the_property_and_the_name(
    tmp_path: Path, gone: str
) -> None:
    book = opened()
    if "visible" in gone:
        book["Answers"]["B2"] = None
    if "hidden" in gone:
        del book["witness mark"]
    if "property" in gone:
        del book.custom_doc_props["sheet code"]
    book.save(tmp_path / f"answers {FIRST.code.lower()}.xlsx")
    assert raw(only(tmp_path)) == RAW


def test_a_code_typed_with_look_alikes_is_still_known(tmp_path: Path) -> None:
    book = opened(THIRD)
    del book["witness mark"]
    del book.custom_doc_props["sheet code"]
    book["Answers"]["B2"] = f" {THIRD.code.lower().replace('-', ' ')} "
    book.save(tmp_path / "x.xlsx")
    assert only(tmp_path).sheet_code == THIRD.code


def test_answers_are_found_by_name_when_rows_moved(tmp_path: Path) -> None:
    book = opened()
    page = book["Answers"]
    page.protection.sheet = False
    page.insert_rows(8, 3)
    for name, named in book.defined_names.items():
        cell = named.attr_text.split("$")
        if int(cell[2]) >= 8:
            book.defined_names[name].attr_text = f"'Answers'!${cell[1]}${int(cell[2]) + 3}"
    for row in range(1, 30):
        page[f"A{row}"] = None  # and the labels are gone
    book.save(tmp_path / "S01.xlsx")
    handed_in = only(tmp_path)
    assert raw(handed_in) == RAW
    assert dict(handed_in.entries)["1.a"].place == "Answers!C11"


def test_answers_are_found_by_label_when_rows_and_columns_moved_and_names_are_gone(tmp_path: Path) -> None:
    book = opened()
    page = book["Answers"]
    book.defined_names.clear()
    for area in list(page.merged_cells.ranges):
        page.unmerge_cells(str(area))
    page.move_range("A6:E18", rows=4, cols=2)
    page.title = "Sheet 1"
    page["A1"] = "hello"
    book.save(tmp_path / "S01.xlsx")
    handed_in = only(tmp_path)
    assert raw(handed_in) == RAW
    assert dict(handed_in.entries)["1.a"].place == "Sheet 1!E12"


def test_rows_that_were_sorted_are_read_by_their_labels_though_the_names_stayed(tmp_path: Path) -> None:
    book = opened()
    page = book["Answers"]
    for column in "ABCDE":
        page[f"{column}8"].value, page[f"{column}10"].value = page[f"{column}10"].value, page[f"{column}8"].value
    book.save(tmp_path / "S01.xlsx")
    assert raw(only(tmp_path)) == RAW


def test_an_entry_that_a_program_spoiled_says_so(tmp_path: Path) -> None:
    book = opened()
    page = book["Answers"]
    for cell in ("C8", "D10", "C11"):
        page[cell].number_format = "General"
    page["C8"], page["C10"], page["D10"], page["C11"] = 94.0, "300", "=B1", True
    book.save(tmp_path / "S01.xlsx")
    entries = dict(only(tmp_path).entries)
    assert entries["1.a"].raw == "94 kN"
    assert not entries["1.a"].spoiled
    assert entries["1.a"].note == "the spreadsheet stored this entry as a number, so zeros at its end may be missing"
    assert entries["1.b"].raw == "300 =B1"
    assert entries["1.b"].spoiled
    assert entries["1.b"].note == "the cell holds the formula =B1 and the file does not hold its result"
    assert entries["1.c"].raw == "TRUE"


def test_of_two_books_of_one_sheet_the_one_saved_later_stands_last(tmp_path: Path) -> None:
    for name, year in (("b.xlsx", 2027), ("a.xlsx", 2028)):
        book = opened()
        book["Answers"]["C8"] = name
        book.save(tmp_path / name)
        _set_saved(tmp_path / name, f"{year}-01-02T03:04:05Z")
    files = [Path(r.file).name for r in read_returns(tmp_path, BY_CODE).returns]
    assert files == ["b.xlsx", "a.xlsx"]


def _set_saved(path: Path, stamp: str) -> None:
    data = path.read_bytes()
    core = re.sub(r"(<dcterms:modified[^>]*>)[^<]*", rf"\g<1>{stamp}", member(data, "docProps/core.xml"))
    assert stamp in core
    with_member(path, "docProps/core.xml", core.encode(), data)


def test_the_order_of_files_changes_nothing(tmp_path: Path) -> None:
    for n, sheet in enumerate((THIRD, FIRST, SECOND)):
        write_book(tmp_path / "one" / f"{n}.xlsx", sheet)
        write_book(tmp_path / "two" / f"{9 - n}.xlsx", sheet)
    one, two = (read_returns(tmp_path / name, BY_CODE) for name in ("one", "two"))
    assert [(r.sheet_code, r.entries) for r in one.returns] == [(r.sheet_code, r.entries) for r in two.returns]


def test_another_attempt_is_another_sheet(tmp_path: Path) -> None:
    again = replace(FIRST, code=sheet_code("shear-1", "S01", 2), attempt=2)
    write_book(tmp_path / "S01.xlsx")
    write_book(tmp_path / "S01-2.xlsx", again)
    read = read_returns(tmp_path, BY_CODE | {again.code: again})
    assert read.problems == ()
    assert {r.sheet_code for r in read.returns} == {FIRST.code, again.code}


def test_a_hundred_books_are_read_by_one_worker(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[object] = []
    popen = subprocess.Popen

    def counted(*words: Any, **how: Any) -> Any:
        started.append(words)
        return popen(*words, **how)

    monkeypatch.setattr(subprocess, "Popen", counted)
    data = write_book(tmp_path / "0.xlsx").read_bytes()
    for n in range(1, 100):
        (tmp_path / f"{n}.xlsx").write_bytes(data)
    assert len(read_returns(tmp_path, BY_CODE).returns) == 100
    assert len(started) <= 1  # it may be there from before


def test_every_cell_of_an_answer_can_hold_anything(tmp_path: Path) -> None:
    typed = {"1.a": ('=HYPERLINK("x")', "+kN"), "1.c": ("@yes", ""), "2.d": ("<b>'\"&amp;", "")}
    write_book(tmp_path / "S01.xlsx", FIRST, typed)
    found = raw(only(tmp_path))
    assert (found["1.a"], found["1.c"], found["2.d"]) == ('=HYPERLINK("x") +kN', "@yes", "<b>'\"&amp;")
    assert cell_of_ask("1.a") == "C8"
    assert ANSWERS["1.a"] == ("94,2", "kN")
