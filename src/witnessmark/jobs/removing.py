"""The job `remove`: all data of one student taken out of a class, on request."""

import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.students_csv import without_student
from witnessmark.files.safe.atomic import write_file
from witnessmark.jobs.opened import Opened, open_class
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Removal:
    """What was removed: sheets of the record, files, and what must be made anew or looked at by hand."""

    student: str
    sheets: int
    files: tuple[Path, ...]
    by_hand: tuple[str, ...]


def remove(class_path: Path, code: str, who: str, now: datetime) -> Removal:
    """Remove a student from the record, the written files and students.csv; raises ProblemsFound for an unknown code.

    Gradebooks and reviews are deleted, since they hold the name; `return` and `review` write them anew.
    """
    opened = open_class(class_path)
    with opened.record() as record:
        codes = {sheet.student.code for key in record.tasks() for sheet in record.sheets(key)}
        if code not in codes | {student.code for student in opened.students}:
            raise ProblemsFound([Problem("no-student", Place(str(class_path)), "the code of a student", code)])
        removed = record.remove_student(code, now, who)
    files = _files_of(opened, code)
    for file in files:
        shutil.rmtree(file) if file.is_dir() else file.unlink()
    _strike_from_list(class_path / "students.csv", code)
    by_hand = (
        f"returned books under other names in {class_path / 'returned'}",
        "copies you sent, printed or backed up",
    )
    return Removal(code, removed.sheets, files, by_hand)


def _files_of(opened: Opened, code: str) -> tuple[Path, ...]:
    """Every file that bears the student's code, and every one that holds a whole class."""
    own = [p for folder in ("issued", "returned", "feedback") for p in (opened.path / folder).rglob(f"{code}.*")]
    whole = [
        *opened.path.glob("gradebook-*.xlsx"),
        *opened.path.glob("review-*"),
        *opened.path.rglob("class-table.xlsx"),
    ]
    return tuple(sorted({*own, *whole}))


def _strike_from_list(file: Path, code: str) -> None:
    before = file.read_bytes()
    after = without_student(before, str(file), code)
    if after != before:
        write_file(file, after)
