"""The year of a class as values: the tasks in the order in which they were set, and the visits between them."""

from dataclasses import dataclass, field
from datetime import date

from witnessmark.marking.outcome import ClassOutcomes
from witnessmark.questions.sheet.arranged import Arranged
from witnessmark.questions.sheet.task import Sheet, Student


@dataclass(frozen=True, slots=True)
class SetTask:
    """One task as it was set: when its first sheet was issued, its sheets, and the outcomes of those that came back.

    `follows` is the key of the task that a follow-up belongs to, empty for any other task.
    """

    key: str
    title: str
    issued: date
    sheets: tuple[Sheet, ...]
    outcomes: ClassOutcomes
    follows: str = ""

    @property
    def back(self) -> tuple[Sheet, ...]:
        """The sheets that came back and were marked."""
        return tuple(sheet for sheet in self.sheets if sheet.code in self.outcomes)


@dataclass(frozen=True, slots=True)
class Visit:
    """What was done with one student on a visit: the day, the misconceptions taken up, the teacher's note."""

    student: str
    day: date
    misconceptions: tuple[str, ...] = ()
    note: str = ""
    who: str = ""


@dataclass(frozen=True, slots=True)
class Year:
    """A class over its year, tasks in the order of issue; `students` are those who are in it now, and `arranged` what
    their teacher arranged for them."""

    title: str
    students: tuple[Student, ...]
    tasks: tuple[SetTask, ...]
    visits: tuple[Visit, ...] = ()
    arranged: Arranged = field(default_factory=Arranged)

    @property
    def groups(self) -> tuple[str, ...]:
        """The groups of the students, each once, in the order of the list."""
        return tuple(dict.fromkeys(student.group for student in self.students))

    def task(self, key: str) -> SetTask | None:
        """The task of this key, or None."""
        return next((task for task in self.tasks if task.key == key), None)
