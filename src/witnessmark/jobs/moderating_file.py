"""The job `moderate` of a file: the marks that a teacher typed into a gradebook, shown, and given where that is said.

What can be is given as one step; every cell that cannot be is a problem with its place, and its mark stays as it is.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.documents.gradebook.data import criteria_of, state_of
from witnessmark.files.class_folder.typed_into import may_go
from witnessmark.files.tables.gradebook_marks import TypedMark, read_marks_back
from witnessmark.files.workbooks.reader import start_reading
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.jobs.stale import stale_documents
from witnessmark.marking.outcome import ClassOutcomes, Outcome
from witnessmark.marking.standing import earned_marks
from witnessmark.questions.model.mark_steps import marks_typed, may_give, range_text
from witnessmark.questions.sheet import gradebook_columns as columns
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.record.rows import Given, Moderation
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem, capped

BY_HAND = "marked by hand"


@dataclass(frozen=True, slots=True)
class Teacher:
    """Who gives the marks of a file; `why` is the reason of those that have none of their own; whether it is done or
    only shown; the task, where the file does not tell it."""

    who: str = ""
    why: str = ""
    apply: bool = False
    task: str = ""


@dataclass(frozen=True, slots=True)
class MarkGiven:
    """A mark that changes, or what is said about it: the mark that stood and the one that stands. `given` is None where
    the teacher's mark is taken back."""

    sheet: str
    student: str
    name: str
    label: str
    before: Decimal
    after: Decimal
    out_of: Decimal
    why: str
    given: Given | None
    ask: str
    is_line: bool


@dataclass(frozen=True, slots=True)
class FileModerated:
    """What a file changes or has changed (`applied`): marks by answer, totals before and after by student; `problems`
    are the cells that were refused, `stale` the documents that show what stood before."""

    file: Path
    task: str
    rows: int
    changes: tuple[MarkGiven, ...]
    totals: tuple[tuple[str, Decimal, Decimal], ...]
    problems: tuple[Problem, ...]
    applied: bool
    stale: tuple[Path, ...] = ()


def moderate_file(class_path: Path, file: Path, teacher: Teacher, now: datetime) -> FileModerated:
    """Read a gradebook back; raises ProblemsFound where it cannot be read, or tells of no task."""
    start_reading()
    with alone(class_path, "moderate", now if teacher.apply else None), open_class(class_path).record() as record:
        tasks = [teacher.task] if teacher.task else record.tasks()
        sheets = {sheet.code: sheet for key in record.tasks() for sheet in record.sheets(key)}
        if teacher.task not in ("", *record.tasks()):
            raise ProblemsFound([not_issued(class_path, teacher.task)])
        typed, unread = read_marks_back(file, _nameable(sheets, tasks))
        if not typed:
            raise ProblemsFound(unread or [_nothing(file)])
        task = teacher.task or typed[0].sheet.task.key
        judged = _Judged(record, task, teacher)
        changes = tuple(judged.changes(typed))
        problems = capped((*unread, *judged.problems))
        totals = tuple(_totals(judged.standing, sheets, changes))
        if teacher.apply and changes:
            _apply(record, task, changes, teacher, now)
    stale: tuple[Path, ...] = ()
    if teacher.apply:
        stale = stale_documents(class_path, task, [sheets[change.sheet] for change in changes])
    if teacher.apply and not problems:
        may_go(class_path, file)
    return FileModerated(file, task, len(typed), changes, totals, problems, teacher.apply, stale)


def _nameable(sheets: Mapping[str, Sheet], tasks: Sequence[str]) -> dict[str, Sheet]:
    """The sheets that a row may tell of: all where it names them by their code, of one task where that is given."""
    return {code: sheet for code, sheet in sheets.items() if sheet.task.key in tasks}


def _nothing(file: Path) -> Problem:
    return Problem("nothing-typed", Place(str(file)), "rows of answers", "none")


