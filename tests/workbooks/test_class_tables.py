"""Class tables: what a teacher types comes back as typed, from any program, and nothing is assigned by guess."""

import codecs
import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from programs import convert
from witnessmark.documents.sheet.class_table import class_table
from witnessmark.files.tables.class_tables import read_class_table
from witnessmark.files.tables.returned import read_returned
from witnessmark.files.workbooks.returns import ReturnsRead
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Student
from workbooks.books import BY_CODE, FIRST, SECOND, SHEETS, THIRD, write_book

CASES = Path(__file__).parents[1] / "cases" / "workbooks"
HEAD = "student;1a A_s;1a;1b A_p;1b;1c;2a;2b;2c;2d;2e;2f"
ELSEWHERE = sheet_code("winter-9", "S01", 1)


def answers(read: ReturnsRead) -> dict[str, dict[str, str]]:
    return {r.sheet_code: {key: e.raw for key, e in r.entries if e.raw} for r in read.returns}


def lines(read: ReturnsRead, path: Path) -> list[str]:
    return [str(p).replace(str(path), path.name) for p in read.problems]


def table(path: Path, text: str, encoding: str = "utf-8") -> tuple[ReturnsRead, Path]:
    path.write_bytes(text.encode(encoding))
    return read_class_table(path, BY_CODE), path


def template(path: Path, cells: Mapping[str, Any]) -> Path:
    """The class table that is issued, with these cells filled in."""
    book = openpyxl.load_workbook(io.BytesIO(class_table(SHEETS)))
    for cell, value in cells.items():
        book["Class table"][cell] = value
    book.save(path)
    return path


def test_the_template_has_a_row_for_each_student_and_a_column_for_each_answer() -> None:
    page = openpyxl.load_workbook(io.BytesIO(class_table(SHEETS)))["Class table"]
    rows = [[cell.value or "" for cell in row] for row in page.iter_rows()]
    assert rows[0] == ["sheet code", "student", "name", "group", *HEAD.split(";")[1:], "note"]
    assert rows[1][:1] + rows[1][4:] == [
        "asked in", "mm²", "kN", "mm²", "MPa", "yes or no", "kN", "letter", "letters in order", "words", "formula",
        "on paper", "what the student wrote to you",
    ]  # fmt: skip
    assert [row[:4] for row in rows[2:]] == [
        [FIRST.code, "S01", "Maren Tolk", "North yard"], [SECOND.code, "S02", "Idris Vael", "North yard"],
        [THIRD.code, "S03", "Oona Brisk", "=South & Co"],
    ]  # fmt: skip
    assert {page[cell].number_format for cell in ("E3", "F4", "O5")} == {"@"}
    assert not page["F4"].protection.locked
    assert page["C3"].protection.locked
    assert page.freeze_panes == "D3"
    assert class_table(SHEETS) == class_table(SHEETS)


def test_a_class_table_of_no_sheets_is_empty() -> None:
    assert openpyxl.load_workbook(io.BytesIO(class_table(())))["Class table"].max_row == 2


FILLED = {"E3": "314 mm2", "F3": "94,2 kN", "H3": "=1+1", "I3": " yes ", "F5": "70.50", "M5": "the brake\nholds"}


@pytest.mark.parametrize("way", ["as written", "xlsx", "ods"])
def test_the_filled_template_comes_back_as_typed(tmp_path: Path, soffice: Path, way: str) -> None:
    path = template(tmp_path / "t.xlsx", FILLED)
    book = openpyxl.load_workbook(path)
    book["Class table"]["H3"].data_type = "s"
    book.save(path)
    if way != "as written":
        (tmp_path / "saved").mkdir()
        path = convert(soffice, path, way, tmp_path / "saved")
    read = read_class_table(path, BY_CODE)
    assert read.problems == ()
    assert answers(read) == {
        FIRST.code: {"1.a.A_s": "314 mm2", "1.a": "94,2 kN", "1.b": "=1+1", "1.c": " yes "},
        THIRD.code: {"1.a": "70.50", "2.d": "the brake\nholds"},
    }
    assert dict(read.returns[0].entries)["1.a"].place == "Class table!F3"


