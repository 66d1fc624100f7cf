"""Opening the record file, transactions, and SQLite's errors as problems that a person can act on."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from witnessmark.record.codec import Unreadable
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

WAIT_SECONDS = 5.0
INTERRUPTED = "record-interrupted"
APPLICATION = 0x574D524B
"""Marks a file as a record of ours (the letters WMRK)."""


def connect(path: Path, wait: float = WAIT_SECONDS) -> sqlite3.Connection:
    """A connection to the record file, which is made when it is not there.

    DELETE keeps the class one file while it is closed (WAL leaves two more, and does not work over a network);
    EXTRA brings a commit to the disk before it is reported. Nothing in a file from elsewhere is trusted to run.
    """
    with told(path):
        db = sqlite3.connect(path, timeout=wait, isolation_level=None)
        try:
            db.execute("PRAGMA trusted_schema = OFF")
            db.execute("PRAGMA foreign_keys = ON")
            db.execute("PRAGMA synchronous = EXTRA")
            db.execute("PRAGMA secure_delete = ON")
            db.execute("PRAGMA journal_mode = DELETE")
        except sqlite3.Error:
            db.close()
            raise
    return db


@contextmanager
def transaction(db: sqlite3.Connection, kind: str = "IMMEDIATE") -> Iterator[None]:
    """All or nothing; inside another transaction, a part of that one. `DEFERRED` for reading: one state of the file
    through several queries."""
    if db.in_transaction:
        yield
        return
    db.execute(f"BEGIN {kind}")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        _roll_back(db)
        raise


def _roll_back(db: sqlite3.Connection) -> None:
    """Undo what is open; after some errors (a full disk) SQLite has done so itself."""
    if db.in_transaction:
        db.execute("ROLLBACK")


@contextmanager
def told(path: Path) -> Iterator[None]:
    """SQLite's errors of operation as ProblemsFound; errors of this program stay as they are."""
    try:
        yield
    except sqlite3.IntegrityError:
        raise
    except Unreadable as error:
        raise ProblemsFound([unreadable(path, error)]) from error
    except sqlite3.DatabaseError as error:
        problem = _problem(path, error)
        if problem is None:
            raise
        raise ProblemsFound([problem]) from error


def unreadable(path: Path, error: Exception) -> Problem:
    """The problem of stored text that is not what its place should hold."""
    remedy = "see what witnessmark check says of this class; witnessmark restore puts a copy in its place"
    return Problem("record-unreadable", Place(str(path)), "stored text that can be read", str(error), remedy)


def refuse_damaged(db: sqlite3.Connection, path: Path) -> None:
    """ProblemsFound when the pages of the file do not hold together; 40 ms for a thousand students with 18 answers. A
    page that stays open looks again only at a file that others wrote since."""
    seal = _seal(path)
    if _WHOLE.get(path) == seal:
        return
    if db.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
        raise ProblemsFound([Problem(_DAMAGED[0], Place(str(path)), *_DAMAGED[1:])])
    _WHOLE[path] = seal


def is_known_whole(path: Path) -> bool:
    """True where the file is as it was when its pages were last seen to hold together."""
    return _WHOLE.get(path) == _seal(path)


def stays_whole(path: Path) -> None:
    """A file that was whole, and that nobody but SQLite for this program has written since."""
    _WHOLE[path] = _seal(path)


_WHOLE: dict[Path, tuple[int, ...]] = {}
"""The files that were whole when they were looked at, as they were then; one for each class that a process opened."""


def _seal(path: Path) -> tuple[int, ...]:
    """What tells whether a file was written since: which file it is, how long, and when it was written and changed."""
    stat = path.stat()
    return stat.st_dev, stat.st_ino, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns


_DAMAGED = ("record-damaged", "a whole record", "damaged data", "put the last good copy of record.db in its place")
_WORDS = {
    sqlite3.SQLITE_BUSY: ("record-busy", "a record that no other program is writing", "it is in use",
                          "wait, or close the other program, and try again"),
    sqlite3.SQLITE_LOCKED: ("record-busy", "a record that no other program is writing", "it is in use",
                            "wait, or close the other program, and try again"),
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_NOTADB: ("record-damaged", "a record", "a file of another kind",
                            "put the last good copy of record.db in its place"),
    sqlite3.SQLITE_READONLY: ("record-not-writable", "a record that can be written", "one that can only be read",
                              "look at the permissions of the file and its folder"),
    sqlite3.SQLITE_CANTOPEN: ("record-not-writable", "a place where the record can be opened", "none",
                              "look whether the folder is there and may be written"),
    sqlite3.SQLITE_FULL: ("disk-full", "room on the disk", "none", "make room and try again"),
    sqlite3.SQLITE_IOERR: ("record-disk-error", "a disk that answers", "an error of the disk",
                           "look after the disk; copy the class folder elsewhere"),
}  # fmt: skip

OF_THE_DISK = frozenset({"record-busy", "record-not-writable", "disk-full", "record-disk-error"})
"""Codes of problems that pass: the file itself may be whole."""


def _problem(path: Path, error: sqlite3.DatabaseError) -> Problem | None:
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    words = _WORDS.get(code)
    return Problem(words[0], Place(str(path)), *words[1:]) if words else None


def tidy(db: sqlite3.Connection, path: Path, wait: float) -> bool:
    """Clear away a rollback file that needed no undoing; False when another program is at work in it just now."""
    if not rollback_file(path).exists():
        return True
    db.execute("PRAGMA busy_timeout = 0")
    try:
        with transaction(db):
            version = db.execute("PRAGMA user_version").fetchone()[0]
            db.execute(f"PRAGMA user_version = {version}")
    except sqlite3.OperationalError:
        return False
    finally:
        db.execute(f"PRAGMA busy_timeout = {int(wait * 1000)}")
    return True


def rollback_file(path: Path) -> Path:
    """Where SQLite keeps what it needs to undo an unfinished change."""
    return path.with_name(f"{path.name}-journal")


def beside(path: Path) -> tuple[Problem, ...]:
    """Warnings about files next to the record: an unfinished change, or copies that a folder service made."""
    found: list[Problem] = []
    journal = rollback_file(path)
    if journal.exists():
        remedy = "nothing to do, it was undone; where folders are synchronised, let that finish first"
        place, expected = Place(str(journal)), "a closed record"
        found.append(Problem(INTERRUPTED, place, expected, "an unfinished change", remedy))
    if path.parent.is_dir():
        for other in sorted(path.parent.glob(f"{path.stem}*{path.suffix}")):
            if other != path:
                remedy = f"see which of the two has your last marks, and move the other out of {path.parent}"
                found.append(Problem("record-copy", Place(str(other)), "one record in a class", "a second one", remedy))
    return tuple(found)
