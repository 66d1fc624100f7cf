"""The job `mark`: take in what came back, store it as received, mark it, store the proposals."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.files.tables.returned import read_returned
from witnessmark.files.workbooks.reader import start_reading
from witnessmark.files.workbooks.returns import ReturnsRead
from witnessmark.jobs.opened import Progress, alone, no_progress, not_issued, open_class
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.rows import SeveralReturns
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Marked:
    """What was marked: outcomes by sheet code and ask key, the sheets by code, what could not be taken in,
    the sheets that came back more than once with different answers, and notes on the folder's place."""

    sheets: Mapping[str, Sheet]
    outcomes: Mapping[str, Mapping[str, Outcome]]
    problems: tuple[Problem, ...]
    taken_in: int
    faults: tuple[Fault, ...] = ()
    several: tuple[SeveralReturns, ...] = ()
    notes: tuple[Problem, ...] = ()

    @property
    def waiting(self) -> int:
        """How many answers wait in the in-tray."""
        return sum(bool(o.in_tray) for by_ask in self.outcomes.values() for o in by_ask.values())


def mark(
    class_path: Path, task_key: str, now: datetime, source: Path | None = None, progress: Progress = no_progress
) -> Marked:
    """Take in a folder of answer books or one class table (default: the class's `returned/TASK`) and mark the task.

    Every return ever taken in is marked again, so that marking twice changes nothing; a file that cannot be used is a
    problem by name and never stops the others. Raises ProblemsFound when the task was not issued or nothing is there.
    """
    start_reading()
    with alone(class_path, "mark", now):
        return _mark(class_path, task_key, now, source, progress)


def _mark(class_path: Path, task_key: str, now: datetime, source: Path | None, progress: Progress) -> Marked:
    opened = open_class(class_path)
    where = source or opened.returned(task_key)
    with opened.record() as record:
        sheets = {sheet.code: sheet for sheet in record.sheets(task_key)}
        if not sheets:
            raise ProblemsFound([not_issued(class_path, task_key)])
        read = _read(where, sheets)
        progress("returns read", len(read.returns), len(sheets))
        hashes = _hashes(where, read)
        rules = next(iter(sheets.values())).task.rules
        faults: list[Fault] = []
        with record.step("mark", task_key, now):  # what came in and its marks: both or neither
            for handed_in in read.returns:  # one by one: the last received of a sheet counts
                record.add_returns([handed_in], now, hashes)
            outcomes = mark_returns(sheets, record.returns(task_key), rules, faults.append)
            record.set_outcomes(task_key, outcomes, now, "marked")
        return Marked(sheets, record.outcomes(task_key), (*record.warnings, *read.problems), len(read.returns),
                      tuple(faults), record.unchosen(task_key), whereabouts(class_path))  # fmt: skip


def _hashes(where: Path, read: ReturnsRead) -> dict[str, str]:
    """The SHA-256 of every file that was read, by the name it has in its return."""
    found = {name: hashlib.sha256(content).hexdigest() for name, content in read.contents.items()}
    for name in {r.file for r in read.returns} - found.keys():
        file = where if where.is_file() else where / name
        if file.is_file():
            found[name] = hashlib.sha256(file.read_bytes()).hexdigest()
    return found


def _read(where: Path, sheets: Mapping[str, Sheet]) -> ReturnsRead:
    if where.is_dir() or where.is_file():
        return read_returned(where, sheets)
    raise ProblemsFound([
        Problem("nothing-returned", Place(str(where)), "a folder of returned answer books, or a class table", "nothing",
                "put the returned files there, or name another place")
    ])  # fmt: skip
