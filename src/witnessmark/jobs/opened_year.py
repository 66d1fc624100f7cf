"""A class opened for what looks over its year: every task with its outcomes, the visits, and the families."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

from witnessmark.jobs.opened import Opened, open_class
from witnessmark.questions.bank import Bank
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Sheet
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.review.year.chances import Chance, chances_of
from witnessmark.review.year.history import SetTask, Year
from witnessmark.review.year.recurrence import YearRecurrence, recurrences_of
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

FOLLOW_UP = "-follow-up"


@dataclass(frozen=True, slots=True)
class OpenedYear:
    """The year of a class, the bank it draws on, and what its misconceptions are."""

    opened: Opened
    bank: Bank
    year: Year
    misconceptions: Mapping[str, Misconception]
    chances: tuple[Chance, ...]
    recurrences: tuple[YearRecurrence, ...]


def open_year(class_path: Path) -> OpenedYear:
    """The class over its year; raises ProblemsFound for files that cannot be used, and where nothing was marked yet."""
    return opened_year(open_class(class_path))


def opened_year(opened: Opened) -> OpenedYear:
    """The same of a class that is open already."""
    bank = opened.bank()
    with opened.record() as record:
        year = year_of(opened, record)
    if not any(task.back for task in year.tasks):
        remedy = f"witnessmark mark {opened.path} TASK"
        raise ProblemsFound([Problem("not-marked", Place(str(opened.path)), "a marked task", "none", remedy)])
    of_sheets = {
        k: m for t in year.tasks for s in t.sheets for v in s.variants for k, m in v.question.misconceptions.items()
    }
    chances = chances_of(year)
    recurrences = recurrences_of(chances, bank.families, bank.misconceptions)
    return OpenedYear(opened, bank, year, {**of_sheets, **bank.misconceptions}, chances, recurrences)


def year_of(opened: Opened, record: Record) -> Year:
    """Every task that was issued, in the order of issue, with the sheets that stand, and every visit."""
    issued: dict[str, datetime] = {}
    for row in record.journal():
        if row.event is Event.ISSUED:
            issued.setdefault(row.task, row.at)
    found, arranged = [], record.arranged()
    for key in record.tasks():
        every = record.sheets(key)
        sheets = tuple(s for s in every if arranged.stands(key, s.student.code, s.code, s.attempt))
        if sheets:
            day = issued[key].date() if key in issued else date.min
            found.append(SetTask(key, sheets[0].task.title, day, sheets, record.outcomes(key), _follows(key, sheets)))
    students = tuple(
        replace(s, group=arranged.group(s.code, s.group)) for s in opened.students if arranged.left(s.code) is None
    )
    tasks = tuple(sorted(found, key=lambda t: t.issued))
    return Year(opened.title, students, tasks, record.visits(), arranged)


def _follows(key: str, sheets: tuple[Sheet, ...]) -> str:
    is_one = all(sheet.task.questions == EACH_ITS_OWN for sheet in sheets)
    return key.removesuffix(FOLLOW_UP) if is_one else ""