def test_libreoffice_saves_the_template_as_csv_that_reads_the_same(tmp_path: Path, soffice: Path) -> None:
    path = convert(soffice, template(tmp_path / "t.xlsx", FILLED | {"H3": "300"}), "csv", tmp_path)
    read = read_class_table(path, BY_CODE)
    assert read.problems == ()
    assert answers(read)[FIRST.code] == {"1.a.A_s": "314 mm2", "1.a": "94,2 kN", "1.b": "300", "1.c": "yes"}
    assert answers(read)[THIRD.code] == {"1.a": "70.50", "2.d": "the brake\nholds"}


ROW = "S01;314;94,2 kN;;;yes;;;;;;"
TABBED = (HEAD.replace(";", "\t"), ROW.replace(";", "\t"))
QUOTED = (HEAD.replace(";", ","), ROW.replace(";", ",").replace("94,2 kN", '"94,2 kN"'))


@pytest.mark.parametrize(
    "rows", [(HEAD, ROW), TABBED, QUOTED, ("sep=;", HEAD, ROW)], ids=["semicolon", "tab", "comma", "sep"]
)
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["lf", "crlf", "cr"])
def test_any_separator_and_line_end_is_read(tmp_path: Path, rows: tuple[str, ...], end: str) -> None:
    read, _ = table(tmp_path / "t.csv", end.join(rows))
    assert read.problems == ()
    assert answers(read) == {FIRST.code: {"1.a.A_s": "314", "1.a": "94,2 kN", "1.c": "yes"}}


SUPERSCRIPT = f"{HEAD}\nS01;314 mm²;94,2 kN;;;;;;;;;\n"
ENCODED = {
    "utf-8": SUPERSCRIPT.encode(),
    "utf-8 with a mark": codecs.BOM_UTF8 + SUPERSCRIPT.encode(),
    "utf-16 with a mark": SUPERSCRIPT.encode("utf-16"),
    "utf-16 le": SUPERSCRIPT.encode("utf-16-le"),
    "utf-16 be": SUPERSCRIPT.encode("utf-16-be"),
    "windows": SUPERSCRIPT.encode("cp1252"),
}


@pytest.mark.parametrize("name", ENCODED)
def test_any_encoding_is_found_by_its_rule(tmp_path: Path, name: str) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes(ENCODED[name])
    read = read_class_table(path, BY_CODE)
    assert read.problems == ()
    assert answers(read) == {FIRST.code: {"1.a.A_s": "314 mm²", "1.a": "94,2 kN"}}
    note = dict(read.returns[0].entries)["1.a.A_s"].note
    assert note == ("the file is not UTF-8 and was read as Windows-1252" if name == "windows" else "")


@pytest.mark.parametrize("heading", ["1a A_s", "1A a_s", " 1a  A_s ", "1a.A_s", "1.a.A_s", "1a-A_s"])
def test_headings_are_known_in_any_spelling(tmp_path: Path, heading: str) -> None:
    read, _ = table(tmp_path / "t.csv", f"{HEAD.replace('1a A_s', heading)}\n{ROW}")
    assert read.problems == ()
    assert answers(read)[FIRST.code]["1.a.A_s"] == "314"


@pytest.mark.parametrize(
    ("head", "who"),
    [
        ("sheet code", FIRST.code), ("Sheet", FIRST.code.lower()), ("Student code", "s01"), ("CODE", " S01 "),
        ("name", "maren  TOLK"), ("sheet_code", FIRST.code.replace("-", "")),
    ],
)  # fmt: skip
def test_a_student_is_known_by_sheet_code_code_or_name(tmp_path: Path, head: str, who: str) -> None:
    read, _ = table(tmp_path / "t.csv", f"{HEAD.replace('student', head)}\n{ROW.replace('S01', who)}")
    assert read.problems == ()
    assert list(answers(read)) == [FIRST.code]


