"""Where every student stands in a task, from the record: days, lateness, attempts, excuses."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from witnessmark.marking.outcome import ClassOutcomes
from witnessmark.marking.standing import (
    AttemptStanding,
    State,
    TaskStanding,
    attempt_standing,
    marks_set_aside,
    task_standing,
)
from witnessmark.questions.sheet.arranged import Arranged
from witnessmark.questions.sheet.task import Sheet, Student
from witnessmark.record.record import Record
from witnessmark.record.rows import StoredReturn

BY_WORD = frozenset({State.ABSENT, State.EXEMPT, State.LEFT})


@dataclass(frozen=True, slots=True)
class TaskRead:
    """A task as the record has it: the sheets that stand, in the order of issue, with the students' groups of today;
    the outcomes that stand; on which day each sheet came in; what was arranged; what parts set aside still give."""

    sheets: tuple[Sheet, ...]
    outcomes: ClassOutcomes
    received: Mapping[str, date]
    arranged: Arranged
    aside: Mapping[str, Decimal]

    def attempt(self, sheet: Sheet) -> AttemptStanding:
        """One sheet with its days and what was taken off."""
        return attempt_standing(sheet, self.outcomes.get(sheet.code, {}), self.received.get(sheet.code), self.arranged)

    def attempts(self) -> dict[str, AttemptStanding]:
        """Every sheet's, by its code."""
        return {sheet.code: self.attempt(sheet) for sheet in self.sheets}

    def out(self, today: date) -> dict[str, str]:
        """Why the task stays out of a student's marks, by student code, where it does by somebody's word."""
        students = {sheet.student.code: sheet.student for sheet in self.sheets}
        states = {code: self.standing(student, today).state for code, student in students.items()}
        return {code: state.value for code, state in states.items() if state in BY_WORD}

    def standing(self, student: Student, today: date) -> TaskStanding:
        """Where a student of a task that was issued stands."""
        mine = [sheet for sheet in self.sheets if sheet.student.code == student.code]
        task = self.sheets[0].task
        return task_standing(task, student, mine, self.outcomes, self.received, self.arranged, today, self.aside)


def read_task_standing(record: Record, task_key: str) -> TaskRead:
    """A task with all that its standings need; no sheets where it was not issued."""
    arranged = record.arranged()
    sheets = tuple(
        _grouped(sheet, arranged)
        for sheet in record.sheets(task_key)
        if arranged.stands(task_key, sheet.student.code, sheet.code, sheet.attempt)
    )
    received = received_days(record.all_returns(task_key))
    outcomes = record.outcomes(task_key)
    return TaskRead(sheets, outcomes, received, arranged, marks_set_aside(outcomes))


def read_attempt(record: Record, sheet: Sheet) -> AttemptStanding | None:
    """One sheet with its days and what was taken off, of which alone the record is read; None where it stands no
    longer."""
    task, arranged = sheet.task.key, record.arranged()
    if not arranged.stands(task, sheet.student.code, sheet.code, sheet.attempt):
        return None
    received = received_days(record.all_returns(task, sheet.code)).get(sheet.code)
    outcomes = record.outcomes(task, sheet.code).get(sheet.code, {})
    return attempt_standing(_grouped(sheet, arranged), outcomes, received, arranged)


def _grouped(sheet: Sheet, arranged: Arranged) -> Sheet:
    student = sheet.student
    return replace(sheet, student=replace(student, group=arranged.group(student.code, student.group)))


def received_days(returns: Sequence[StoredReturn]) -> dict[str, date]:
    """The day on which the last answers that count of each sheet were taken in, where this computer is; of a sheet of
    which nothing counts, the day of its first return."""
    days: dict[str, date] = {}
    counting: set[str] = set()
    for one in (one for one in returns if not one.taken_back):
        code, day = one.handed_in.sheet_code, one.received.astimezone().date()
        if one.counts:
            days[code] = max(days[code], day) if code in counting else day
            counting.add(code)
        else:
            days.setdefault(code, day)
    return days
