"""What the record gives out beside sheets and outcomes: stored returns, moderations, acceptances, journal."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.checking.accepted_slips import AcceptedSlip
from witnessmark.questions.sheet.task import Entry, Return, Task
from witnessmark.words.checks import expect, expect_marks

Outcomes = Mapping[str, Mapping[str, Outcome]]
"""Outcomes by sheet code and ask key (`1.a`)."""


class Source(StrEnum):
    """Where a return came from: a book in the folder of returned books, a book named by itself, a class table. What
    was taken in before version 5 of the record is unknown."""

    UNKNOWN = "unknown"
    FOLDER = "folder"
    BOOK = "book"
    TABLE = "table"


@dataclass(frozen=True, slots=True)
class StoredReturn:
    """A return as it was received: number in the record, when, the SHA-256 of its file (empty when not known), the
    answers (ask keys) for which it is the one that counts, those of them that a teacher chose, where it came from,
    whether the file itself is kept, and whether its taking in was taken back."""

    number: int
    handed_in: Return
    received: datetime
    sha256: str
    counts: tuple[str, ...]
    chosen: tuple[str, ...]
    source: Source
    kept: bool
    taken_back: bool


@dataclass(frozen=True, slots=True)
class Noted:
    """What a student wrote to the teacher: on which sheet, the words as they were typed, the file, when it was taken
    in."""

    sheet: str
    entry: Entry
    file: str
    received: datetime

    @property
    def words(self) -> str:
        """The words, with what a spreadsheet did to them."""
        spoiled = f"({self.entry.note})" if self.entry.note else ""
        return " ".join(part for part in (self.entry.raw.strip(), spoiled) if part)


@dataclass(frozen=True, slots=True)
class Received:
    """One entry, with the number of its return and the file that it came in."""

    number: int
    file: str
    entry: Entry

    @property
    def told(self) -> str:
        """The entry and its place: `'94.2 kN' (S01.xlsx, Answers!C6)`."""
        where = ", ".join(part for part in (self.file, self.entry.place) if part)
        return f"'{' '.join(self.entry.raw.split())}' ({where})"


@dataclass(frozen=True, slots=True)
class Difference:
    """Two entries for one answer of a sheet: the one that counts, and another that was taken in later."""

    sheet: str
    student: str
    ask: str
    counts: Received
    other: Received


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What taking in did: how many returns were new, and the answers (sheet code, ask key) that count anew."""

    new: int
    added: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Moderation:
    """A teacher's mark for one ask, with who, when and why; `machine` is what the machine had proposed then,
    `raw` the entry (None where a record of version 1 did not keep it). `say` is written for the student; `criteria` are
    the marks of each criterion of a part marked by hand, where they were given one by one."""

    marks: Decimal
    machine: Decimal
    who: str
    why: str
    at: datetime
    raw: str | None = None
    say: str = ""
    criteria: tuple[Decimal, ...] = ()

    def __post_init__(self) -> None:
        expect_marks("marks", self.marks)
        expect_marks("machine", self.machine)


@dataclass(frozen=True, slots=True)
class Given:
    """A mark that a teacher wants to give: who and why for the record, `say` for the student, `criteria` one by one
    where the part is marked by hand. Whether it can be is a matter of the answer that it is for."""

    marks: Decimal
    who: str
    why: str
    say: str = ""
    criteria: tuple[Decimal, ...] = ()


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A slip accepted for a task after it was issued, with who, when and why."""

    slip: AcceptedSlip
    who: str
    why: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Change:
    """An outcome that differs from the stored one: `before` is None for a new one, `after` for one that goes."""

    sheet: str
    ask: str
    before: Outcome | None
    after: Outcome | None

    def __post_init__(self) -> None:
        expect(self.before is not None or self.after is not None, "after", "an outcome where none was before", None)

    @property
    def changes_the_mark(self) -> bool:
        """True when marks or verdict differ, not only the words."""
        return _marked(self.before) != _marked(self.after)


def _marked(outcome: Outcome | None) -> tuple[Decimal, Decimal, Verdict] | None:
    return None if outcome is None else (outcome.marks, outcome.out_of, outcome.verdict)


class Event(StrEnum):
    """The kinds of journal rows."""

    TASK = "task"
    ISSUED = "issued"
    RETURNED = "returned"
    CHOSEN = "chosen"
    MARKED = "marked"
    MODERATED = "moderated"
    WITHDRAWN = "withdrawn"
    TOLD = "told"
    ACCEPTED = "accepted"
    DROPPED = "dropped"
    ARRANGED = "arranged"
    CORRECTED = "corrected"
    UNCORRECTED = "uncorrected"
    UNDONE = "undone"
    VISITED = "visited"
    RESTORED = "restored"
    REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class JournalRow:
    """One thing that happened. For a mark: `before` and `after` (none before the first mark, none after a removal).

    `undone` rows tell of a command that was taken back, once for the task and once for each sheet.
    `accepted` and `dropped` rows tell of a slip that a task is marked with, in `detail`.
    `corrected` and `uncorrected` rows tell of a correction of a question, in `detail`.
    `told` rows hold what a teacher wrote for the student, in `detail`.
    `arranged` rows have the student's code as their `sheet`, and kind, sheet and value in `detail`, parted by `|`.
    `marked` rows hold the machine's mark; `moderated` and `withdrawn` rows the mark that stood before and stands after.
    """

    number: int
    at: datetime
    event: Event
    task: str
    sheet: str
    ask: str
    before: Decimal | None
    after: Decimal | None
    who: str
    why: str
    detail: str


@dataclass(frozen=True, slots=True)
class Counts:
    """How much a record holds of each kind."""

    sheets: int
    returns: int
    marks: int
    journal_rows: int


@dataclass(frozen=True, slots=True)
class TaskCounts:
    """A task, how many sheets of it were issued and how many are marked, and how many answers wait for the teacher."""

    task: Task
    sheets: int
    marked: int
    waiting: int


@dataclass(frozen=True, slots=True)
class Step:
    """What one command changed as a whole, and can be taken back."""

    number: int
    at: datetime
    what: str
    task: str
    who: str


@dataclass(frozen=True, slots=True)
class Undone:
    """A step that was taken back, and the codes of the sheets that it concerned."""

    step: Step
    sheets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Removed:
    """What was removed with one student."""

    sheets: int
    returns: int
    marks: int
    journal_rows: int
