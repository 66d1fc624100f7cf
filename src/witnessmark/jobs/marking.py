"""The job `mark`: take in what came back, store it as received, mark it, store the proposals."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import partial
from pathlib import Path

from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.files.tables.returned import read_returned
from witnessmark.files.workbooks.reader import start_reading
from witnessmark.files.workbooks.returns import ReturnsRead
from witnessmark.jobs.crew import Crew, one_hand
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import Progress, alone, no_progress, not_issued, open_class
from witnessmark.jobs.proposing import proposals
from witnessmark.jobs.stale import stale_documents
from witnessmark.jobs.standings import read_task_standing
from witnessmark.marking.outcome import Outcome
from witnessmark.marking.standing import AttemptStanding
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.task import Return, Sheet
from witnessmark.record.record import Record
from witnessmark.record.rows import Change, Difference, Noted, Source, StoredReturn
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Place, Problem, place_in

MARKED_LIKE_ONE = 20
"""So many sheets are marked in about the time in which one document is made."""


@dataclass(frozen=True, slots=True)
class CameOn:
    """The day on which what is taken in now came in, where that was not today; with who says so."""

    day: date
    who: str = ""


@dataclass(frozen=True, slots=True)
class Fell:
    """A total that is lower than it was, with the answers that made it so: label, mark before, mark now."""

    sheet: str
    student: str
    before: Decimal
    after: Decimal
    answers: tuple[tuple[str, Decimal, Decimal], ...]


@dataclass(frozen=True, slots=True)
class Marked:
    """What was marked: outcomes by sheet code and ask key, the sheets by code, and what could not be taken in.

    `added` answers count that did not before; `differences` wait for a teacher's choice; `replaced` is how many were
    decided now; `fell` are the totals that are lower than before; `gone` are returns whose file no longer lies in the
    folder, which count all the same; `late` are the sheets that came in after their day; `words` are what students
    wrote to the teacher, of the whole task.
    """

    folder: Path
    task: str
    sheets: Mapping[str, Sheet]
    outcomes: Mapping[str, Mapping[str, Outcome]]
    problems: tuple[Problem, ...]
    taken_in: int
    faults: tuple[Fault, ...] = ()
    notes: tuple[Problem, ...] = ()
    added: int = 0
    differences: tuple[Difference, ...] = ()
    replaced: int = 0
    fell: tuple[Fell, ...] = ()
    gone: tuple[StoredReturn, ...] = ()
    stale: tuple[Path, ...] = ()
    late: tuple[AttemptStanding, ...] = ()
    words: tuple[Noted, ...] = ()

    @property
    def waiting(self) -> int:
        """How many answers wait in the in-tray."""
        return len(self.in_tray)

    @property
    def in_tray(self) -> tuple[tuple[Sheet, str, tuple[str, ...]], ...]:
        """The answers that wait: whose sheet, which answer (its label), and each reason."""
        return tuple(
            (sheet, ask.label, outcome.in_tray)
            for code, sheet in self.sheets.items()
            for ask in sheet.asks
            if (outcome := self.outcomes.get(code, {}).get(ask.key)) and outcome.in_tray
        )


def mark(
    class_path: Path, task_key: str, now: datetime, source: Path | None = None, progress: Progress = no_progress,
    replace: Decision | None = None, came: CameOn | None = None, crew: Crew = one_hand,
) -> Marked:  # fmt: skip
    """Take in a folder of answer books or one class table (default: the class's `returned/TASK`) and mark the task.

    What is taken in adds to what counts. Where two files hold different entries for one answer the one that counts goes
    on counting and the other waits, unless `replace` decides for what is taken in now. Marking twice changes nothing; a
    file that cannot be used is a problem by name and never stops the others. What adds answers counts as received
    today, or on the day of `came`, as does all that is in a named `source`. The crew marks, a question at a time; the
    files are read here. Raises ProblemsFound when the task was not issued or nothing is there.
    """
    start_reading()
    with alone(class_path, "mark", now):
        return _mark(class_path, task_key, now, source, progress, replace, came, crew)


def _mark(
    class_path: Path, task_key: str, now: datetime, source: Path | None, progress: Progress, replace: Decision | None,
    came: CameOn | None, crew: Crew,
) -> Marked:  # fmt: skip
    opened = open_class(class_path)
    where = source or opened.returned(task_key)
    with opened.record() as record:
        sheets = {sheet.code: sheet for sheet in record.sheets(task_key)}
        if not sheets:
            raise ProblemsFound([not_issued(class_path, task_key)])
        read = _read(where, sheets, progress)
        before = _totals(record.outcomes(task_key))
        faults: list[Fault] = []
        with record.step("mark", task_key, now, replace.who if replace else ""):
            hashes = _kept(record, where, read)
            again = replace is not None and source is not None
            taken = record.take_in(read.returns, now, hashes, _source(where, read), again)
            if came:
                named = {r.sheet_code for r in read.returns} if source else {code for code, _ in taken.added}
                _give_day(record, [sheets[code] for code in sheets if code in named], came, now)
            replaced = _decide(record, task_key, read.returns, replace) if replace else 0
            differences = record.differences(task_key)
            returns, corrections = record.returns(task_key), record.corrections(task_key)
            with crew(len(sheets) // MARKED_LIKE_ONE) as hands:
                outcomes = proposals(sheets, returns, differences, faults.append, corrections, hands.done)
            why = f"marked; what differed was replaced: {replace.why}" if replace and replaced else "marked"
            changes = record.set_outcomes(task_key, outcomes, now, why)
        standing = record.outcomes(task_key)
        return Marked(
            class_path, task_key, sheets, standing,
            (*record.warnings, *read.problems, *(_undecided(one, class_path, sheets) for one in differences)),
            len(read.returns), tuple(faults), whereabouts(class_path), len(taken.added), differences, replaced,
            _fallen(sheets, before, _totals(standing), changes),
            _gone(record, task_key, where) if source is None else (),
            stale_documents(class_path, task_key, [sheets[c.sheet] for c in changes]),
            tuple(one for one in read_task_standing(record, task_key).attempts().values() if one.days_late),
            record.notes(task_key),
        )  # fmt: skip


def _read(where: Path, sheets: Mapping[str, Sheet], progress: Progress) -> ReturnsRead:
    if where.is_dir() or where.is_file():
        return read_returned(where, sheets, partial(progress, "files read"))
    raise ProblemsFound([
        Problem("nothing-returned", Place(str(where)), "a folder of returned answer books, or a class table", "nothing",
                "put the returned files there, or name another place")
    ])  # fmt: skip


def _source(where: Path, read: ReturnsRead) -> Source:
    if where.is_dir():
        return Source.FOLDER
    return Source.TABLE if read.is_table else Source.BOOK


def _kept(record: Record, where: Path, read: ReturnsRead) -> dict[str, str]:
    """Keeps every file that was read; its SHA-256 by the name it has in its return."""
    found = {name: record.keep_file(content) for name, content in read.contents.items()}
    for name in {r.file for r in read.returns} - found.keys():
        file = where if where.is_file() else Path(name)
        if file.is_file():
            found[name] = record.keep_file(file.read_bytes())
    return found


def _give_day(record: Record, sheets: Sequence[Sheet], came: CameOn, now: datetime) -> None:
    """Lets sheets count as received on a day."""
    who, why = came.who or "witnessmark", "the day was given when it was taken in"
    for sheet in sheets:
        where = (sheet.task.key, sheet.student.code)
        record.arrange(Arrangement(Arranging.RECEIVED, *where, came.day.isoformat(), who, why, now, sheet.code))


def _decide(record: Record, task_key: str, taken: Sequence[Return], decision: Decision) -> int:
    """Lets what was taken in now count where it differs; how many answers that were."""
    files = {(r.sheet_code, Path(r.file).name) for r in taken}
    decided = [d for d in record.differences(task_key) if (d.sheet, d.other.file) in files]
    for one in decided:
        record.choose_return(one.sheet, one.other.number, decision.who, decision.why, decision.now, [one.ask])
    return len({(one.sheet, one.ask) for one in decided})


def _undecided(one: Difference, class_path: Path, sheets: Mapping[str, Sheet]) -> Problem:
    label = next(ask.label for ask in sheets[one.sheet].asks if ask.key == one.ask)
    expected = f"one entry for {label} of {one.student} ({one.sheet})"
    found = f"{one.counts.told}, which counts, and {one.other.told}, which waits"
    answer = f'"{label}"' if " " in label else label
    command = f"witnessmark counts {class_path} {one.sheet} {one.other.number} {answer} --who … --why …"
    remedy = f"{command} lets it count, with {one.counts.number} it is given up"
    return Problem("entries-differ", place_in(one.other.file, one.other.entry.place), expected, found, remedy)


def _totals(outcomes: Mapping[str, Mapping[str, Outcome]]) -> dict[str, Decimal]:
    return {code: sum((o.marks for o in by_ask.values()), Decimal(0)) for code, by_ask in outcomes.items()}


def _fallen(
    sheets: Mapping[str, Sheet], before: Mapping[str, Decimal], after: Mapping[str, Decimal], changes: Sequence[Change]
) -> tuple[Fell, ...]:
    """The totals that fell, each with the answers whose marks did."""
    fell = []
    for code, total in before.items():
        if after.get(code, Decimal(0)) < total:
            labels = {ask.key: ask.label for ask in sheets[code].asks}
            answers = tuple(
                (labels[c.ask], c.before.marks, c.after.marks if c.after else Decimal(0))
                for c in changes
                if c.sheet == code and c.before and (not c.after or c.after.marks < c.before.marks)
            )
            student = sheets[code].student.code
            fell.append(Fell(code, student, total, after.get(code, Decimal(0)), answers))
    return tuple(fell)


def _gone(record: Record, task_key: str, folder: Path) -> tuple[StoredReturn, ...]:
    """Returns that count and whose file, or the archive it was in, no longer lies in the folder."""
    there = {path.name for path in folder.rglob("*") if path.is_file()}
    return tuple(
        one for one in record.all_returns(task_key)
        if one.counts and one.source is Source.FOLDER and not there.intersection(Path(one.handed_in.file).parts)
    )  # fmt: skip
