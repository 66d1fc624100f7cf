"""Who needs what: the misconceptions that each student still shows, and the students who need the same thing."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.review.year.chances import Chance, by_student
from witnessmark.review.year.recurrence import YearRecurrence


@dataclass(frozen=True, slots=True)
class Need:
    """What one student still shows, with the latest chances at which it showed, the surest first."""

    key: str
    student: str
    shown: tuple[Chance, ...]

    @property
    def last(self) -> Chance:
        """The sighting to speak of: in the latest task, the surest."""
        return self.shown[0]


@dataclass(frozen=True, slots=True)
class SameNeed:
    """Students who need the same: one or more misconceptions that exactly these students still show."""

    keys: tuple[str, ...]
    students: tuple[str, ...]


def needs_of(recurrences: Sequence[YearRecurrence]) -> dict[str, tuple[Need, ...]]:
    """What each student still shows, by student code: what showed most often first."""
    found: dict[str, list[Need]] = {}
    for recurrence in recurrences:
        still, seen = set(recurrence.still), by_student(recurrence.seen)
        for student, mine in seen.items():
            if student in still:
                ordered = sorted(mine, key=lambda chance: (-chance.task, -chance.sure))
                found.setdefault(student, []).append(Need(recurrence.key, student, tuple(ordered)))
    return {student: tuple(sorted(mine, key=lambda n: -len(n.shown))) for student, mine in sorted(found.items())}


def same_needs(recurrences: Sequence[YearRecurrence]) -> tuple[SameNeed, ...]:
    """Groups of two or more students who still show the same, the largest first."""
    found: dict[tuple[str, ...], list[str]] = {}
    for recurrence in recurrences:
        students = tuple(sorted(recurrence.still))
        if len(students) > 1:
            found.setdefault(students, []).append(recurrence.key)
    groups = [SameNeed(tuple(keys), students) for students, keys in found.items()]
    return tuple(sorted(groups, key=lambda group: (-len(group.students), group.keys)))
