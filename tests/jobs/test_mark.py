"""The job `mark`: what comes back is taken in, kept as received and marked; a class table of any kind does as well."""

import csv
import io
import shutil
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from jobs.copied import issued_class
from jobs.small_class import (
    LATER,
    NOW,
    STUDENTS,
    TASK,
    contents,
    hand_in,
    record_lines,
    right_answers,
    sheets_of,
    small_class,
)
from programs import convert
from witnessmark.jobs.marking import Marked, mark
from witnessmark.jobs.opened import open_class
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.errors import ProblemsFound


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class whose task was issued; not to be changed."""
    return issued_class(tmp_path_factory.mktemp("mark") / "class")


@pytest.fixture
def folder(issued: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(issued, tmp_path / "class")
    return tmp_path / "class"


def a_slip(sheet: Sheet) -> str:
    """The force of the drain hole by the area of the punch's face, typed with a small letter."""
    force = sheet.variants[0].slips["a"]["face-area-for-sheared-edge"].to("kilonewton").magnitude
    return f"{force:.4g} kn"


def of(marked: Marked, sheet: Sheet) -> Mapping[str, Outcome]:
    """The outcomes of one sheet."""
    return marked.outcomes[sheet.code]


def test_books_are_taken_in_and_marked_and_what_was_typed_is_kept(folder: Path) -> None:
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    hand_in(folder, sheets["HB02"], right_answers(sheets["HB02"]) | {"1.a": a_slip(sheets["HB02"]), "2.b": ""})
    marked = mark(folder, TASK, LATER)
    assert (marked.taken_in, len(marked.outcomes), marked.problems) == (2, 2, ())
    assert all(o.marks == o.out_of for o in of(marked, sheets["HB01"]).values())
    slipped = of(marked, sheets["HB02"])
    assert (slipped["1.a"].misconceptions, slipped["1.a"].marks) == (("face-area-for-sheared-edge",), Decimal(1))
    assert slipped["1.b"].verdict == "carried forward" or slipped["1.b"].verdict == "right"
    assert slipped["2.b"].verdict == "blank"
    assert slipped["1.a"].raw == a_slip(sheets["HB02"])


def test_marking_twice_changes_nothing(folder: Path) -> None:
    sheets = sheets_of(folder)
    for sheet in sheets.values():
        hand_in(folder, sheet, right_answers(sheets["HB01"]))
    first = mark(folder, TASK, NOW)
    lines = record_lines(folder)
    second = mark(folder, TASK, LATER)
    assert second.outcomes == first.outcomes
    assert record_lines(folder) == lines


def test_the_names_and_order_of_files_have_no_say(folder: Path, tmp_path: Path) -> None:
    sheets = sheets_of(folder)
    there, elsewhere = folder, tmp_path / "copy"
    shutil.copytree(folder, elsewhere)
    for n, sheet in enumerate(sheets.values()):
        answers = right_answers(sheet) | {"1.a": a_slip(sheet)}
        hand_in(there, sheet, answers)
        hand_in(elsewhere, sheet, answers, f"answers ({len(sheets) - n}).xlsx")
    assert mark(there, TASK, LATER).outcomes == mark(elsewhere, TASK, LATER).outcomes


def test_a_broken_a_foreign_and_an_open_file_are_told_and_stop_no_other(folder: Path) -> None:
    sheets = sheets_of(folder)
    whole = hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    data = whole.read_bytes()
    (whole.parent / "broken.xlsx").write_bytes(data[: len(data) // 3])
    (whole.parent / "letter.docx").write_bytes(b"PK")
    (whole.parent / "~$HB02.xlsx").write_bytes(b"x")
    marked = mark(folder, TASK, LATER)
    assert [p.code for p in marked.problems] == ["broken-workbook", "unsupported-type", "still-open"]
    assert (marked.taken_in, list(marked.outcomes)) == (1, [sheets["HB01"].code])


def test_of_two_books_of_one_sheet_both_are_kept_and_the_fuller_is_proposed(folder: Path) -> None:
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], {"1.a": "1 kN"}, "b.xlsx")
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]), "a.xlsx")
    marked = mark(folder, TASK, LATER)
    assert sorted(p.code for p in marked.problems) == ["entries-differ", "returned-twice"]
    assert of(marked, sheets["HB01"])["1.a"].verdict == "right"
    assert of(marked, sheets["HB01"])["1.a"].in_tray[0].startswith("two entries differ: ")
    with open_class(folder).record() as record:
        assert len(record.all_returns(TASK)) == 2


def test_what_comes_later_is_marked_beside_what_was_there(folder: Path) -> None:
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    first = mark(folder, TASK, NOW)
    (folder / "returned" / TASK / "HB01.xlsx").unlink()
    hand_in(folder, sheets["LW01"], right_answers(sheets["LW01"]))
    second = mark(folder, TASK, LATER)
    assert set(second.outcomes) == {sheets["HB01"].code, sheets["LW01"].code}
    assert of(second, sheets["HB01"]) == of(first, sheets["HB01"])