def test_a_name_beside_a_code_may_be_spelt_in_any_way(tmp_path: Path) -> None:
    read, _ = table(tmp_path / "t.csv", f"name;{HEAD}\nMaren Tolck;{ROW}")
    assert read.problems == ()
    assert list(answers(read)) == [FIRST.code]


def test_headings_may_stand_below_a_title_and_rows_without_answers_are_passed_over(tmp_path: Path) -> None:
    text = f"Shear\n\n{HEAD}\nasked in;mm²;kN\nS02;;;;;;;;;;;\nS77\n{ROW}\n"
    read, _ = table(tmp_path / "t.csv", text)
    assert read.problems == ()
    assert list(answers(read)) == [FIRST.code]


def test_errors_that_a_program_exported_are_spoiled(tmp_path: Path) -> None:
    read, _ = table(tmp_path / "t.csv", f"{HEAD}\nS01;#DIV/0!;#VALUE!;#5;;;;;;;;")
    entries = dict(read.returns[0].entries)
    assert entries["1.a.A_s"].spoiled
    assert entries["1.a"].note == "the cell holds the error #VALUE!"
    assert not entries["1.b.A_p"].spoiled


def test_a_row_that_ends_in_more_separators_is_no_problem_unless_a_comma_parted_a_number(tmp_path: Path) -> None:
    head = HEAD.replace(";", ",")
    assert table(tmp_path / "a.csv", f"{head}\nS01,,94 kN,,,,,,,,,,,,")[0].problems == ()
    assert [p.code for p in table(tmp_path / "b.csv", f"{head}\nS01,314,94,2 kN,,,,,,,,,")[0].problems] == [
        "too-many-cells"
    ]


def said(name: str) -> list[str]:
    """The lines of a case."""
    blocks = (CASES / "class_table_problems.txt").read_text(encoding="utf-8").split("\n# ")[1:]
    return {block.split("\n")[0]: block.strip().split("\n")[1:] for block in blocks}[name]


LINES: list[tuple[str, str | bytes, list[str]]] = [
    ("t.csv", "shopping;list\na;b\n", ["no headings"]),
    ("t.csv", f"{HEAD};1A\n{ROW};94\n", ["a heading twice"]),
    ("t.csv", f"{HEAD};1a (kN)\n{ROW};94\n", ["a unit in a heading"]),
    ("t.csv", f"{HEAD};remarks\n{ROW};late\n", ["remarks"]),
    ("t.csv", f"{HEAD.replace(';', ';;', 1)}\n{ROW.replace(';', ';late;', 1)}\n", ["a column without heading"]),
    ("t.csv", f"{HEAD}\n{ROW.replace('S01', 'S99')}\n", ["unknown code"]),
    ("t.csv", f"{HEAD.replace('student', 'name')}\n{ROW.replace('S01', 'Nobody')}\n", ["unknown name"]),
    ("t.csv", f"{HEAD}\n{ROW.replace('S01', ' ')}\n", ["nobody"]),
    ("t.csv", f"{HEAD.replace('student', 'sheet')}\n{ROW.replace('S01', 'NYWH-DH74')}\n", ["wrong sheet code"]),
    ("t.csv", f"sheet;{HEAD}\n{FIRST.code};{ROW.replace('S01', 'S02')}\n", ["two students"]),
    ("t.csv", f"{HEAD}\n{ROW}late\n".replace("late", ";late"), ["shifted"]),
    ("t.csv", f"{HEAD}\n{ROW}\n{ROW}\n", ["twice"]),
    ("t.csv", f"{HEAD}\nS01;".encode() + b"\x81\xff;;", ["bytes", "no headings"]),
    ("t.csv", b"x" * 5_000_001, ["large"]),
    ("t.csv", "1a A_s;1a\n1;2\n", ["nobody's column"]),
    ("t.pdf", "x", ["a document"]),
    ("t", "x", ["no type"]),
]


