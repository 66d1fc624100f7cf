"""How one student stands: what is secure by what came in, what to practise, what faded, what is not known."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.marking.outcome import Verdict
from witnessmark.questions.sheet.task import Sheet, Student
from witnessmark.review.sightings import marked_answers
from witnessmark.review.year.chances import FAULT
from witnessmark.review.year.history import SetTask, Year
from witnessmark.review.year.needs import Need, needs_of
from witnessmark.review.year.recurrence import YearRecurrence

SECURE = frozenset({Verdict.RIGHT, Verdict.CARRIED_FORWARD})


@dataclass(frozen=True, slots=True)
class TaskMarks:
    """The marks of one task, and how many answers wait for a mark."""

    title: str
    marks: Decimal
    out_of: Decimal
    waiting: int


@dataclass(frozen=True, slots=True)
class Progress:
    """One student over the year. `secure` and `unsure` are titles of questions: every answer right the last time, or
    not; `faded` are misconceptions that showed once and no longer do; `missing` are tasks that did not come back."""

    student: Student
    secure: tuple[str, ...]
    unsure: tuple[str, ...]
    needs: tuple[Need, ...]
    faded: tuple[str, ...]
    missing: tuple[str, ...]
    marks: tuple[TaskMarks, ...]


def progress_of(year: Year, recurrences: Sequence[YearRecurrence], student: Student) -> Progress:
    """The progress of one student of the class."""
    mine = [(task, sheet) for task in year.tasks for sheet in task.sheets if sheet.student.code == student.code]
    back = [(task, sheet) for task, sheet in mine if sheet.code in task.outcomes]
    last: dict[str, bool] = {}
    for task, sheet in back:
        last |= _went_well(task, sheet)
    faded = [r.key for r in recurrences if student.code in r.students and student.code not in r.still]
    return Progress(
        student,
        tuple(title for title, well in last.items() if well),
        tuple(title for title, well in last.items() if not well),
        needs_of(recurrences).get(student.code, ()),
        tuple(faded),
        tuple(task.title for task, sheet in mine if sheet.code not in task.outcomes),
        tuple(_marks(task, sheet) for task, sheet in back),
    )


def _went_well(task: SetTask, sheet: Sheet) -> dict[str, bool]:
    """By title, whether every part of a question was right, and no step of its working showed a misconception; a
    question about somebody else's working tells nothing."""
    found: dict[str, bool] = {}
    for marked in marked_answers([sheet], task.outcomes):
        question, outcome = sheet.variants[marked.ask.number - 1].question, marked.outcome
        well = outcome.verdict in SECURE if marked.ask.line is None else not outcome.misconceptions
        if not question.key.startswith(FAULT):
            found[question.title] = found.get(question.title, True) and well
    return found


def _marks(task: SetTask, sheet: Sheet) -> TaskMarks:
    outcomes = [marked.outcome for marked in marked_answers([sheet], task.outcomes)]
    marked = [outcome for outcome in outcomes if not outcome.is_waiting]
    return TaskMarks(
        task.title, sum((o.marks for o in marked), Decimal(0)), sum((o.out_of for o in marked), Decimal(0)),
        len(outcomes) - len(marked),
    )  # fmt: skip
