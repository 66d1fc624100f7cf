"""Chances to show a misconception: what was asked of whom, answered, and whether it showed.

Somebody has a chance where an answer came in, could be understood, and its question knows a wrong method by that name:
the numbers are drawn so that the method would have left other digits. A blank, an answer that nobody can read, one that
no known method explains, one of a part that was set aside and one that equals another sheet's say nothing either way.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.kinds import lines_of, shown_by
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.review.year.history import SetTask, Year

SAYS_NOTHING = frozenset({
    Verdict.BLANK, Verdict.UNREADABLE, Verdict.OTHER_SHEET, Verdict.UNEXPLAINED, Verdict.SET_ASIDE,
})  # fmt: skip
FAULT = "find-the-fault-"
"""How the keys of questions begin that show somebody else's wrong working: who answers them was told of it."""


@dataclass(frozen=True, slots=True)
class Chance:
    """One student at one part that could show a misconception: at which task (its place in the year, from 0), whether
    it showed, how sure the name is, and what was typed there."""

    misconception: str
    student: str
    group: str
    task: int
    task_key: str
    day: date
    label: str
    question: str
    topic: str
    shown: bool
    sure: float = 1.0
    typed: str = ""
    sheet: str = ""


def chances_of(year: Year) -> tuple[Chance, ...]:
    """Every chance of the year, in the order of tasks, sheets and answers."""
    return tuple(chance for n, task in enumerate(year.tasks) for chance in _of_task(n, task))


def by_student(chances: Iterable[Chance]) -> dict[str, list[Chance]]:
    """The chances of each student by code, in their order."""
    found: dict[str, list[Chance]] = {}
    for chance in chances:
        found.setdefault(chance.student, []).append(chance)
    return found


def _of_task(place: int, task: SetTask) -> Iterator[Chance]:
    for sheet in task.back:
        for number, variant in enumerate(sheet.variants, 1):
            if not variant.question.key.startswith(FAULT):
                for part in variant.question.parts:
                    yield from _of_part(place, task, sheet, number, part)


def _of_part(place: int, task: SetTask, sheet: Sheet, number: int, part: Part) -> Iterator[Chance]:
    question = sheet.variants[number - 1].question
    seen = _seen(task.outcomes[sheet.code], number, part)
    result = task.outcomes[sheet.code].get(Ask(number, part).key)
    answered = result is not None and result.verdict not in SAYS_NOTHING
    known = {key for key in shown_by(part) if key} if answered else set()
    student = sheet.student
    for key in sorted(known | seen.keys()):
        ask, outcome = seen.get(key, (Ask(number, part), result))
        assert outcome is not None
        yield Chance(
            key, student.code, student.group, place, task.key, task.issued, ask.label, question.key, question.topic,
            key in seen, outcome.sure, outcome.raw, sheet.code,
        )  # fmt: skip


def _seen(outcomes: Mapping[str, Outcome], number: int, part: Part) -> dict[str, tuple[Ask, Outcome]]:
    """Where each misconception shows in a part: in its result if there, else in the first line."""
    found: dict[str, tuple[Ask, Outcome]] = {}
    for ask in (Ask(number, part), *(Ask(number, part, line) for line in lines_of(part))):
        outcome = outcomes.get(ask.key)
        for key in outcome.misconceptions if outcome else ():
            if outcome is not None:
                found.setdefault(key, (ask, outcome))
    return found