def test_where_nothing_was_issued_or_returned_that_is_said(tmp_path: Path, folder: Path) -> None:
    with pytest.raises(ProblemsFound) as raised:
        mark(small_class(tmp_path / "new"), TASK, NOW)
    (problem,) = raised.value.problems
    assert str(problem) == (
        f"{tmp_path / 'new'}: [not-issued] expected a task that was issued as {TASK}, found no sheets of it; "
        f"witnessmark issue {tmp_path / 'new'} {TASK}"
    )
    with pytest.raises(ProblemsFound) as raised:
        mark(folder, TASK, NOW, folder / "no such folder")
    assert [p.code for p in raised.value.problems] == ["nothing-returned"]
    assert [p.code for p in mark(folder, TASK, NOW).problems] == ["no-books"]


# One class table, as xlsx, ods and csv.


def filled_table(folder: Path, answers: Mapping[str, Mapping[str, str]]) -> Path:
    """The class table as it was issued, with answers typed in as text, by student and label."""
    book = openpyxl.load_workbook(folder / "issued" / TASK / "class-table.xlsx")
    page = book.worksheets[0]
    headings = {str(cell.value): n for n, cell in enumerate(page[1], 1)}
    for n, row in enumerate(page.iter_rows(min_row=3), 3):
        for label, text in answers.get(str(row[1].value), {}).items():
            cell = page.cell(n, headings[label])
            cell.value, cell.data_type = text, "s"
    path = folder / "filled.xlsx"
    book.save(path)
    return path


def as_csv(table: Path, separator: str = ",", mark_bytes: bytes = b"", encoding: str = "utf-8") -> Path:
    """The same table as a file of separated cells."""
    text = io.StringIO()
    rows = csv.writer(text, delimiter=separator, lineterminator="\r\n")
    for row in openpyxl.load_workbook(table).worksheets[0].iter_rows(values_only=True):
        rows.writerow(["" if value is None else value for value in row])
    path = table.with_name(f"table-{ord(separator)}-{len(mark_bytes)}-{encoding}.csv")
    path.write_bytes(mark_bytes + text.getvalue().encode(encoding))
    return path


@pytest.fixture
def table(folder: Path) -> Path:
    """A class table with the answers of two students, one with a slip, a comma and letters that no code page has."""
    sheets = sheets_of(folder)
    one, two = (
        {f"{key.replace('.', '')}": text for key, text in right_answers(sheets[code]).items()}
        for code in ("HB01", "LW02")
    )
    two |= {"1a": a_slip(sheets["LW02"]).replace(".", ","), "1c": "да"}
    return filled_table(folder, {"HB01": one, "LW02": two})


def by_student(folder: Path, source: Path) -> dict[str, dict[str, tuple[str, str, str]]]:
    """Verdict, marks and raw text of every answer of a class table, by student; a copy of the class is marked."""
    copy = folder.with_name(f"copy of {source.name}")
    shutil.copytree(folder, copy)
    marked = mark(copy, TASK, LATER, source)
    assert marked.problems == (), source.name
    shutil.rmtree(copy)
    return {
        marked.sheets[code].student.code: {k: (str(o.verdict), str(o.marks), o.raw) for k, o in outcomes.items()}
        for code, outcomes in marked.outcomes.items()
    }


def test_a_class_table_is_read_alike_as_a_workbook_and_as_text_with_any_separator(folder: Path, table: Path) -> None:
    expected = by_student(folder, table)
    assert set(expected) == {"HB01", "LW02"}
    assert expected["HB01"]["1.a"][:2] == ("right", "3")
    assert expected["LW02"]["1.a"][:2] == ("slip", "1")
    assert expected["LW02"]["1.c"][2] == "да"
    for separator in (",", ";", "\t"):
        assert by_student(folder, as_csv(table, separator)) == expected
    assert by_student(folder, as_csv(table, ";", b"\xef\xbb\xbf")) == expected
    assert by_student(folder, as_csv(table, ",", b"\xff\xfe", "utf-16-le")) == expected


def test_a_class_table_saved_by_libreoffice_as_ods_is_read_alike(folder: Path, table: Path, soffice: Path) -> None:
    saved = convert(soffice, table, "ods", folder.parent)
    assert by_student(folder, saved) == by_student(folder, table)


def test_a_class_table_with_problems_is_told_by_cell_and_the_rest_is_marked(folder: Path, table: Path) -> None:
    book = openpyxl.load_workbook(table)
    page = book.worksheets[0]
    page["A3"], page["B3"] = "AAAA-AAAA", "XX99"
    book.save(table)
    marked = mark(folder, TASK, LATER, table)
    assert marked.problems
    assert all("!" in str(p.place) and p.remedy for p in marked.problems)
    assert {marked.sheets[code].student.code for code in marked.outcomes} == {"LW02"}


def test_marking_writes_nothing_but_the_record(folder: Path) -> None:
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    before = contents(folder, without=["record.db"])
    mark(folder, TASK, LATER)
    assert contents(folder, without=["record.db"]) == before
    assert len(STUDENTS) == len(sheets)
