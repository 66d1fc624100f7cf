"""Removal names every document that holds the student, writes those of the class anew, and leaves the rest alone."""

import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from documents.pages import words_of_pdf
from jobs.copied import copied
from jobs.teaching_class import taught
from witnessmark.cli.main import main
from witnessmark.files.safe.contents import texts_in
from witnessmark.jobs.printing import Wanted, print_sheets

TASK, DAY = "shear-1", "2027-02-01"
PRINTS = f"issued/{TASK}/to-print"
ANEW = (
    "mark-book.xlsx", "mark-book.csv", "mark-book-oneroster.zip", "year.html", "year.pdf", "year-codes.html",
    "year-codes.pdf", f"visits/{DAY}.html", f"visits/{DAY}.pdf", "visits/Heron-Boats.html", "visits/Heron-Boats.pdf",
    f"{PRINTS}/all.pdf", f"{PRINTS}/Heron-Boats.pdf",
)  # fmt: skip
GONE = (
    f"{PRINTS}/HB02.pdf", f"{PRINTS}/HB00-HB02.pdf", f"visits/{DAY}/HB02.pdf", "visits/Heron-Boats/HB02.pdf",
    "notes/HB02.docx", "notes/HB02 (2).docx", "notes/yard/HB02.docx", "hb02.jsonl",
    f"issued/{TASK}-follow-up/sheets/HB02.pdf", f"issued/{TASK}-follow-up/pages/HB02.html",
    f"issued/{TASK}-follow-up/books/HB02.xlsx",
)  # fmt: skip
LEFT = (
    f"{PRINTS}/Low-Wharf.pdf", f"{PRINTS}/HB00.pdf", "visits/Low-Wharf.html", "visits/Low-Wharf.pdf", "notes/HB00.docx",
    f"visits/{DAY}/HB00.pdf", f"issued/{TASK}-follow-up/sheets/HB00.pdf", f"second-marks-{TASK}.xlsx", "class.jsonl",
)  # fmt: skip
BY_HAND = (f"second-marks-{TASK}.xlsx", "class.jsonl")


def run(*command: str | Path) -> str:
    """What a command prints."""
    done = CliRunner().invoke(main, [str(part) for part in command])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of which every kind of document was written."""
    folder = copied(taught, tmp_path_factory.mktemp("documents") / "class")
    for command in (
        ["review"], ["review", "--no-names"], ["visits", DAY], ["visits", "Heron Boats"], ["visits", "Low Wharf"],
        ["mark-book", "--oneroster"], ["follow-up", TASK], ["note", "HB02"], ["note", "HB02", "--yard"],
        ["note", "HB00"], ["print", TASK], ["print", TASK, "--group", "Heron Boats"],
        ["print", TASK, "--group", "Low Wharf"], ["print", TASK, "HB02"], ["print", TASK, "HB00", "HB02"],
        ["print", TASK, "HB00"], ["second", TASK],
    ):  # fmt: skip
        run(command[0], folder, *command[1:])
    with zipfile.ZipFile(folder / "notes" / "HB02.docx", "a") as edited:
        edited.writestr("docProps/more.txt", "somebody typed")
    run("note", folder, "HB02")
    run("export", folder, folder / "hb02.jsonl", "--student", "HB02")
    run("export", folder, folder / "class.jsonl")
    return folder


@pytest.fixture(scope="module")
def before(folder: Path) -> Mapping[str, bytes]:
    """Every file as it was before the removal."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture(scope="module")
def listed(folder: Path, before: Mapping[str, bytes]) -> str:
    """What `remove` lists before it does anything."""
    assert before
    return run("remove", folder, "HB02")


@pytest.fixture(scope="module")
def removed(folder: Path, listed: str) -> str:
    """The same class after the removal."""
    assert listed
    return run("remove", folder, "HB02", "--apply", "--who", "K. Lund")


def part(told: str, heading: str) -> list[str]:
    """The lines below a heading."""
    lines = told.splitlines()
    start = lines.index(heading) + 1
    return [line.strip() for line in lines[start : next(
        (n for n in range(start, len(lines)) if not lines[n].startswith("  ")), len(lines))]]  # fmt: skip


def test_every_document_that_would_go_or_be_written_anew_is_listed_first(folder: Path, listed: str) -> None:
    for name in (*ANEW, *GONE):
        assert f"  {folder / name}\n" in listed, name
    anew = part(listed, "would be written anew without it:")
    assert {str(folder / name) for name in ANEW} <= set(anew)
    for name in LEFT:
        assert f"  {folder / name}\n" not in listed, name
    by_hand = part(listed, "look by hand for:")
    for name in BY_HAND:
        assert any(line.startswith(f"{folder / name}: holds the student's lines") for line in by_hand), name


def test_documents_of_the_class_are_there_again_without_the_student(folder: Path, removed: str, tmp_path: Path) -> None:
    assert {str(folder / name) for name in ANEW} <= set(part(removed, "written anew without it:"))
    for name in ANEW:
        assert (folder / name).is_file(), name
        assert texts_in(folder / name, {"HB02", "Oona"}) == frozenset(), name
        if name.endswith(".pdf"):
            said = " ".join(words_of_pdf((folder / name).read_bytes(), tmp_path))
            assert "HB00" in said, name
            assert "HB02" not in said, name
            assert "Oona" not in said, name
    rows = [row[0] for row in load_workbook(folder / "mark-book.xlsx").worksheets[0].values]
    assert "HB00" in rows
    assert "LB01" in (folder / "visits" / f"{DAY}.html").read_text(encoding="utf-8")


def test_what_is_printed_anew_holds_the_sheets_of_those_who_stay(
    folder: Path, removed: str, before: Mapping[str, bytes]
) -> None:
    assert removed
    for name, wanted in (("all", Wanted()), ("Heron-Boats", Wanted(group="Heron Boats"))):
        again = (folder / PRINTS / f"{name}.pdf").read_bytes()
        assert again != before[f"{PRINTS}/{name}.pdf"]
        printed = print_sheets(folder, TASK, wanted)
        assert "HB02" not in {sheet.student.code for sheet in printed.sheets}
        assert printed.file.read_bytes() == again


def test_the_students_own_documents_are_gone_and_nobody_elses(
    folder: Path, removed: str, before: Mapping[str, bytes]
) -> None:
    assert removed
    assert [name for name in GONE if (folder / name).exists()] == []
    assert [name for name in LEFT if (folder / name).read_bytes() != before[name]] == []


def test_what_cannot_be_written_anew_is_told(tmp_path: Path) -> None:
    folder = copied(taught, tmp_path / "class")
    run("visits", folder, DAY)
    text = (folder / "class.yaml").read_text(encoding="utf-8")
    (folder / "class.yaml").write_text(text.replace(f"{DAY}, ", "").replace(f"[{DAY}]", "[]"), encoding="utf-8")
    told = run("remove", folder, "HB02", "--apply", "--who", "K. Lund")
    page = folder / "visits" / f"{DAY}.html"
    assert not page.exists()
    assert any(
        line.startswith(f"{page}: was deleted, not written anew: expected a day on which a group is visited")
        for line in part(told, "look by hand for:")
    )
