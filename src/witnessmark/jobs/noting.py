"""The job `note`: a progress note for one student, or for whoever supports them at the yard, to edit and send."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from witnessmark.documents.note.note import note_document
from witnessmark.documents.note.writer import docx_of
from witnessmark.files.class_folder.traces import NOTES
from witnessmark.files.class_folder.typed_into import Kept, sparing_typed
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.opened import alone
from witnessmark.jobs.opened_year import OpenedYear, open_year
from witnessmark.questions.sheet.task import Student
from witnessmark.review.year.progress import Progress, progress_of
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem

YARD = "yard"


@dataclass(frozen=True, slots=True)
class Noted:
    """What the note rests on, and its file; `kept` is an earlier one that somebody edited, which stays."""

    progress: Progress
    file: Path
    kept: tuple[Kept, ...]


def note(class_path: Path, code: str, day: date, for_yard: bool = False, with_marks: bool = False) -> Noted:
    """Write the note; raises ProblemsFound for an unknown student, and where nothing was marked yet."""
    with alone(class_path, "note"):
        opened = open_year(class_path)
        progress = progress_of(opened.year, opened.recurrences, _student(opened, class_path, code))
        document = note_document(opened.year.title, progress, opened.misconceptions, day, for_yard, with_marks)
        name = f"{YARD}/{code}.docx" if for_yard else f"{code}.docx"
        spared = sparing_typed(class_path / NOTES, {name: docx_of(document)})
        write_together(class_path, {f"{NOTES}/{file}": data for file, data in spared.files.items()})
        return Noted(progress, class_path / NOTES / spared.names[name], spared.kept)


def _student(opened: OpenedYear, class_path: Path, code: str) -> Student:
    students = {student.code: student for student in opened.year.students}
    if code not in students:
        where = Place(str(class_path / "students.csv"))
        remedy = near_or_all(code, students)
        raise ProblemsFound([Problem("no-student", where, "the code of a student", f"'{code}'", remedy)])
    return students[code]
