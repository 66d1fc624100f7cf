"""The job `returns`: every return of a task, what counts of each, and the files as they were received."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.not_taken_in import not_taken_in
from witnessmark.jobs.opened import not_issued, open_class
from witnessmark.jobs.standings import read_task_standing
from witnessmark.marking.standing import AttemptStanding, State
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.record.returns import notes_in
from witnessmark.record.rows import Difference, Noted, StoredReturn
from witnessmark.words.errors import ProblemsFound


@dataclass(frozen=True, slots=True)
class ReturnsListed:
    """The sheets of a task by code, the returns of each in the order of receiving, the entries that differ, and the
    files written (student, number and name), where they were asked for; the days of every sheet, where each student
    stands, what students wrote to the teacher, and the names of files in the folder of which nothing was taken in."""

    folder: Path
    task: str
    sheets: Mapping[str, Sheet]
    returns: Mapping[str, tuple[StoredReturn, ...]]
    differences: tuple[Difference, ...]
    files: tuple[Path, ...] = ()
    attempts: Mapping[str, AttemptStanding] = field(default_factory=dict)
    states: Mapping[str, State] = field(default_factory=dict)
    notes: tuple[Noted, ...] = ()
    not_taken_in: tuple[str, ...] = ()


def list_returns(
    class_path: Path, task_key: str, now: datetime, into: Path | None = None, with_days: bool = True
) -> ReturnsListed:
    """Every return of a task; with `into`, every kept file is written there as it was received; without `with_days`,
    neither attempts nor states are worked out. Raises ProblemsFound when the task was not issued."""
    opened = open_class(class_path)
    with opened.record() as record:
        sheets = {sheet.code: sheet for sheet in record.sheets(task_key)}
        if not sheets:
            raise ProblemsFound([not_issued(class_path, task_key)])
        stored = record.all_returns(task_key)
        by_sheet = _by_sheet(sheets, stored)
        files = _written(record, sheets, by_sheet, into) if into else ()
        days, states = _days(record, task_key, now) if with_days else ({}, {})
        differences, notes = record.differences(task_key), notes_in(stored)
        waiting = not_taken_in(opened.returned(task_key), stored)
        return ReturnsListed(
            class_path, task_key, sheets, by_sheet, differences, files, days, states, notes, waiting
        )  # fmt: skip


def _by_sheet(codes: Iterable[str], stored: Iterable[StoredReturn]) -> dict[str, tuple[StoredReturn, ...]]:
    found: dict[str, list[StoredReturn]] = {code: [] for code in codes}
    for one in stored:
        found[one.handed_in.sheet_code].append(one)
    return {code: tuple(several) for code, several in found.items()}


def _days(record: Record, task_key: str, now: datetime) -> tuple[dict[str, AttemptStanding], dict[str, State]]:
    """The days of every sheet, and where each student stands today."""
    read, today = read_task_standing(record, task_key), now.astimezone().date()
    students = {sheet.student.code: sheet.student for sheet in read.sheets}
    return read.attempts(), {code: read.standing(student, today).state for code, student in students.items()}


def _written(
    record: Record, sheets: Mapping[str, Sheet], returns: Mapping[str, tuple[StoredReturn, ...]], into: Path
) -> tuple[Path, ...]:
    """A file that several students share (a class table) is written once for each."""
    files = {}
    for code, several in returns.items():
        for one in several:
            data = record.kept_file(one.sha256)
            if data is not None:
                files[f"{sheets[code].student.code}-{one.number}-{Path(one.handed_in.file).name}"] = data
    if files:
        write_together(into, files)
    return tuple(into / name for name in files)
