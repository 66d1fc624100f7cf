"""A class folder is made whole, and what is wrong in one is told with its place."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.files.class_folder.folder import read_class, start_class
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.files.shapes.yaml_text import UNPRINTABLE
from witnessmark.questions.sheet.task import Student, Task
from witnessmark.words.errors import ProblemsFound

NOW = datetime(2027, 1, 4, 9, tzinfo=UTC)


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    """An empty bank folder."""
    folder = tmp_path / "bank"
    folder.mkdir()
    return folder


@pytest.fixture
def made(tmp_path: Path, bank: Path) -> Path:
    """A class folder as it is started."""
    folder = tmp_path / "classes" / "first-year"
    start_class(folder, "Boatbuilding, first year", bank, NOW)
    return folder


def problems_of(folder: Path) -> list[str]:
    """What reading a class tells, without the folder in front."""
    return [str(p).removeprefix(f"{folder}/") for p in read_class(folder).problems]


def test_a_class_is_started_with_all_its_files(tmp_path: Path, bank: Path) -> None:
    folder = tmp_path / "first-year"
    files = start_class(folder, "Boatbuilding", bank, NOW)
    names = ["class.yaml", "students.csv", "tasks/example.txt", "README.txt"]
    assert list(files) == [folder / name for name in names]
    assert sorted(files) == sorted(p for p in folder.rglob("*") if p.is_file())
    assert (folder / "students.csv").read_text() == "code,name,group\n"
    assert "task: shear-1" in (folder / "tasks" / "example.txt").read_text()


def test_a_started_class_is_read_and_wants_its_students(made: Path, bank: Path) -> None:
    read = read_class(made)
    assert (read.title, read.bank, read.started, read.students) == (
        "Boatbuilding, first year",
        bank,
        date(2027, 1, 4),
        (),
    )
    (problem,) = problems_of(made)
    assert problem == (
        "students.csv:2:1: [no-students] expected a line for each student, found none;"
        " add a line for each student, such as A1,Kim Dekker,Westhaven"
    )


def test_the_example_of_a_task_is_a_task(made: Path) -> None:
    text = (made / "tasks" / "example.txt").read_text()
    task, problems = task_from_text(text, "shear-1.yaml", {"drain-hole"})
    assert problems == ()
    assert task == Task("shear-1", "Shear and punching", ("drain-hole",), date(2027, 1, 4))


def test_students_are_read(made: Path) -> None:
    (made / "students.csv").write_text("code,name,group\nA1,Kim Dekker,Westhaven\n")
    read = read_class(made)
    assert (read.students, read.problems) == ((Student("A1", "Kim Dekker", "Westhaven"),), ())


def test_class_and_bank_can_move_together(made: Path, bank: Path, tmp_path: Path) -> None:
    assert 'bank: "../../bank"' in (made / "class.yaml").read_text()
    moved = tmp_path / "elsewhere"
    moved.mkdir()
    bank.rename(moved / "bank")
    made.parent.rename(moved / "classes")
    assert read_class(moved / "classes" / "first-year").bank == moved / "bank"


@given(st.text(st.characters(codec="utf-8"), min_size=1, max_size=200))
def test_any_printable_title_is_read_back(tmp_path_factory: pytest.TempPathFactory, title: str) -> None:
    folder = tmp_path_factory.mktemp("class")
    tidy = " ".join(title.split())
    if not tidy or UNPRINTABLE.search(tidy):
        with pytest.raises(ProblemsFound, match="no-title"):
            start_class(folder, title, folder, NOW)
    else:
        start_class(folder, title, folder, NOW)
        assert read_class(folder).title == tidy


def test_a_class_is_never_overwritten(made: Path, bank: Path) -> None:
    before = {p: p.read_bytes() for p in made.rglob("*") if p.is_file()}
    with pytest.raises(ProblemsFound) as caught:
        start_class(made, "Another", bank, NOW)
    assert str(caught.value) == (
        f"{made}: [folder-exists] expected a name that is free, found a folder with files; choose another name"
    )
    assert {p: p.read_bytes() for p in made.rglob("*") if p.is_file()} == before


def test_a_class_needs_a_title(tmp_path: Path, bank: Path) -> None:
    with pytest.raises(ProblemsFound) as caught:
        start_class(tmp_path / "x", " ", bank, NOW)
    assert (
        str(caught.value)
        == f"{tmp_path / 'x'}: [no-title] expected a title of printable text, of at most 200 characters, found ''"
    )


def test_a_folder_without_a_class_is_told(tmp_path: Path) -> None:
    (problem,) = read_class(tmp_path).problems
    assert str(problem) == (
        f"{tmp_path}: [no-class] expected a class folder, found no class.yaml in it; witnessmark start {tmp_path}"
    )
    (problem,) = read_class(tmp_path / "x").problems
    assert problem.found == "no such folder"


BROKEN = {
    "keys missing": ("{}\n", [
        "class.yaml:1:1: [missing-key] expected the key 'class', found none; add class:",
        "class.yaml:1:1: [missing-key] expected the key 'bank', found none; add bank:",
    ]),
    "not keys": ("- a\n", ["class.yaml:1:1: [wrong-value] expected keys and values, found a list; type key: value"]),
    "empty": ("", ["class.yaml:1:1: [empty-file] expected keys and values, found an empty file"]),
    "a key misspelt": ("class: x\nbank: .\nstated: 2027-01-04\n", [
        ("class.yaml:3:1: [unknown-key] expected one of class, bank, started, groups, print, found 'stated'; "
         "did you mean started?"),
    ]),
    "a title that is no text": ("class: 12\nbank: .\n", [
        "class.yaml:1:8: [wrong-value] expected text, found 12; put it in quotes",
    ]),
    "a date that is none": ("class: x\nbank: .\nstarted: 4 January\n", [
        "class.yaml:3:10: [wrong-value] expected a date, found '4 January'; type it like 2027-03-05",
    ]),
    "a tab": ("class:\tx\nbank: .\n", [
        "class.yaml:1:7: [tab] expected blanks, found a tab; type two blanks for each step inwards",
    ]),
}  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), BROKEN.values(), ids=BROKEN.keys())
def test_what_is_wrong_in_class_yaml_is_told_at_its_place(made: Path, text: str, expected: list[str]) -> None:
    (made / "students.csv").write_text("code\nA1\n")
    (made / "class.yaml").write_text(text)
    assert problems_of(made) == expected


def test_a_missing_bank_is_told(made: Path, bank: Path) -> None:
    bank.rmdir()
    assert problems_of(made)[0] == (
        f"class.yaml:3:7: [no-bank] expected the folder of a bank, found no folder {bank};"
        " type the path from the class folder to the bank"
    )


def test_class_yaml_of_an_older_encoding_is_told(made: Path) -> None:
    (made / "class.yaml").write_bytes("class: Bootsbau für alle\nbank: .\n".encode("cp1252"))
    assert problems_of(made)[0] == (
        "class.yaml:1:18: [not-utf-8] expected text in UTF-8, found the byte FC;"
        " save it again as UTF-8 (CSV UTF-8 in a spreadsheet)"
    )


def test_a_missing_list_of_students_is_told(made: Path) -> None:
    (made / "students.csv").unlink()
    (problem,) = problems_of(made)
    assert problem == (
        "students.csv: [no-students] expected a list of students, found none;"
        " write one with the headings code,name,group"
    )


def test_all_problems_of_a_class_are_told_at_once(made: Path) -> None:
    (made / "class.yaml").write_text("bank: nowhere\n")
    (made / "students.csv").write_text("code\nA1\nA1\n")
    assert [line.split("]")[0].split("[")[1] for line in problems_of(made)] == ["missing-key", "no-bank", "code-twice"]
