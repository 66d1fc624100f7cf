"""A visit before it is made: whom to see in what order and for how long, what each showed, what to take along."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.task import Student
from witnessmark.review.sightings import marked_answers
from witnessmark.review.year.history import Year
from witnessmark.review.year.kit import merged_kit
from witnessmark.review.year.needs import Need

# Minutes; common practice, no source.
HELLO, AN_ENTRY, A_DEMONSTRATION, SHOWN_BEFORE = 5, 3, 10, 4
MOST_NEEDS = 3
"""More than this is not taken up on one visit."""


@dataclass(frozen=True, slots=True)
class OpenEntry:
    """An entry that nobody could explain yet: ask how it came about."""

    task: str
    label: str
    typed: str
    why: str


@dataclass(frozen=True, slots=True)
class Seeing:
    """One student on a visit: what they still show, what of theirs is open, for how long to see them."""

    student: Student
    needs: tuple[Need, ...]
    open: tuple[OpenEntry, ...]
    minutes: int
    more: int = 0


@dataclass(frozen=True, slots=True)
class Stop:
    """One group on a trip: where, and whom to see in this order; `secure` are those with nothing to take up."""

    group: str
    place: str
    students: tuple[Seeing, ...]
    secure: tuple[Student, ...]
    kit: tuple[str, ...]

    @property
    def minutes(self) -> int:
        """How long all of it takes."""
        return sum(seeing.minutes for seeing in self.students)


@dataclass(frozen=True, slots=True)
class Trip:
    """The stops of one day, and everything to carry for all of them."""

    title: str
    day: date | None
    stops: tuple[Stop, ...]
    kit: tuple[str, ...]


def trip_of(
    year: Year,
    needs: Mapping[str, Sequence[Need]],
    misconceptions: Mapping[str, Misconception],
    groups: Sequence[tuple[str, str]],
    day: date | None,
) -> Trip:
    """The trip to some groups, each with its place."""
    stops = tuple(_stop(year, needs, misconceptions, group, place) for group, place in groups)
    return Trip(year.title, day, stops, merged_kit(stop.kit for stop in stops))


def _stop(
    year: Year, needs: Mapping[str, Sequence[Need]], known: Mapping[str, Misconception], group: str, place: str
) -> Stop:
    here = [student for student in year.students if student.group == group]
    entries = open_entries(year)
    shown: set[str] = set()
    seeing, secure = [], []
    for student in sorted(here, key=lambda s: (_order(needs.get(s.code, ())), s.code)):
        mine, open_ = tuple(needs.get(student.code, ())), entries.get(student.code, ())
        if not mine and not open_:
            secure.append(student)
            continue
        taken = mine[:MOST_NEEDS]
        seeing.append(Seeing(student, taken, open_, _minutes(taken, open_, shown), len(mine) - len(taken)))
        shown.update(need.key for need in taken)
    kit = merged_kit(known[key].kit for key in sorted(shown) if key in known)
    return Stop(group, place, tuple(seeing), tuple(secure), kit)


def _order(needs: Sequence[Need]) -> tuple[int, str]:
    """Most to take up first, and those who need the same demonstration after each other."""
    return (-min(len(needs), MOST_NEEDS), needs[0].key if needs else "")


def _minutes(needs: Sequence[Need], entries: Sequence[OpenEntry], shown: Iterable[str]) -> int:
    """What was shown to another at the same stop is set up already, and takes less."""
    demonstrations = sum(SHOWN_BEFORE if need.key in shown else A_DEMONSTRATION for need in needs)
    return HELLO + AN_ENTRY * len(entries) + demonstrations


def open_entries(year: Year) -> dict[str, tuple[OpenEntry, ...]]:
    """What waits in the in-tray without a mark, by student, the latest task first."""
    found: dict[str, list[OpenEntry]] = {}
    for task in reversed(year.tasks):
        for marked in marked_answers(task.back, task.outcomes):
            if marked.outcome.is_waiting and marked.outcome.raw.strip():
                why = "; ".join(marked.outcome.in_tray)
                entry = OpenEntry(task.key, marked.ask.label, marked.outcome.raw.strip(), why)
                found.setdefault(marked.sheet.student.code, []).append(entry)
    return {student: tuple(entries) for student, entries in found.items()}
