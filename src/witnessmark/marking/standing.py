"""Where a student stands in one task: in time or late, what was taken off, which attempt counts, what stays out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum

from witnessmark.marking.outcome import ClassOutcomes, SheetOutcomes, Verdict
from witnessmark.questions.sheet.arranged import Arranged, Excuse
from witnessmark.questions.sheet.lateness import days_late
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Sheet, Student, Task, Which


class State(StrEnum):
    """How a student stands in a task."""

    IN_TIME = "in time"
    EXTENDED = "extended"
    LATE = "late"
    ABSENT = "absent"
    EXEMPT = "exempt"
    OPEN = "not due yet"
    MISSING = "not returned"
    LEFT = "left"
    NOT_ISSUED = "no sheet"


STAYS_OUT = frozenset({State.ABSENT, State.EXEMPT, State.OPEN, State.LEFT, State.NOT_ISSUED})
"""States of a task that does not count into a student's marks."""


@dataclass(frozen=True, slots=True)
class AttemptStanding:
    """One sheet of a student: marks earned (None: nothing came back), the days, what was taken off, and how many
    answers still wait for the teacher's mark."""

    attempt: int
    sheet: str
    earned: Decimal | None
    due: date | None
    received: date | None
    days_late: int
    off: Decimal
    waiting: int

    @property
    def counts(self) -> Decimal | None:
        """What is left after lateness; None where nothing came back."""
        return None if self.earned is None else self.earned - self.off


@dataclass(frozen=True, slots=True)
class TaskStanding:
    """A student in a task: the state, the attempts in order, and the marks that count by the task's rule (None: the
    task stays out of the student's marks)."""

    student: str
    task: str
    out_of: Decimal
    state: State
    attempts: tuple[AttemptStanding, ...]
    marks: Decimal | None

    @property
    def waiting(self) -> int:
        """How many answers wait for the teacher's mark."""
        return sum(attempt.waiting for attempt in self.attempts)

    @property
    def share(self) -> Decimal | None:
        """The marks that count as a share of those available."""
        return self.marks / self.out_of if self.marks is not None and self.out_of else None


def earned_marks(sheet: Sheet, outcomes: SheetOutcomes) -> Decimal | None:
    """The marks of the parts that have an outcome, which hold those of their lines; None where no part has one."""
    marks = [outcomes[ask.key].marks for ask in sheet.asks if ask.line is None and ask.key in outcomes]
    return sum(marks, Decimal(0)) if marks else None


def marks_set_aside(outcomes: ClassOutcomes) -> dict[str, Decimal]:
    """What each part that was set aside for all still gives (all its marks, or none), by ask key."""
    aside = (item for by_ask in outcomes.values() for item in by_ask.items())
    return {key: outcome.out_of for key, outcome in aside if outcome.verdict is Verdict.SET_ASIDE}


def marks_available(sheet: Sheet, aside: Mapping[str, Decimal]) -> Decimal:
    """The marks of a sheet; a part that was set aside gives what it gives to all, unless each sheet asks its own."""
    gives = {} if sheet.task.questions == EACH_ITS_OWN else aside
    parts = (ask for ask in sheet.asks if ask.line is None)
    return sum((gives.get(ask.key, ask.part.marks) for ask in parts), Decimal(0))


def attempt_standing(
    sheet: Sheet, outcomes: SheetOutcomes, received: date | None, arranged: Arranged
) -> AttemptStanding:
    """One sheet with its days. `received` is the day on which the last answers that count came in."""
    task, student = sheet.task, sheet.student.code
    earned = earned_marks(sheet, outcomes)
    due = arranged.due(task.key, student, sheet.code, sheet.attempt, task.due)
    came = arranged.received(task.key, student, sheet.code) or received
    late = days_late(came, due) if earned is not None else 0
    off = task.late.off(earned or Decimal(0), late, task.rules.half_marks)
    waiting = sum(outcome.is_waiting for outcome in outcomes.values())
    return AttemptStanding(sheet.attempt, sheet.code, earned, due, came, late, off, waiting)


def task_standing(
    task: Task, student: Student, sheets: Sequence[Sheet], outcomes: ClassOutcomes,
    received: Mapping[str, date], arranged: Arranged, today: date, aside: Mapping[str, Decimal],
) -> TaskStanding:  # fmt: skip
    """Where a student stands on a day. `sheets` are the student's own of this task; `received` is by sheet code, and
    `aside` is what `marks_set_aside` gives.

    What did not come back by its day is worth nothing; before that day, and where an excuse stands, the task stays out,
    as does one of which every part was set aside out of the total.
    """
    mine = [s for s in sheets if arranged.stands(task.key, student.code, s.code, s.attempt)]
    attempts = tuple(
        attempt_standing(s, outcomes.get(s.code, {}), received.get(s.code), arranged)
        for s in sorted(mine, key=lambda s: s.attempt)
    )
    out_of = sum((marks_available(sheet, aside) for sheet in mine[:1]), Decimal(0))
    bare = TaskStanding(student.code, task.key, out_of, State.NOT_ISSUED, attempts, None)
    state = _state(task, student, attempts, arranged, today)
    if state in STAYS_OUT or not out_of:
        return replace(bare, state=state)
    return replace(bare, state=state, marks=counted(task.attempts, attempts))


def _state(task: Task, student: Student, attempts: Sequence[AttemptStanding], arranged: Arranged, today: date) -> State:
    excuse = arranged.excuse(task.key, student.code)
    came = [attempt for attempt in attempts if attempt.earned is not None]
    if excuse is Excuse.EXEMPT:
        return State.EXEMPT
    if came:
        if any(attempt.days_late for attempt in came):
            return State.LATE
        return State.EXTENDED if _in_time_by_extension(task, came) else State.IN_TIME
    if excuse is Excuse.ABSENT:
        return State.ABSENT
    left = arranged.left(student.code)
    if left and not any(attempt.due is not None and attempt.due < left for attempt in attempts):
        return State.LEFT
    if not attempts:
        return State.NOT_ISSUED
    return State.OPEN if any(a.due is None or today <= a.due for a in attempts) else State.MISSING


def _in_time_by_extension(task: Task, came: Sequence[AttemptStanding]) -> bool:
    """In time by the student's own day, and late by the day of the class."""
    return any(days_late(attempt.received, task.due) for attempt in came if attempt.attempt == 1)


def counted(which: Which, attempts: Sequence[AttemptStanding]) -> Decimal:
    """The marks of several attempts by the rule of the task; none where nothing came back."""
    marks = [attempt.counts for attempt in attempts if attempt.counts is not None]
    if not marks:
        return Decimal(0)
    match which:
        case Which.BEST:
            return max(marks)
        case Which.LAST:
            return marks[-1]
        case Which.MEAN:
            return sum(marks, Decimal(0)) / len(marks)
