"""The strip of a class: for each student and each part of the year what share of the marks came back."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.task import Student
from witnessmark.review.year.history import SetTask, Year
from witnessmark.review.year.task_parts import asks_of, part_mark


class Came(StrEnum):
    """What came of a part."""

    MARKED = "marked"
    WAITS = "waits"
    NOT_BACK = "not back"
    NOT_SET = "not set"


@dataclass(frozen=True, slots=True)
class Cell:
    """One part of one student: its label, what came of it, the marks and what there was to earn."""

    label: str
    came: Came
    marks: float = 0.0
    out_of: float = 0.0

    @property
    def share(self) -> float:
        """Marks over marks available, 0 to 1; 0 where there is nothing to earn."""
        return self.marks / self.out_of if self.out_of else 0.0


@dataclass(frozen=True, slots=True)
class Row:
    """One student: the cells of each task, in the order of the year."""

    student: Student
    tasks: tuple[tuple[Cell, ...], ...]


def strip_of(year: Year) -> tuple[Row, ...]:
    """A row for each student of the class, in the order of the list."""
    return tuple(Row(student, tuple(_cells(task, student) for task in year.tasks)) for student in year.students)


def _cells(task: SetTask, student: Student) -> tuple[Cell, ...]:
    sheet = next((s for s in task.sheets if s.student.code == student.code), None)
    if sheet is None:
        return (Cell("", Came.NOT_SET),)
    outcomes = task.outcomes.get(sheet.code)
    return tuple(_cell(outcomes, n, part) for n, v in enumerate(sheet.variants, 1) for part in v.question.parts)


def _cell(outcomes: Mapping[str, Outcome] | None, number: int, part: Part) -> Cell:
    label = f"{number}{part.key}"
    if outcomes is None:
        return Cell(label, Came.NOT_BACK)
    mark = part_mark(outcomes, number, part)
    found = [outcomes[ask.key] for ask in asks_of(number, part) if ask.key in outcomes]
    out_of = float(sum(outcome.out_of for outcome in found))
    return Cell(label, Came.WAITS, 0.0, out_of) if mark is None else Cell(label, Came.MARKED, mark, out_of)