def _totals(
    standing: ClassOutcomes, sheets: Mapping[str, Sheet], changes: Sequence[MarkGiven]
) -> Iterator[tuple[str, Decimal, Decimal]]:
    """The total of each student whose marks change, before and after."""
    for code, student in dict.fromkeys((c.sheet, c.student) for c in changes):
        before = earned_marks(sheets[code], standing[code]) or Decimal(0)
        mine = [c for c in changes if c.sheet == code and not c.is_line]
        yield student, before, before + sum((c.after - c.before for c in mine), Decimal(0))


def _apply(record: Record, task: str, changes: Sequence[MarkGiven], teacher: Teacher, now: datetime) -> None:
    with record.step("moderate", task, now, teacher.who):
        for change in changes:
            g = change.given
            if g is None:
                record.withdraw(change.sheet, change.ask, teacher.who, change.why, now)
            else:
                record.moderate(change.sheet, change.ask, g.marks, g.who, g.why, now, g.say, g.criteria)


class _Judged:
    """Looks at each row that was touched against what stands; keeps every problem with its cell."""

    def __init__(self, record: Record, task: str, teacher: Teacher) -> None:
        self.task, self.teacher = task, teacher
        self.standing, self.proposals = record.outcomes(task), record.proposals(task)
        self.moderations = record.moderations(task)
        self.problems: list[Problem] = []

    def changes(self, typed: Sequence[TypedMark]) -> Iterator[MarkGiven]:
        seen: dict[tuple[str, str], MarkGiven] = {}
        for row in typed:
            self._look_at_shown(row)
            change = self._change(row) if row.is_touched else None
            if change is None:
                continue
            first = seen.setdefault((change.sheet, change.ask), change)
            if first is change:
                yield change
            elif (first.after, first.given) != (change.after, change.given):
                expected, found = f"one mark for {change.label} of {change.student}", f"another, {change.after}"
                self._refuse("mark-twice", row.place, expected, found, "the first was taken")

    def _refuse(self, code: str, place: Place, expected: str, found: str, remedy: str = "") -> None:
        self.problems.append(Problem(code, place, expected, found, remedy))

    def _look_at_shown(self, row: TypedMark) -> None:
        """A mark typed over the one that was shown would be lost in silence."""
        if len(row.written) == 3 and row.shown != row.written[0]:
            remedy = f"type your mark under '{columns.MARK}'; nothing was taken from there"
            expected = f"{row.written[0]} under '{columns.MARKS}', as it was written"
            self._refuse("typed-over", row.place, expected, f"'{row.shown}'", remedy)

    def _change(self, row: TypedMark) -> MarkGiven | None:
        """What a touched row changes; None where nothing does, or with a problem where it cannot be."""
        sheet, ask = row.sheet, row.ask
        if sheet.task.key != self.task:
            expected, found = f"an answer of the task {self.task}", f"{sheet.code}, a sheet of {sheet.task.key}"
            self._refuse("other-task", row.place, expected, found)
            return None
        proposal = self.proposals.get(sheet.code, {}).get(ask.key)
        if proposal is None:
            self._refuse("not-marked", row.place, "an answer that was marked", f"{ask.label} of {sheet.student.code}")
            return None
        mine = self.moderations.get(sheet.code, {}).get(ask.key)
        wanted = self._wanted(row, proposal, mine)
        if wanted is None or _same(wanted.given, mine):
            return None
        if not self._is_fresh(row, self.standing[sheet.code][ask.key], mine):
            return None
        before = self.standing[sheet.code][ask.key].marks
        after = wanted.given.marks if wanted.given else proposal.marks
        who = sheet.student
        return MarkGiven(
            sheet.code, who.code, who.name, ask.label, before, after, proposal.out_of, wanted.why, wanted.given,
            ask.key, ask.line is not None,
        )  # fmt: skip

    def _wanted(self, row: TypedMark, proposal: Outcome, mine: Moderation | None) -> "_Wanted | None":
        criteria = self._criteria(row)
        marks = self._marks(row, proposal, criteria)
        if criteria is None or marks is None:
            return None
        if marks is EMPTY:
            return self._without_mark(row, mine)
        given = criteria if marks == sum(criteria, Decimal(0)) else ()
        why = row.reason or (_told(row, given) if criteria_of(row.ask) else self.teacher.why)
        if not why:
            expected = f"a reason under '{columns.REASON}'"
            self._refuse("no-reason", row.reason_place, expected, "none", "or give one for all with --why")
            return None
        return _Wanted(why, Given(marks, self.teacher.who, why, row.say, given))

    def _without_mark(self, row: TypedMark, mine: Moderation | None) -> "_Wanted | None":
        """An emptied mark takes the teacher's back; words without a mark cannot be kept."""
        if mine is None:
            expected = f"a mark under '{columns.MARK}' beside what is written, also where it stays the same"
            self._refuse("no-mark", row.place, expected, "none")
            return None
        why = (row.reason if row.reason != mine.why else "") or self.teacher.why
        if why:
            return _Wanted(why, None)
        expected = f"a reason under '{columns.REASON}' for taking your mark of {mine.marks} back"
        self._refuse("no-reason", row.reason_place, expected, "none", "or give one for all with --why")
        return None

    def _criteria(self, row: TypedMark) -> tuple[Decimal, ...] | None:
        """The marks of each criterion, none where none is filled in; None with a problem where one cannot be."""
        if not any(text for text, _ in row.criteria):
            return ()
        found, half_marks = [], row.sheet.task.rules.half_marks
        for (text, place), (name, most) in zip(row.criteria, criteria_of(row.ask), strict=True):
            marks = marks_typed(text)
            if marks is None or not may_give(marks, most, half_marks):
                expected = f"{range_text(most, half_marks)} for '{name}'"
                self._refuse("marks-out-of-range", place, expected, f"'{text}'" if text else "none")
            else:
                found.append(marks)
        return tuple(found) if len(found) == len(row.criteria) else None

    def _marks(self, row: TypedMark, proposal: Outcome, criteria: tuple[Decimal, ...] | None) -> Decimal | None:
        """The mark of a row, EMPTY where there is none, None with a problem where it cannot be."""
        text, half_marks = row.mark, row.sheet.task.rules.half_marks
        if criteria and not text:
            return sum(criteria, Decimal(0))
        if not text or text == columns.elsewhere(row.ask.label):
            return EMPTY
        marks = None if row.spoiled else marks_typed(text)
        if marks is None or not may_give(marks, proposal.out_of, half_marks):
            expected = f"{range_text(proposal.out_of, half_marks)} for {row.ask.label}"
            self._refuse("marks-out-of-range", row.place, expected, row.spoiled or f"'{text}'")
            return None
        if criteria and marks != sum(criteria, Decimal(0)):
            expected, remedy = f"the sum of the criteria, {sum(criteria)}", "empty it, or correct the criteria"
            self._refuse("marks-disagree", row.place, expected, f"'{text}'", remedy)
            return None
        return marks

    def _is_fresh(self, row: TypedMark, stands: Outcome, mine: Moderation | None) -> bool:
        """False with a problem where the mark, the entry or the teacher's words have changed since the row was
        written."""
        if len(row.written) < 3 or row.written[1] == state_of(stands.marks, stands.raw, mine):
            return True
        by = f", by {mine.who}: {mine.why}" if mine else ""
        expected = f"an answer as it was when the gradebook was written ({row.written[0]})"
        remedy = f"write a fresh gradebook (witnessmark return) and look at {row.ask.label} once more"
        self._refuse("stale", row.place, expected, f"one that has changed since: {stands.marks} now{by}", remedy)
        return False


@dataclass(frozen=True, slots=True)
class _Wanted:
    why: str
    given: Given | None


EMPTY = Decimal(-1)


def _told(row: TypedMark, criteria: Sequence[Decimal]) -> str:
    """The reason of a mark by criteria is the criteria."""
    if not criteria:
        return BY_HAND
    each = zip(criteria_of(row.ask), criteria, strict=True)
    return f"{BY_HAND}: " + ", ".join(f"{name} {marks} of {most}" for (name, most), marks in each)


def _same(given: Given | None, mine: Moderation | None) -> bool:
    """True where what is wanted stands already, whoever gave it."""
    if given is None or mine is None:
        return given is None and mine is None
    stands = (mine.marks, columns.plain(mine.why), columns.plain(mine.say), mine.criteria)
    return (given.marks, given.why, given.say, given.criteria) == stands
