"""A small invented class on the bank of the repository, and what its apprentices hand in."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from marking.students import Answers, Habit, worked
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.opened import open_class
from witnessmark.questions.model.parts import Kind
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import unit_of

BANK_FOLDER = Path(__file__).parents[2] / "bank"
NOW = datetime(2027, 1, 4, 9, tzinfo=UTC)
LATER = datetime(2027, 1, 25, 9, tzinfo=UTC)
TASK = "shear-1"
STUDENTS = (
    ("HB01", "Idris Vael", "Heron Boats"), ("HB02", "Oona Brisk", "Heron Boats"), ("LW01", "Maren Tolk", "Low Wharf"),
    ("LW02", "Pavel Ondry", "Low Wharf"),
)  # fmt: skip


def write_students(folder: Path, students: Sequence[tuple[str, str, str]]) -> None:
    """The list of students of a class."""
    lines = ["code,name,group", *(",".join(s) for s in students)]
    (folder / "students.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


def write_task(folder: Path, questions: str = "[drain-hole, clevis-pin]", key: str = TASK, more: str = "") -> None:
    """A task of a class."""
    text = f"task: {key}\ntitle: Shear and punching\nquestions: {questions}\ndue: 2027-01-22\n{more}"
    (folder / "tasks" / f"{key}.yaml").write_text(text, encoding="utf-8")


def small_class(folder: Path, bank: Path = BANK_FOLDER) -> Path:
    """A class of four with one task that is not yet issued."""
    start_class(folder, "First years", bank, NOW)
    write_students(folder, STUDENTS)
    write_task(folder)
    return folder


def sheets_of(folder: Path, task: str = TASK) -> dict[str, Sheet]:
    """The sheets that were issued, by student code."""
    with open_class(folder).record() as record:
        return {sheet.student.code: sheet for sheet in record.sheets(task)}


def right_answers(sheet: Sheet) -> Answers:
    """Every result and judgement of a sheet, worked properly, by ask key; lines left blank."""
    return {
        f"{n}.{key}": text
        for n, variant in enumerate(sheet.variants, 1)
        for key, text in worked(variant, Habit(written=4), shows_lines=False).items()
    }


def hand_in(folder: Path, sheet: Sheet, answers: Mapping[str, str], name: str = "", task: str = TASK) -> Path:
    """An answer book with these answers in the class's folder of returned books; units go into their own cells."""
    typed = {key: _cells(sheet, key, text) for key, text in answers.items()}
    path = folder / "returned" / task / (name or f"{sheet.student.code}.xlsx")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(answer_book(sheet, typed))
    return path


def _cells(sheet: Sheet, key: str, text: str) -> tuple[str, str]:
    number, _, within = key.partition(".")
    question = sheet.variants[int(number) - 1].question
    unit = unit_of(question, within) if question.part(within.partition(".")[0]).kind is Kind.QUANTITY else ""
    if unit and text.endswith(f" {unit}"):
        return text.removesuffix(f" {unit}"), unit
    return text, ""


def contents(folder: Path, without: Sequence[str] = ()) -> dict[str, str]:
    """The hash of every file below a folder, by its path in it; those whose name is in `without` are left out.

    So are the copies of the record, and the file by which commands wait for each other.
    """
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name not in (*without, ".in-use") and path.relative_to(folder).parts[0] != "copies"
    }


def record_lines(folder: Path) -> list[str]:
    """The whole record of a class as lines of JSON."""
    with open_class(folder).record() as record:
        return list(record.export_jsonl(names=True))
