"""The list of a class (students.csv): looked at before it is kept, and kept only over the list that was looked at."""

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.folder import STUDENTS
from witnessmark.files.class_folder.students_csv import read_students
from witnessmark.files.safe.atomic import write_together
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.plain_text import LARGEST, decoded
from witnessmark.jobs.opened import alone
from witnessmark.questions.sheet.task import Student
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class StudentList:
    """A list as it was read: its text, the students in it, every problem, and `seal`, which tells whether the file has
    changed since."""

    text: str
    students: tuple[Student, ...]
    problems: tuple[Problem, ...]
    seal: str

    def problems_at(self, line: int) -> tuple[Problem, ...]:
        """The problems of a line, counted from 1."""
        return tuple(problem for problem in self.problems if problem.place.line == line)

    @property
    def without_line(self) -> tuple[Problem, ...]:
        """The problems of the whole list."""
        return tuple(problem for problem in self.problems if not problem.place.line)


def look_at_students(data: bytes) -> StudentList:
    """A list that may be kept, from the bytes of a file or of what was typed; nothing is raised for its problems."""
    students, problems = read_students(data, STUDENTS)
    text, _ = decoded(data, STUDENTS)
    return StudentList(text, students, problems, _seal(data))


def students_of(class_path: Path) -> StudentList:
    """The list of a class as its file tells it; an empty one, with a problem, where there is no file."""
    data, problems = read_bounded(class_path / STUDENTS, LARGEST)
    if problems:
        return StudentList("", (), problems, _seal(b""))
    return look_at_students(data)


def keep_students(class_path: Path, data: bytes, seal: str, now: datetime) -> StudentList:
    """Keep a list in the place of the one that has this `seal`.

    Raises ProblemsFound with every problem of the list, and where the file has changed since it was looked at.
    """
    found = look_at_students(data)
    if found.problems:
        raise ProblemsFound(found.problems)
    with alone(class_path, "students", now):
        if students_of(class_path).seal != seal:
            expected, remedy = "the list as it was shown to you", "look at the list once more, then make your change"
            raise ProblemsFound([Problem("stale", Place(STUDENTS), expected, "one that was changed since", remedy)])
        write_together(class_path, {STUDENTS: data})
    return found


def _seal(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
