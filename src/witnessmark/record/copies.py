"""Copies of the record in a folder within the class: one before each command that writes; the last ten stay, and of the
weeks before them one each.

They are made by SQLite's own backup, which takes one state of the file also while another program reads it.
"""

import re
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from filecmp import cmp
from itertools import count
from pathlib import Path
from secrets import token_hex

from witnessmark.questions.model.question import Question
from witnessmark.record import journal
from witnessmark.record.connection import INTERRUPTED, OF_THE_DISK, rollback_file, told
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

FOLDER = "copies"
KEPT = 10
NAME = re.compile(r"(?P<at>\d{8}T\d{6}Z)(?:-(?P<number>\d+))?-before-(?P<command>[a-z-]+)\.db")
TIME = "%Y%m%dT%H%M%SZ"
PART = ".part"
DAMAGED = "record-as-it-was.damaged"
"""What a record is kept as that was too damaged to be copied."""


@dataclass(frozen=True, slots=True, order=True)
class Copy:
    """A copy of the record: when it was made (in whole seconds), the how many-th of that second, and before which
    command."""

    at: datetime
    number: int
    path: Path
    command: str

    @property
    def name(self) -> str:
        """What it is asked for by: its file without the ending."""
        return self.path.stem


def copies_of(record: Path) -> tuple[Copy, ...]:
    """The copies of a record, oldest first."""
    found = []
    for path in (record.parent / FOLDER).glob("*.db"):
        if match := NAME.fullmatch(path.name):
            at = datetime.strptime(match["at"], TIME).replace(tzinfo=UTC)
            found.append(Copy(at, int(match["number"] or 1), path, match["command"]))
    return tuple(sorted(found))


def keep_copy(record: Path, command: str, now: datetime) -> Copy | None:
    """Copy the record as it is; None where there is no record yet, or where the last copy is the same.

    ProblemsFound for a record that is damaged or a place that cannot be written.
    """
    if not record.is_file():
        return None
    folder, before = record.parent / FOLDER, copies_of(record)
    part = folder / f".{token_hex(8)}{PART}"
    try:
        folder.mkdir(exist_ok=True)
        for left in folder.glob(f".*{PART}*"):
            left.unlink()
        try:
            _back_up(record, part, waits_for_disk=False)
            if before and cmp(before[-1].path, part, shallow=False):
                return None
            made = _free(folder, command, now)
            part.replace(made.path)
        finally:
            part.unlink(missing_ok=True)
            rollback_file(part).unlink(missing_ok=True)
        _thin_out((*before, made))
    except OSError as error:
        remedy = "look whether you may write there and whether the disk is full"
        found = error.strerror or str(error)
        problem = Problem("not-writable", Place(str(folder)), "a place for copies of the record", found, remedy)
        raise ProblemsFound([problem]) from error
    return made


def _back_up(record: Path, into: Path, waits_for_disk: bool = True) -> None:
    """A copy is made before every step and need not wait until the disk has it: the step itself waits, and a copy that
    fails with the power leaves the record, and the copies before it, as they are."""
    with told(record), closing(sqlite3.connect(record)) as db, closing(sqlite3.connect(into)) as other:
        if not waits_for_disk:
            other.execute("PRAGMA synchronous = OFF")
        db.backup(other)


def _free(folder: Path, command: str, now: datetime) -> Copy:
    """A name that no copy has."""
    at = now.astimezone(UTC).replace(microsecond=0)
    for number in count(1):
        again = f"-{number}" if number > 1 else ""
        path = folder / f"{at.strftime(TIME)}{again}-before-{command}.db"
        if not list(folder.glob(f"{at.strftime(TIME)}{again}-before-*.db")):
            return Copy(at, number, path, command)
    raise AssertionError("numbers do not end")


