"""The parts of a task as its class met them: how hard each was, what it tells apart, how far the total can be trusted.

Below FEWEST students who handed in everything nothing is said but the facility: with twenty a correlation must
pass 0.44 to be told from none, and few parts do.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from witnessmark.marking.outcome import Outcome
from witnessmark.maths.probability import f_quantile
from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.review.sightings import asked_in
from witnessmark.review.statistics.parts import facilities, item_rest, upper_less_lower
from witnessmark.review.statistics.reliability import Reliability, reliability
from witnessmark.review.statistics.shares import LEVEL
from witnessmark.review.statistics.table import MarkTable, mark_table
from witnessmark.review.year.alike import Alike, alike
from witnessmark.review.year.history import SetTask
from witnessmark.review.year.rungs import Rung, rungs_of

FEWEST = 20


@dataclass(frozen=True, slots=True)
class TaskPart:
    """One part: its label, what was asked, how many answers are marked and how many wait; the facility (0 to 1, None
    where none is marked). `upper_less_lower` and `item_rest` (-1 to 1) are None where they tell nothing."""

    label: str
    asked: str
    marked: int
    waiting: int
    facility: float | None
    upper_less_lower: float | None
    item_rest: float | None
    alpha_without: float | None


@dataclass(frozen=True, slots=True)
class TaskParts:
    """The parts of one task; `whole` students have every part marked, and `reliability` is None where they are fewer
    than FEWEST or their totals do not vary. `told_from` is the least correlation that is told from none; `rungs` is
    what each verdict gave, `alike` whether smaller and larger numbers were equally hard."""

    task: SetTask
    parts: tuple[TaskPart, ...]
    whole: int
    told_from: float
    reliability: Reliability | None
    rungs: tuple[Rung, ...] = ()
    alike: Alike = field(default_factory=Alike)

    @property
    def is_of_few(self) -> bool:
        """True where nothing is said but the facility."""
        return self.whole < FEWEST


def task_parts(task: SetTask) -> TaskParts | None:
    """The parts of a task that all answered alike; None of a follow-up, whose sheets differ, and where none came back.

    A part is its result with the lines of its working.
    """
    if task.follows or not task.back:
        return None
    asked = [(n, part) for n, v in enumerate(task.back[0].variants, 1) for part in v.question.parts]
    rows = [[part_mark(task.outcomes[sheet.code], n, part) for n, part in asked] for sheet in task.back]
    table = mark_table(rows, [_out_of(task.back, task.outcomes, n, part) for n, part in asked])
    whole = table.whole.students
    found = reliability(table) if whole >= FEWEST else None
    parts, hard = _parts(asked, table, found, least_told(whole)), alike(task, asked, FEWEST)
    return TaskParts(task, parts, whole, least_told(whole), found, rungs_of(task), hard)


def part_mark(outcomes: Mapping[str, Outcome], number: int, part: Part) -> float | None:
    """The marks of a part with its lines; None where one of them waits, or where the result has no outcome."""
    found = [outcomes[ask.key] for ask in asks_of(number, part) if ask.key in outcomes]
    if Ask(number, part).key not in outcomes or any(outcome.is_waiting for outcome in found):
        return None
    return float(sum(outcome.marks for outcome in found))


def asks_of(number: int, part: Part) -> tuple[Ask, ...]:
    """The result of a part, then its lines."""
    return (Ask(number, part), *(Ask(number, part, line) for line in lines_of(part)))


def _out_of(sheets: Sequence[Sheet], outcomes: Mapping[str, Mapping[str, Outcome]], number: int, part: Part) -> float:
    keys = [ask.key for ask in asks_of(number, part)]
    totals = (sum(mine[key].out_of for key in keys if key in mine) for mine in (outcomes[s.code] for s in sheets))
    return float(max(totals))


def least_told(students: int) -> float:
    """The least correlation (0 to 1) that so many students tell from none in 95 % of cases; 1 below three.

    R. A. Fisher (1915), Biometrika 10, 507-521: of no correlation, r²(n - 2)/(1 - r²) follows F with 1 and n - 2.
    """
    if students < 3:
        return 1.0
    f = f_quantile(LEVEL, 1, students - 2)
    return math.sqrt(f / (students - 2 + f))


def _parts(
    asked: Sequence[tuple[int, Part]], table: MarkTable, found: Reliability | None, told_from: float
) -> tuple[TaskPart, ...]:
    marked = [int(count) for count in (~np.isnan(table.marks)).sum(axis=0)]
    hard, spread, rest = facilities(table), upper_less_lower(table), item_rest(table)
    parts = []
    for i, (number, part) in enumerate(asked):
        with_rest = rest[i]
        tells = found is not None and with_rest is not None and abs(with_rest) >= told_from
        parts.append(TaskPart(
            f"{number}{part.key}", asked_in(part), marked[i],
            table.students - marked[i], hard[i], spread[i] if tells else None, with_rest if tells else None,
            found.without[i] if found else None,
        ))  # fmt: skip
    return tuple(parts)
