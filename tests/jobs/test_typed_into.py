"""What somebody typed into an issued workbook stays: `issue` writes a fresh one beside it, and says so."""

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from jobs.copied import issued_class
from jobs.small_class import STUDENTS, TASK, contents, sheets_of, write_students
from witnessmark.cli.main import main
from witnessmark.files.class_folder.typed_into import LIST
from witnessmark.files.safe.contents import texts_in

LATE = (*STUDENTS, ("LW03", "Rune Aske", "Low Wharf"))


def run(*words: object, code: int = 0) -> Any:
    """A command that ends with this exit code."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == code, done.output
    return done


def typed_into(path: Path, cell: str, text: str) -> bytes:
    """Types into a workbook as a spreadsheet program does; the bytes that are there then."""
    book = load_workbook(path)
    book.worksheets[0][cell] = text
    book.save(path)
    return path.read_bytes()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A class that was issued its task."""
    return issued_class(tmp_path / "class")


def test_a_class_table_and_a_book_that_somebody_typed_into_stay_and_are_named(folder: Path) -> None:
    issued = folder / "issued" / TASK
    table = typed_into(issued / "class-table.xlsx", "D9", "94 kN")
    book = typed_into(issued / "books" / "HB01.xlsx", "C9", "94 kN")
    write_students(folder, LATE)
    said = run("issue", folder, TASK).stdout
    assert (issued / "class-table.xlsx").read_bytes() == table
    assert (issued / "books" / "HB01.xlsx").read_bytes() == book
    assert "LW03" in str([c.value for row in load_workbook(issued / "class-table (2).xlsx").worksheets[0] for c in row])
    assert (issued / "books" / "HB01 (2).xlsx").is_file()
    assert not list(issued.glob("books/HB02 (*")), "nobody typed into that one"
    for kept, fresh in (("class-table.xlsx", "class-table (2).xlsx"), ("HB01.xlsx", "HB01 (2).xlsx")):
        (line,) = [line for line in said.splitlines() if f"{kept}:" in line]
        assert line.endswith(fresh)
    assert f"{issued / 'class-table (2).xlsx'}" in said.splitlines()[1], "the path to open is that of the fresh one"


def test_what_is_kept_is_told_to_machines(folder: Path) -> None:
    table = folder / "issued" / TASK / "class-table.xlsx"
    typed_into(table, "D9", "94 kN")
    told = json.loads(run("issue", folder, TASK, "--json").stdout)
    assert told["kept"] == [{"file": str(table), "fresh": str(table.with_name("class-table (2).xlsx"))}]
    assert json.loads(run("issue", folder, TASK, "--json").stdout)["files"][0] == told["kept"][0]["fresh"]


def test_a_fresh_one_that_was_typed_into_stays_as_well(folder: Path) -> None:
    issued = folder / "issued" / TASK
    kept = []
    for name in ("class-table.xlsx", "class-table (2).xlsx"):
        kept.append(typed_into(issued / name, "D9", f"typed into {name}"))
        run("issue", folder, TASK)
    assert [(issued / name).read_bytes() for name in ("class-table.xlsx", "class-table (2).xlsx")] == kept
    assert (issued / "class-table (3).xlsx").is_file()


def test_what_an_earlier_program_wrote_with_other_bytes_is_replaced(folder: Path) -> None:
    table = folder / "issued" / TASK / "class-table.xlsx"
    now = table.read_bytes()
    other = typed_into(table, "A40", "as an earlier program wrote it")
    with (table.parent / LIST).open("a", encoding="utf-8") as file:
        file.write(f"{hashlib.sha256(other).hexdigest()}\n")
    run("issue", folder, TASK)
    assert table.read_bytes() == now
    assert not (table.parent / "class-table (2).xlsx").exists()


def test_without_the_list_what_this_program_writes_is_still_known(folder: Path) -> None:
    issued = folder / "issued" / TASK
    before = contents(issued)
    (issued / LIST).unlink()
    run("issue", folder, TASK)
    assert contents(issued) == before


def test_a_removal_takes_the_copies_along_and_the_list_names_nobody(folder: Path) -> None:
    issued = folder / "issued" / TASK
    typed_into(issued / "books" / "HB01.xlsx", "C9", "94 kN")
    run("issue", folder, TASK)
    code = sheets_of(folder)["HB01"].code
    run("remove", folder, "HB01", "--who", "K. Dekker", "--apply")
    assert not list(issued.glob("books/HB01*"))
    assert texts_in(issued / "class-table.xlsx", {code, "Idris"}) == frozenset(), (
        "written anew, since nobody typed into it"
    )
    listed = (issued / LIST).read_text(encoding="utf-8")
    assert not any(text in listed for text in ("HB01", code, "Idris"))
