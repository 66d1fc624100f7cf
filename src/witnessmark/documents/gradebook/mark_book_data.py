"""What the mark book of a class shows, as values: its tasks with weights, and where each student stands in each."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from witnessmark.marking.standing import TaskStanding
from witnessmark.questions.sheet.task import Student, Task


@dataclass(frozen=True, slots=True)
class TaskOfYear:
    """One task: as it was set, the day on which its first sheet was issued, and the marks that it gives."""

    task: Task
    assigned: date
    out_of: Decimal


@dataclass(frozen=True, slots=True)
class StudentOfYear:
    """One student, and the standing in each task of the class, in the order of the tasks."""

    student: Student
    standings: tuple[TaskStanding, ...]


@dataclass(frozen=True, slots=True)
class MarkBookData:
    """The mark book of a class on a day; so many follow-ups are left out."""

    class_title: str
    started: date
    today: date
    tasks: tuple[TaskOfYear, ...]
    students: tuple[StudentOfYear, ...]
    left_out: int = 0

    def share(self, student: StudentOfYear, n: int) -> Decimal | None:
        """What a student earned of the n-th task, from 0 to 1; None where the task stays out."""
        marks, out_of = student.standings[n].marks, self.tasks[n].out_of
        return marks / out_of if marks is not None and out_of else None

    def mean(self, student: StudentOfYear) -> Decimal | None:
        """The weighted mean of the shares of a student, over the tasks that count; None where none does."""
        counts = [(self.tasks[n].task.weight, self.share(student, n)) for n in range(len(self.tasks))]
        weighed = [(weight, share) for weight, share in counts if share is not None]
        total = sum((weight for weight, _ in weighed), Decimal(0))
        return sum((weight * share for weight, share in weighed), Decimal(0)) / total if total else None

    def mean_of_task(self, n: int) -> Decimal | None:
        """The mean share of the n-th task over the students for whom it counts."""
        shares = [share for student in self.students if (share := self.share(student, n)) is not None]
        return sum(shares, Decimal(0)) / len(shares) if shares else None
