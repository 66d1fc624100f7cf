"""A class of which it is known who holds what: four tasks of the bank's questions, and outcomes as marked.

The outcomes are made, not marked: what is tested with them is counting. The numbers of a sheet have no say in that, so
that all students have the same.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from functools import cache

import numpy as np

from bank_fixture import BANK
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Ask, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.history import SetTask, Visit, Year

FACE = "face-area-for-sheared-edge"
START = date(2027, 1, 4)
TASKS = (("drain-hole",), ("slotted-hole", "clevis-pin"), ("drain-hole", "bottle-jack"), ("slotted-hole",))
"""FACE can show in the first and the third, and in what slotted-hole knows of it."""

Holds = Callable[[str, int], bool]
"""Whether a student (code) shows at the task of this place what is planted in them."""


@cache
def variant(key: str) -> Variant:
    """One variant of a question, the same for all."""
    return BANK[key].draw("a year")


@dataclass(frozen=True)
class Planted:
    """Who shows what when; who hands in nothing at which task; of what students leave blank."""

    shows: Mapping[str, Holds]
    absent: frozenset[tuple[str, int]] = frozenset()
    blank: frozenset[tuple[str, int]] = field(default_factory=frozenset)


def students(count: int) -> tuple[Student, ...]:
    """So many students at four yards."""
    return tuple(Student(f"S{n:02}", f"Student {n}", f"Yard {n % 4}") for n in range(count))


def year(
    who: Sequence[Student], planted: Planted, tasks: Sequence[Sequence[str]] = TASKS, visits: Sequence[Visit] = ()
) -> Year:
    """The year of these students, a task every four weeks."""
    found = []
    for place, questions in enumerate(tasks):
        task = Task(f"task-{place + 1}", f"Task {place + 1}", tuple(questions))
        sheets = [Sheet(sheet_code(task.key, s.code, 1), task, s, tuple(map(variant, questions))) for s in who]
        outcomes = {
            sheet.code: _outcomes(sheet, place, planted)
            for sheet in sheets
            if (sheet.student.code, place) not in planted.absent
        }
        day = START + timedelta(weeks=4 * place)
        found.append(SetTask(task.key, task.title, day, tuple(sheets), outcomes))
    return Year("First years", tuple(who), tuple(found), tuple(visits))


def _outcomes(sheet: Sheet, place: int, planted: Planted) -> dict[str, Outcome]:
    found = {}
    for number, one in enumerate(sheet.variants, 1):
        for part in one.question.parts:
            shown = [key for key in shown_by(part) if key in planted.shows]
            keys = tuple(dict.fromkeys(k for k in shown if planted.shows[k](sheet.student.code, place)))
            verdict = Verdict.SLIP if keys else Verdict.RIGHT
            if (sheet.student.code, place) in planted.blank:
                verdict, keys = Verdict.BLANK, ()
            marks = part.marks if verdict is Verdict.RIGHT else Decimal(0)
            found[Ask(number, part).key] = Outcome(marks, part.marks, verdict, "", keys[:1], raw="1 kN")
    return found


def holders(who: Sequence[Student], rate: float, generator: np.random.Generator) -> frozenset[str]:
    """Those who hold a misconception, each with this chance."""
    return frozenset(s.code for s in who if generator.random() < rate)
