"""The job `history`: the story of a student, a sheet or one answer in plain words, from the journal of the record."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.jobs.moderating import ask_of
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.standings import read_attempt
from witnessmark.marking.standing import AttemptStanding
from witnessmark.questions.sheet.arranged import Arranging
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.record.rows import Event, JournalRow, Noted
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

OF_TASK = {
    Event.ACCEPTED: "a slip was accepted for the task",
    Event.DROPPED: "a slip was no longer accepted for the task",
    Event.CORRECTED: "the task was corrected",
    Event.UNCORRECTED: "a correction of the task was taken back",
}


@dataclass(frozen=True, slots=True)
class Told:
    """One thing that happened, in words: when, about which answer (its label; empty for the whole sheet), by whom."""

    at: datetime
    answer: str
    sentence: str
    who: str
    why: str


@dataclass(frozen=True, slots=True)
class SheetStory:
    """What happened to one sheet, in order, the marks that stand now by label, its days with what lateness took off
    (None for a sheet that stands no longer), and which attempt it is."""

    sheet: str
    student: str
    task: str
    told: tuple[Told, ...]
    marks: tuple[tuple[str, Decimal], ...]
    days: AttemptStanding | None = None
    attempt: int = 1


@dataclass(frozen=True, slots=True)
class History:
    """The stories of the sheets of a student, or of one sheet."""

    asked: str
    sheets: tuple[SheetStory, ...]


def history(class_path: Path, who_or_sheet: str, answer: str = "") -> History:
    """The story of a student (by code) or a sheet, or of one answer (`1a`); raises ProblemsFound for an unknown one."""
    with open_class(class_path).record() as record:
        sheets = _sheets(record, class_path, who_or_sheet)
        return History(who_or_sheet, tuple(_story(record, sheet, answer) for sheet in sheets))


def _sheets(record: Record, class_path: Path, asked: str) -> tuple[Sheet, ...]:
    sheet = record.sheet(repaired_code(asked) or asked)
    if sheet is not None:
        return (sheet,)
    codes = [code for code, student in record.sheet_codes() if student.casefold() == asked.casefold()]
    mine = tuple(sheet for sheet in map(record.sheet, codes) if sheet is not None)
    if not mine:
        expected, remedy = "the code of a student or a sheet of this class", "the code stands at the head of the sheet"
        raise ProblemsFound([Problem("no-sheet", Place(str(class_path)), expected, f"'{asked}'", remedy)])
    return mine


def _story(record: Record, sheet: Sheet, answer: str) -> SheetStory:
    labels = {ask.key: ask.label for ask in sheet.asks}
    only = ask_of(sheet, answer).key if answer else None
    rows = [row for row in record.journal_of(sheet) if _bears_on(row, sheet)]
    rows = [row for row in rows if only is None or row.ask in ("", only)]
    outcomes = record.outcomes(sheet.task.key, sheet.code).get(sheet.code, {})
    marks = tuple((labels.get(k, k), o.marks) for k, o in outcomes.items() if only in (None, k))
    told = [_told(row, labels) for row in rows]
    days = read_attempt(record, sheet)
    wrote = [] if answer else [_wrote(note) for note in record.notes(sheet.task.key, sheet.code)]
    whole = tuple(sorted((*_without_what_came_before(told, rows), *wrote), key=lambda one: one.at))
    return SheetStory(sheet.code, sheet.student.code, sheet.task.key, whole, marks, days, sheet.attempt)


def _wrote(note: Noted) -> Told:
    return Told(note.received, "", f"the student wrote: {' '.join(note.words.split())}", "", "")


def _bears_on(row: JournalRow, sheet: Sheet) -> bool:
    """Rows of the sheet, of its whole task, and of what was arranged for its student: there, or in the class."""
    if row.event is Event.ARRANGED:
        of_sheet = row.detail.split("|", 2)[1].partition(" ")[0] in ("", sheet.code)
        return row.sheet == sheet.student.code and row.task in ("", sheet.task.key) and of_sheet
    return row.task == sheet.task.key and (row.sheet == sheet.code or _of_task(row))


def _of_task(row: JournalRow) -> bool:
    """Rows of a whole task that bear on every mark of it."""
    return not row.sheet and (row.event is Event.TASK or row.event in OF_TASK)


def _without_what_came_before(told: Sequence[Told], rows: Sequence[JournalRow]) -> tuple[Told, ...]:
    """What happened to the task before the sheet was issued is not its story, but for what the task was last."""
    start = next((n for n, row in enumerate(rows) if row.event is Event.ISSUED), 0)
    return tuple(told[start:])


def _told(row: JournalRow, labels: Mapping[str, str]) -> Told:
    return Told(row.at, labels.get(row.ask, row.ask), _sentence(row), row.who, row.why)


def _sentence(row: JournalRow) -> str:
    """What happened, without who and why."""
    before, after = _marks(row.before), _marks(row.after)
    match row.event:
        case Event.TASK:
            return "the task's title, date or rules changed"
        case Event.ISSUED:
            return "the sheet was issued"
        case Event.RETURNED:
            return f"{row.detail} was taken in"
        case Event.CHOSEN:
            return f"{row.detail} was chosen to count"
        case Event.MARKED if row.before is None:
            return f"marked {after}: {row.detail}"
        case Event.MARKED if row.after is None:
            return f"the machine's mark of {before} was taken out"
        case Event.MARKED:
            return f"marked {after}, before {before}: {row.detail.replace(', now ', ', then ')}"
        case Event.MODERATED:
            return f"a teacher gave {after} in the place of {before}"
        case Event.WITHDRAWN:
            return f"the teacher's {before} was taken back; the machine's {after} stands"
        case Event.TOLD:
            return f"the student is told: {row.detail}" if row.detail else "the words for the student were taken back"
        case Event.ACCEPTED | Event.DROPPED | Event.CORRECTED | Event.UNCORRECTED:
            return f"{OF_TASK[row.event]}: {row.detail}"
        case Event.UNDONE:
            return f"taken back: {row.detail}"
        case Event.ARRANGED | Event.VISITED:
            return _of_student(row)
        case Event.REMOVED | Event.RESTORED:
            return row.detail


def _marks(marks: Decimal | None) -> str:
    return "none" if marks is None else f"{marks}"


def _of_student(row: JournalRow) -> str:
    return _arranged(row.detail) if row.event is Event.ARRANGED else f"visited: {row.detail}"


def _arranged(detail: str) -> str:
    """What was arranged, of `extended||2027-03-12`; an empty value is one that was taken back."""
    kind, about, value = detail.split("|", 2)
    match Arranging(kind):
        case Arranging.EXTENDED:
            return f"given until {value}" if value else "no longer given another day"
        case Arranging.EXCUSED:
            return f"excused as {value}" if value else "no longer excused"
        case Arranging.ATTEMPT:
            return f"set again, as attempt {value}" if value else "the further attempt no longer counts"
        case Arranging.RECEIVED:
            return f"counts as received on {value}" if value else "counts as received when it was taken in"
        case Arranging.SECOND:
            return f"a second teacher gave {value} ({about})" if value else f"the second mark was taken back ({about})"
        case Arranging.LEFT:
            return f"left the class on {value}" if value else "did not leave the class"
        case Arranging.GROUP:
            return f"in the group {value} from now on" if value else "in the group of the list again"