def _thin_out(copies: tuple[Copy, ...]) -> None:
    """Of what is older than the last ten, the last of each week stays."""
    older = sorted(copies)[:-KEPT]
    last_of_week = {copy.at.isocalendar()[:2]: copy for copy in older}
    for copy in older:
        if copy is not last_of_week[copy.at.isocalendar()[:2]]:
            copy.path.unlink(missing_ok=True)


def restore(record: Path, copy: Copy, make: Callable[[str], Question], now: datetime) -> None:
    """Put a copy in the place of the record, with a row that says so; the caller has kept a copy of what was there.

    ProblemsFound where the copy is no whole record: then nothing has changed.
    """
    part = record.with_name(f".{token_hex(8)}{PART}")
    try:
        _back_up(copy.path, part)
        with Record(part, make) as found:
            found.tell_of_restoring(copy.name, now)
        rollback_file(record).unlink(missing_ok=True)  # it belongs to the file that goes
        part.replace(record)
    finally:
        part.unlink(missing_ok=True)
        rollback_file(part).unlink(missing_ok=True)


def faults(record: Record) -> Iterator[Problem]:
    """Copies that tell another story than the record: what was kept earlier must be the beginning of what is there.

    A copy from before a restoring may tell otherwise, since what came after the restored copy was given up then.
    """
    links = record.links()
    given_up = max((row.at for row in record.journal() if row.event is Event.RESTORED), default=None)
    for copy in copies_of(record.path):
        if given_up is not None and copy.at <= given_up:
            continue
        if (left := rollback_file(copy.path)).exists():
            remedy = "nothing is lost: whatever opens it next undoes it; see whether a removal waits to be finished"
            yield Problem(INTERRUPTED, Place(str(left)), "a closed copy", "an unfinished change", remedy)
            continue
        try:
            with told(copy.path), closing(sqlite3.connect(f"{copy.path.resolve().as_uri()}?mode=ro", uri=True)) as db:
                head = journal.last_link(db)
        except ProblemsFound as error:
            yield from error.problems
            continue
        if head and head not in links:
            expected, found = "a copy that the record goes on from", "one that it does not"
            remedy = "the journal was written anew since: look what differs"
            yield Problem("journal-rewritten", Place(str(copy.path)), expected, found, remedy)


def holding(record: Path, texts: Sequence[str], make: Callable[[str], Question]) -> tuple[Copy, ...]:
    """The copies that `purge` would rewrite or delete: those with sheets of these codes, and what cannot be opened."""
    return tuple(copy for copy in copies_of(record) if _holds(copy, texts, make))


def _holds(copy: Copy, texts: Sequence[str], make: Callable[[str], Question]) -> bool:
    try:
        with Record(copy.path, make) as found:
            return any(found.sheet(text) is not None for text in texts)
    except ProblemsFound:
        return True


def purge(record: Path, code: str, make: Callable[[str], Question], now: datetime) -> tuple[Copy, ...]:
    """Take a removed student out of every copy too; a copy that cannot be opened goes, and so does a damaged record
    that was set aside. The copies that were rewritten or deleted.

    ProblemsFound where the disk fails: that is no fault of the copy, which stays for the next attempt.
    """
    touched = []
    for copy in copies_of(record):
        try:
            with Record(copy.path, make) as found:
                if found.remove_student(code, now).sheets:
                    touched.append(copy)
        except ProblemsFound as error:
            if any(problem.code in OF_THE_DISK for problem in error.problems):
                raise
            copy.path.unlink(missing_ok=True)
            rollback_file(copy.path).unlink(missing_ok=True)
            touched.append(copy)
    for left in (record.parent / FOLDER).glob(f".*{PART}*"):
        left.unlink()
    (record.parent / FOLDER / DAMAGED).unlink(missing_ok=True)
    return tuple(touched)


def others_beside(record: Path) -> tuple[Path, ...]:
    """Files among the copies that the program did not put there."""
    mine = {copy.path for copy in copies_of(record)}
    return tuple(p for p in sorted((record.parent / FOLDER).glob("*")) if p not in mine and p.name != DAMAGED)
