"""Whether a misconception faded: the same students before and after, one chance each, so that neither side has more.

Of the whole class the first task with a chance is set against the last; who is compared does not hang on who showed it,
so the exact test holds. Of a follow-up and of a visit only those count who had it. They were often chosen because they
showed it, and some of those would not show it again without any help: their numbers are told, and are no finding.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from witnessmark.review.statistics.paired import Paired, findings, paired
from witnessmark.review.year.chances import Chance, by_student
from witnessmark.review.year.history import Visit, Year
from witnessmark.review.year.recurrence import YearRecurrence


class After(StrEnum):
    """What lies between before and after."""

    FEEDBACK = "feedback"
    FOLLOW_UP = "follow-up"
    VISIT = "visit"


@dataclass(frozen=True, slots=True)
class Faded:
    """How a misconception stood before and after something was done; `is_finding` by the test of all on the page."""

    key: str
    after: After
    counts: Paired
    is_finding: bool = False


def faded(recurrences: Sequence[YearRecurrence], year: Year) -> tuple[Faded, ...]:
    """Every comparison that can be made of misconceptions that were seen, in their order."""
    shown = [r for r in recurrences if r.seen]
    whole = [(r.key, over_the_year(r.chances)) for r in shown]
    whole = [(key, counts) for key, counts in whole if counts.changed]
    is_finding = findings([counts.chance for _, counts in whole])
    found = [Faded(key, After.FEEDBACK, counts, is_) for (key, counts), is_ in zip(whole, is_finding, strict=True)]
    for recurrence in shown:
        for after, counts in (
            (After.FOLLOW_UP, after_follow_up(recurrence, year)), (After.VISIT, after_visits(recurrence, year.visits)),
        ):  # fmt: skip
            if counts.people:
                found.append(Faded(recurrence.key, after, counts))
    return tuple(found)


def over_the_year(chances: Iterable[Chance]) -> Paired:
    """The first chance of each student in their first task with one, against the last one in a later task."""
    return paired(_pairs(chances, lambda first, last: first.task < last.task))


def _pairs(chances: Iterable[Chance], apart: Callable[[Chance, Chance], bool]) -> list[tuple[bool, bool]]:
    ends = [(mine[0], mine[-1]) for mine in by_student(chances).values()]
    return [(first.shown, last.shown) for first, last in ends if apart(first, last)]


def after_visits(recurrence: YearRecurrence, visits: Sequence[Visit]) -> Paired:
    """Those with whom it was taken up on a visit: their last chance before that day against the first from it on."""
    days = {v.student: v.day for v in sorted(visits, key=lambda v: v.day, reverse=True) if taken_up(v, recurrence.key)}
    return paired(_around(recurrence.chances, days))


def taken_up(visit: Visit, key: str) -> bool:
    """True where a visit took this misconception up."""
    return key in visit.misconceptions


def _around(chances: Sequence[Chance], days: Mapping[str, date]) -> list[tuple[bool, bool]]:
    found, of = [], by_student(chances)
    for student, day in days.items():
        before = [c for c in of.get(student, ()) if c.day < day]
        after = [c for c in of.get(student, ()) if c.day >= day]
        if before and after:
            found.append((before[-1].shown, after[0].shown))
    return found


def after_follow_up(recurrence: YearRecurrence, year: Year) -> Paired:
    """Those who handed in a follow-up that could show it: their last chance before it against the first from it on."""
    places = {n for n, task in enumerate(year.tasks) if task.follows}
    first: dict[str, int] = {}
    for chance in recurrence.chances:
        if chance.task in places:
            first.setdefault(chance.student, chance.task)
    return paired(_split(recurrence.chances, first))


def _split(chances: Sequence[Chance], first: Mapping[str, int]) -> list[tuple[bool, bool]]:
    found, of = [], by_student(chances)
    for student, task in first.items():
        before = [c for c in of[student] if c.task < task]
        after = [c for c in of[student] if c.task >= task]
        if before and after:
            found.append((before[-1].shown, after[-1].shown))
    return found


def cleared(recurrence: YearRecurrence, students: Collection[str]) -> tuple[str, ...]:
    """Who of these showed it once, and not in their latest task with a chance."""
    still = set(recurrence.still)
    return tuple(student for student in recurrence.students if student in students and student not in still)
