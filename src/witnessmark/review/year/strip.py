"""The strip of a class: for each student and each part of the year what share of the marks came back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.arranged import Arranged, Excuse
from witnessmark.questions.sheet.task import Sheet, Student
from witnessmark.review.year.history import SetTask, Year
from witnessmark.review.year.task_parts import asks_of, part_mark


class Came(StrEnum):
    """What came of a part."""

    MARKED = "marked"
    WAITS = "waits"
    NOT_BACK = "not back"
    EXCUSED = "excused"
    NOT_SET = "not set"


@dataclass(frozen=True, slots=True)
class Cell:
    """One part of one student: its label, what came of it, the marks and what there was to earn; `again` are the marks
    of the last further attempt at which it is marked. Of an excused part `said` is the excuse."""

    label: str
    came: Came
    marks: float = 0.0
    out_of: float = 0.0
    again: float | None = None
    said: str = ""

    @property
    def share(self) -> float:
        """Marks over marks available, 0 to 1; 0 where there is nothing to earn."""
        return self.marks / self.out_of if self.out_of else 0.0

    @property
    def share_again(self) -> float | None:
        """The same of the further attempt; None where there is none."""
        return self.again / self.out_of if self.again is not None and self.out_of else None


@dataclass(frozen=True, slots=True)
class Row:
    """One student: the cells of each task, in the order of the year."""

    student: Student
    tasks: tuple[tuple[Cell, ...], ...]


def strip_of(year: Year) -> tuple[Row, ...]:
    """A row for each student of the class, in the order of the list."""
    tasks = [(task, _by_student(task.sheets)) for task in year.tasks]
    return tuple(
        Row(student, tuple(_cells(task, of.get(student.code, []), student, year.arranged) for task, of in tasks))
        for student in year.students
    )


def _by_student(sheets: Sequence[Sheet]) -> dict[str, list[Sheet]]:
    """The sheets of each student by code, the first attempt first."""
    found: dict[str, list[Sheet]] = {}
    for sheet in sorted(sheets, key=lambda sheet: sheet.attempt):
        found.setdefault(sheet.student.code, []).append(sheet)
    return found


def _cells(task: SetTask, mine: Sequence[Sheet], student: Student, arranged: Arranged) -> tuple[Cell, ...]:
    excuse = arranged.excuse(task.key, student.code)
    if not mine:
        return (Cell("", Came.EXCUSED if excuse else Came.NOT_SET, said=excuse.value if excuse else ""),)
    back = any(sheet.code in task.outcomes for sheet in mine)
    cells = _of_sheet(task, mine[0])
    if excuse is Excuse.EXEMPT or (excuse is Excuse.ABSENT and not back):
        return tuple(Cell(cell.label, Came.EXCUSED, said=excuse.value) for cell in cells)
    for sheet in mine[1:]:
        later = {cell.label: cell for cell in _of_sheet(task, sheet)}
        cells = tuple(_again(cell, later.get(cell.label)) for cell in cells)
    return cells


def _again(first: Cell, later: Cell | None) -> Cell:
    """A part with what the further attempt earned; without a first one there is as much to earn as at the later."""
    if later is None or later.came is not Came.MARKED:
        return first
    return replace(first, again=later.marks, out_of=first.out_of or later.out_of)


def _of_sheet(task: SetTask, sheet: Sheet) -> tuple[Cell, ...]:
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
