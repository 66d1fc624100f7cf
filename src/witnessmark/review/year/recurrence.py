"""Which misconceptions recur over a year: who showed each of those who could, and who shows it still."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from witnessmark.review.statistics.shares import Share
from witnessmark.review.year.chances import Chance

NO_FAMILY = "other"


class Standing(StrEnum):
    """What is known of a misconception in a class. Nobody is said to be free of what they had no chance to show."""

    RECURS = "recurs"
    ONCE = "seen once"
    NOT_SEEN = "not seen"
    NO_CHANCE = "not seen, no chance"


@dataclass(frozen=True, slots=True)
class YearRecurrence:
    """One misconception over the year, with every chance to show it in order."""

    key: str
    family: str
    chances: tuple[Chance, ...]

    @property
    def seen(self) -> tuple[Chance, ...]:
        """The chances at which it showed."""
        return tuple(chance for chance in self.chances if chance.shown)

    @property
    def students(self) -> tuple[str, ...]:
        """Who showed it at least once, each once."""
        return tuple(dict.fromkeys(chance.student for chance in self.seen))

    @property
    def could(self) -> tuple[str, ...]:
        """Who had a chance to show it, each once."""
        return tuple(dict.fromkeys(chance.student for chance in self.chances))

    @property
    def share(self) -> Share:
        """Students who showed it, of those who had the chance."""
        return Share(len(self.students), len(self.could))

    @property
    def still(self) -> tuple[str, ...]:
        """Whose latest task with a chance still showed it."""
        latest: dict[str, tuple[int, bool]] = {}
        for chance in self.chances:
            task, shown = latest.get(chance.student, (-1, False))
            if chance.task >= task:
                latest[chance.student] = (chance.task, chance.shown or (shown and chance.task == task))
        return tuple(student for student, (_, shown) in latest.items() if shown)

    @property
    def standing(self) -> Standing:
        """What may be said of it."""
        if not self.chances:
            return Standing.NO_CHANCE
        return (Standing.NOT_SEEN, Standing.ONCE)[len(self.seen)] if len(self.seen) < 2 else Standing.RECURS

    def of_students(self, students: Iterable[str]) -> "YearRecurrence":
        """The same of some students alone."""
        wanted = set(students)
        return YearRecurrence(self.key, self.family, tuple(c for c in self.chances if c.student in wanted))


@dataclass(frozen=True, slots=True)
class FamilyRecurrence:
    """The misconceptions of one family together: a student counts once, whichever of them showed."""

    family: str
    members: tuple[YearRecurrence, ...]

    @property
    def share(self) -> Share:
        """Students who showed any of them, of those who had the chance to show any."""
        showed = {student for member in self.members for student in member.students}
        return Share(len(showed), len({student for member in self.members for student in member.could}))


def recurrences_of(
    chances: Sequence[Chance], families: Mapping[str, str], known: Iterable[str] = ()
) -> tuple[YearRecurrence, ...]:
    """Every misconception that had a chance, and of the `known` ones those that had none; most students first."""
    by_key: dict[str, list[Chance]] = {key: [] for key in known}
    for chance in chances:
        by_key.setdefault(chance.misconception, []).append(chance)
    found = [YearRecurrence(key, families.get(key, NO_FAMILY), tuple(cs)) for key, cs in by_key.items()]
    return tuple(sorted(found, key=lambda r: (-len(r.students), -len(r.seen), -len(r.could), r.key)))


def by_family(recurrences: Sequence[YearRecurrence]) -> tuple[FamilyRecurrence, ...]:
    """The families with a chance, those of most students first."""
    found: dict[str, list[YearRecurrence]] = {}
    for recurrence in recurrences:
        if recurrence.chances:
            found.setdefault(recurrence.family, []).append(recurrence)
    families = [FamilyRecurrence(family, tuple(members)) for family, members in found.items()]
    return tuple(sorted(families, key=lambda f: (-f.share.count, -f.share.of, f.family)))
