"""What a teacher arranged for one student: more time, an excuse, a further attempt, a day of receiving, a group."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from witnessmark.words.checks import expect


class Arranging(StrEnum):
    """The kinds of arrangements. Those of a task: more time (a day), an excuse, a further attempt (its number), the day
    on which a sheet counts as received, what a second teacher gave an answer. Those of the class, with no task: the day
    of leaving, another group."""

    EXTENDED = "extended"
    EXCUSED = "excused"
    ATTEMPT = "attempt"
    RECEIVED = "received"
    SECOND = "second"
    LEFT = "left"
    GROUP = "group"


class Excuse(StrEnum):
    """Absent: the task stays out of the student's marks until something comes in. Exempt: it stays out for good."""

    ABSENT = "absent"
    EXEMPT = "exempt"


OF_CLASS = frozenset({Arranging.LEFT, Arranging.GROUP})
OF_DAY = frozenset({Arranging.EXTENDED, Arranging.RECEIVED, Arranging.LEFT})
OF_SHEET = frozenset({Arranging.ATTEMPT, Arranging.RECEIVED, Arranging.SECOND})


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One thing arranged for a student, with who, when and why. `value` is a day (2027-03-12), an excuse, a number,
    marks or a group; `sheet` is the code of the sheet that it is about (and the key of the answer, after a blank, for a
    second mark), empty where it is about the whole task or class."""

    kind: Arranging
    task: str
    student: str
    value: str
    who: str
    why: str
    at: datetime
    sheet: str = ""

    def __post_init__(self) -> None:
        expect(bool(self.student), "student", "the code of a student", self.student)
        expect((self.kind in OF_CLASS) == (not self.task), "task", "a task, but for what is of the class", self.task)
        expect(bool(self.sheet) or self.kind not in OF_SHEET, "sheet", "the code of a sheet", self.sheet)
        if self.kind in OF_DAY:
            date.fromisoformat(self.value)
        if self.kind is Arranging.EXCUSED:
            Excuse(self.value)
        if self.kind is Arranging.ATTEMPT:
            expect(self.value.isdigit() and int(self.value) > 1, "value", "a number from 2", self.value)

    @property
    def day(self) -> date:
        """The day of an arrangement that names one; ValueError for others."""
        return date.fromisoformat(self.value)


@dataclass(frozen=True, slots=True)
class Arranged:
    """All that stands arranged for a class or a task, to be asked by student and sheet."""

    all: tuple[Arrangement, ...] = ()

    def _one(self, kind: Arranging, task: str, student: str, sheet: str = "") -> Arrangement | None:
        wanted = (kind, task, student, sheet)
        return next((a for a in self.all if (a.kind, a.task, a.student, a.sheet) == wanted), None)

    def due(self, task: str, student: str, sheet: str, attempt: int, due: date | None) -> date | None:
        """The day until which a sheet may come in: the student's own where one was given. A further attempt is due on
        the day given for it, or on none."""
        own = self._one(Arranging.EXTENDED, task, student, sheet if attempt > 1 else "")
        if own:
            return own.day
        return due if attempt == 1 else None

    def is_extended(self, task: str, student: str) -> bool:
        """True where the student has another day than the class."""
        return self._one(Arranging.EXTENDED, task, student) is not None

    def excuse(self, task: str, student: str) -> Excuse | None:
        """Why a task stays out of a student's marks, or None."""
        found = self._one(Arranging.EXCUSED, task, student)
        return Excuse(found.value) if found else None

    def received(self, task: str, student: str, sheet: str) -> date | None:
        """The day of receiving that a teacher gave for a sheet."""
        found = self._one(Arranging.RECEIVED, task, student, sheet)
        return found.day if found else None

    def stands(self, task: str, student: str, sheet: str, attempt: int) -> bool:
        """True of a first sheet, and of a further attempt that was not taken back."""
        return attempt == 1 or self._one(Arranging.ATTEMPT, task, student, sheet) is not None

    def left(self, student: str) -> date | None:
        """The day on which a student left the class."""
        found = self._one(Arranging.LEFT, "", student)
        return found.day if found else None

    def group(self, student: str, listed: str) -> str:
        """The student's group: the one given last, else the one of the list."""
        found = self._one(Arranging.GROUP, "", student)
        return found.value if found else listed