@pytest.mark.parametrize("case", LINES, ids=[f"{n}" for n, _ in enumerate(LINES)])
def test_a_problem_has_its_whole_line(case: tuple[str, str | bytes, list[str]], tmp_path: Path) -> None:
    name, content, expected = case
    path = tmp_path / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    read = read_class_table(path, BY_CODE)
    assert sorted(lines(read, path)) == sorted(line for n in expected for line in said(n))


def test_a_name_in_the_column_of_codes_is_understood_where_one_student_has_it(tmp_path: Path) -> None:
    read, _ = table(tmp_path / "t.csv", f"{HEAD}\n{ROW.replace('S01', 'idris  vael')}\n")
    assert [one.sheet_code for one in read.returns] == [SECOND.code]
    assert read.problems == ()


def test_an_unknown_heading_is_named_once(tmp_path: Path) -> None:
    read, path = table(tmp_path / "t.csv", f"{HEAD};remarks;Remarks\n{ROW};late;late\n")
    assert lines(read, path) == said("remarks")


def test_one_answer_book_is_taken_in_by_its_own_name(tmp_path: Path) -> None:
    book = write_book(tmp_path / "by itself.xlsx")
    assert [one.sheet_code for one in read_returned(book, BY_CODE).returns] == [FIRST.code]
    filled = template(tmp_path / "t.xlsx", {"F3": "70 kN"})
    assert len(read_returned(filled, BY_CODE).returns) == 1


def test_of_one_student_so_many_rows_are_read_and_no_more(tmp_path: Path) -> None:
    read, path = table(tmp_path / "t.csv", f"{HEAD}\n" + f"{ROW}\n" * 23)
    assert len(read.returns) == 20
    expected = f"at most 20 rows for sheet {FIRST.code} (S01)"
    told = [
        f"t.csv, line {line}, cell A{line}: [too-many-rows] expected {expected}, found another row; "
        "delete what is not meant; it was not read"
        for line in (22, 23, 24)
    ]
    assert lines(read, path)[-3:] == told


def test_a_file_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "gone.csv"
    assert lines(read_class_table(path, BY_CODE), path) == said("gone")


def test_a_sheet_of_another_task_is_not_read_even_beside_a_known_student(tmp_path: Path) -> None:
    read, path = table(tmp_path / "t.csv", f"sheet;{HEAD}\n{ELSEWHERE};{ROW}\n")
    assert read.returns == ()
    assert lines(read, path) == said("a sheet of another task")


def test_two_students_of_one_name_need_a_code(tmp_path: Path) -> None:
    twin = replace(SECOND, student=Student("S02", "Maren Tolk"))
    path = tmp_path / "t.csv"
    path.write_text(f"{HEAD.replace('student', 'name')}\n{ROW.replace('S01', 'Maren Tolk')}\n", encoding="utf-8")
    read = read_class_table(path, {FIRST.code: FIRST, twin.code: twin})
    assert lines(read, path) == said("two of one name")


def test_text_beside_the_table_of_a_workbook_is_told_and_the_row_is_read(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    page = book.worksheets[0]
    page.append(HEAD.split(";"))
    page.append(["S01", "314", "94 kN"])
    page["N2"] = "see me"
    book.save(tmp_path / "t.xlsx")
    read = read_class_table(tmp_path / "t.xlsx", BY_CODE)
    assert answers(read) == {FIRST.code: {"1.a.A_s": "314", "1.a": "94 kN"}}
    assert lines(read, tmp_path / "t.xlsx") == said("beside the table")


def test_typed_numbers_dates_and_formulas_say_what_became_of_them(tmp_path: Path) -> None:
    path = template(tmp_path / "t.xlsx", {"F3": 70.5, "F4": "=1+1", "F5": 0.5})
    book = openpyxl.load_workbook(path)
    book["Class table"]["F5"].number_format = "0%"
    book.save(path)
    entries = {r.sheet_code: dict(r.entries)["1.a"] for r in read_class_table(path, BY_CODE).returns}
    assert entries[FIRST.code].raw == "70.5"
    assert entries[SECOND.code].spoiled
    assert entries[THIRD.code].raw == "50 %"
