"""Every problem that a returned file can have, provoked through the public door, with its whole line."""

import io
import os
import re
import zipfile
from pathlib import Path

import pytest

from witnessmark.files.workbooks import archive as workbook_archive
from witnessmark.files.workbooks import found_files
from witnessmark.files.workbooks.returns import read_returns
from workbooks import bad_returns
from workbooks.books import BY_CODE, FIRST, SECOND, changed, opened, with_member, write_book

CASES = Path(__file__).parents[1] / "cases" / "workbooks"
SOURCES = ("workbooks", "tables")


def cases() -> dict[str, tuple[int, list[str]]]:
    """By the name of the function that makes the folder: how many returns, and which lines."""
    found: dict[str, tuple[int, list[str]]] = {}
    for block in (CASES / "returns_problems.txt").read_text(encoding="utf-8").split("\n# ")[1:]:
        title, *lines = block.split("\n")
        name, _, taken = title.partition(": ")
        found[name] = (int(taken), [line for line in lines if line])
    return found


@pytest.mark.parametrize("name", cases())
def test_a_problem_has_its_whole_line_and_stops_nothing_else(name: str, tmp_path: Path) -> None:
    taken, lines = cases()[name]
    folder = tmp_path / "back"
    folder.mkdir()
    getattr(bad_returns, name)(folder)
    read = read_returns(folder, BY_CODE)
    assert [str(problem).replace(str(folder), "back") for problem in read.problems] == lines
    assert len(read.returns) == taken
    if lines and name != "empty":
        write_book(folder / "zz.xlsx", BY_CODE[SECOND.code])
        assert SECOND.code in {r.sheet_code for r in read_returns(folder, BY_CODE).returns}


def test_a_file_that_may_not_be_read_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write_book(tmp_path / "S01.xlsx")

    def refuse(*asked: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    (problem,) = read_returns(tmp_path, BY_CODE).problems
    found, remedy = "Permission denied", "close it in other programs and look whether you may read it"
    assert str(problem) == f"{path}: [not-readable] expected a file that can be read, found {found}; {remedy}"


def test_a_folder_of_too_many_files_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(found_files, "MOST_FILES", 2)
    for name in "abc":
        (tmp_path / name).touch()
    lines = [str(problem) for problem in read_returns(tmp_path, BY_CODE).problems]
    remedy = "take them in from several folders"
    assert lines[0] == f"{tmp_path}: [too-many-files] expected at most 2 files, found more; {remedy}"
    assert len(lines) == 3


def test_the_name_of_the_file_decides_when_codes_inside_disagree(tmp_path: Path) -> None:
    changed(tmp_path / f"{FIRST.code}.xlsx", {"B2": SECOND.code})
    read = read_returns(tmp_path, BY_CODE)
    assert [r.sheet_code for r in read.returns] == [FIRST.code]
    assert read.problems == ()


def test_every_code_in_the_source_is_provoked_by_a_case() -> None:
    files = Path(workbook_archive.__file__).parents[1]
    modules = [path for room in SOURCES for path in sorted((files / room).glob("*.py"))]
    modules.remove(files / "tables" / "csv_cells.py")  # its codes: tests/cases/students_csv_problems.txt
    modules.remove(files / "tables" / "gradebook_marks.py")  # its codes: tests/cli/test_moderate_file.py
    modules.remove(files / "workbooks" / "answer_texts.py")  # its codes: tests/questions/test_answer_text.py
    source = "".join(path.read_text(encoding="utf-8") for path in modules)
    codes = set(re.findall(r'Problem\(\s*"([a-z-]+)"', source))
    provoked = ("returns_problems.txt", "class_table_problems.txt")
    lines = "".join((CASES / name).read_text(encoding="utf-8") for name in provoked)
    assert len(codes) > 20
    assert codes - {"too-many-files", "too-many-rows"} <= set(re.findall(r": \[([a-z-]+)\] ", lines))


def test_flipped_bytes_never_raise(tmp_path: Path) -> None:
    good = write_book(tmp_path / "x.xlsx").read_bytes()
    path = tmp_path / "folder" / "S01.xlsx"
    path.parent.mkdir()
    for at in range(0, len(good), 97):
        path.write_bytes(good[:at] + bytes([good[at] ^ 0x55]) + good[at + 1 :])
        read = read_returns(path.parent, BY_CODE)
        assert len(read.returns) + len(read.problems) >= 1


def test_mutilated_pages_never_raise(tmp_path: Path) -> None:
    book = opened()
    book["Answers"]["C8"], book["Answers"]["C9"] = 1.5, "=1/0"
    out = io.BytesIO()
    book.save(out)
    with zipfile.ZipFile(out) as archive:
        page = archive.read("xl/worksheets/sheet1.xml")
    path = tmp_path / "S01.xlsx"
    for at in range(0, len(page), 211):
        with_member(path, "xl/worksheets/sheet1.xml", page[:at] + page[at + 7 :], out.getvalue())
        read = read_returns(tmp_path, BY_CODE)
        assert len(read.returns) + len(read.problems) >= 1
