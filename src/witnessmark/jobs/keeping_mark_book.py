"""The job `mark-book`: all tasks of a class with their weights: a workbook, a plain table and, asked for, OneRoster."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from witnessmark.documents.gradebook.mark_book import mark_book as workbook
from witnessmark.documents.gradebook.mark_book_csv import mark_book_csv
from witnessmark.documents.gradebook.mark_book_data import MarkBookData, StudentOfYear, TaskOfYear
from witnessmark.documents.gradebook.one_roster import one_roster
from witnessmark.files.class_folder.traces import MARK_BOOKS
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.opened import Opened, alone, open_class
from witnessmark.jobs.standings import TaskRead, read_task_standing
from witnessmark.marking.standing import marks_available
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Student
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

BOOK, TABLE, PACKED = MARK_BOOKS


@dataclass(frozen=True, slots=True)
class MarkBookKept:
    """What was written, how many tasks and students it holds, and how many answers still wait for a mark."""

    files: tuple[Path, ...]
    tasks: int
    students: int
    waiting: int


def keep_mark_book(class_path: Path, now: datetime, packed: bool = False) -> MarkBookKept:
    """Write the mark book of a class from its record; with `packed` the OneRoster files too, which hold names.

    Raises ProblemsFound when no task was issued yet.
    """
    with alone(class_path, "mark-book"):
        opened = open_class(class_path)
        with opened.record() as record:
            data = mark_book_data(opened, record, now)
        if not data.tasks:
            remedy = f"witnessmark issue {class_path} TASK"
            place = Place(str(class_path))
            raise ProblemsFound([Problem("not-issued", place, "a task that was issued", "none", remedy)])
        files = mark_book_files(data, now, packed)
        write_together(class_path, files)
        waiting = sum(standing.waiting for student in data.students for standing in student.standings)
        paths = tuple(class_path / name for name in files)
        return MarkBookKept(paths, len(data.tasks), len(data.students), waiting)


def mark_book_files(data: MarkBookData, now: datetime, packed: bool) -> dict[str, bytes]:
    """The files of a mark book by their names."""
    files = {BOOK: workbook(data, now), TABLE: mark_book_csv(data)}
    return files | {PACKED: one_roster(data)} if packed else files


def mark_book_data(opened: Opened, record: Record, now: datetime) -> MarkBookData:
    """Every task that was issued and every student of the list or the record, as on the day of `now`. A follow-up is
    left out: its sheets ask different things, of those alone who showed something, and give different marks."""
    today = now.astimezone().date()
    issued = [task for key in record.tasks() if (task := read_task_standing(record, key)).sheets]
    read = [task for task in issued if task.sheets[0].task.questions != EACH_ITS_OWN]
    students = _students(opened, read)
    tasks = tuple(_of_year(record, task) for task in read)
    rows = tuple(StudentOfYear(s, tuple(task.standing(s, today) for task in read)) for s in students)
    started = opened.folder.started or min((task.assigned for task in tasks), default=today)
    return MarkBookData(opened.title, started, today, tasks, rows, len(issued) - len(read))


def _students(opened: Opened, read: Sequence[TaskRead]) -> tuple[Student, ...]:
    """Those of the list with their groups of today, and those who have sheets and stand on it no longer; by code."""
    known = {sheet.student.code: sheet.student for task in read for sheet in task.sheets}
    known |= {student.code: student for student in opened.students}
    arranged = read[0].arranged if read else None
    return tuple(
        replace(student, group=arranged.group(code, student.group)) if arranged else student
        for code, student in sorted(known.items())
    )


def _of_year(record: Record, read: TaskRead) -> TaskOfYear:
    task = read.sheets[0].task
    issued = (row.at for row in record.journal(task.key) if row.event is Event.ISSUED)
    out_of = marks_available(read.sheets[0], read.aside)
    return TaskOfYear(task, min(issued).astimezone().date(), out_of)
