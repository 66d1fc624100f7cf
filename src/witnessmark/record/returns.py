"""Returns as they were received: every one is kept, the last received of a sheet counts."""

import hashlib
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import PurePosixPath, PureWindowsPath
from typing import Any

from witnessmark.questions.sheet.task import Entry, Return
from witnessmark.record import journal
from witnessmark.record.codec import to_json
from witnessmark.record.rows import Event, SeveralReturns, StoredReturn
from witnessmark.record.storing import any_text, named, sheet_ids, stamp, text_back
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def store_returns(db: sqlite3.Connection, returns: Sequence[Return], now: datetime, sha256: Mapping[str, str]) -> int:
    """Store returns that are not there yet, and give their number; `sha256` is by `Return.file`.

    A return is known again by its file's name and hash and by its entries, wherever the file lies. Of several new ones
    for one sheet the last by file name counts, whatever their order here. Raises ProblemsFound for unknown sheets.
    """
    ids = sheet_ids(db)
    if strangers := [r for r in returns if r.sheet_code not in ids]:
        raise ProblemsFound([_unknown_sheet(r) for r in strangers])
    keyed = {_identity(r, ids[r.sheet_code], sha256): r for r in returns}
    known = {tuple(row) for row in db.execute("SELECT sheet, name, sha256, digest FROM returns")}
    new = sorted((key for key in keyed if key not in known), key=lambda key: (key[0], str(key[1]), *key[2:]))
    for key in new:
        _insert(db, key, keyed[key], now)
    return len(new)


def _identity(handed_in: Return, sheet: int, sha256: Mapping[str, str]) -> tuple[int, str | bytes, str, str]:
    return sheet, any_text(_name(handed_in.file)), sha256.get(handed_in.file, ""), digest_of(handed_in)


def digest_of(handed_in: Return) -> str:
    """The SHA-256 of what was entered, without the places."""
    entered = [[key, e.raw, e.note, e.spoiled] for key, e in handed_in.entries]
    return hashlib.sha256(to_json(entered).encode()).hexdigest()


def _name(file: str) -> str:
    """The last part of a path of any system."""
    return PurePosixPath(PureWindowsPath(file).as_posix()).name


def _unknown_sheet(handed_in: Return) -> Problem:
    expected = "the code of a sheet that was issued"
    remedy = "look at the sheet code in the file; it may belong to another class"
    return Problem("unknown-sheet", Place(handed_in.file), expected, f"'{handed_in.sheet_code}'", remedy)


def _insert(db: sqlite3.Connection, key: tuple[int, str | bytes, str, str], handed_in: Return, now: datetime) -> None:
    sheet, name, sha, digest = key
    db.execute("UPDATE returns SET current = 0, chosen = 0 WHERE sheet = ? AND current = 1", (sheet,))
    number = db.execute(
        "INSERT INTO returns (sheet, file, name, sha256, digest, received, current) VALUES (?, ?, ?, ?, ?, ?, 1)",
        (sheet, any_text(handed_in.file), name, sha, digest, stamp(now)),
    ).lastrowid
    db.executemany(
        "INSERT INTO entries (return, position, ask, raw, place, note, spoiled) VALUES (?, ?, ?, ?, ?, ?, ?)",
        [
            (number, n, any_text(ask), any_text(e.raw), any_text(e.place), any_text(e.note), int(e.spoiled))
            for n, (ask, e) in enumerate(handed_in.entries)
        ],
    )
    task = db.execute("SELECT task FROM sheets WHERE id = ?", (sheet,)).fetchone()[0]
    journal.write(
        db,
        now,
        Event.RETURNED,
        "taken in",
        journal.About(task, handed_in.sheet_code),
        detail=_name(handed_in.file),
        evidence=digest,
    )


def choose_return(db: sqlite3.Connection, sheet: str, number: int, who: str, why: str, now: datetime) -> bool:
    """Let this return of a sheet count, whatever was received later; False when a teacher chose it before."""
    who, why = named(sheet, "the choice of a return", who, why)
    row = db.execute(
        "SELECT s.id, s.task, r.name, r.chosen FROM returns AS r JOIN sheets AS s ON s.id = r.sheet "
        "WHERE s.code = ? AND r.id = ?",
        (sheet, number),
    ).fetchone()
    if row is None:
        raise KeyError(f"{sheet} has no return {number}")
    if row[3]:
        return False
    db.execute("UPDATE returns SET current = 0, chosen = 0 WHERE sheet = ? AND current = 1", (row[0],))
    db.execute("UPDATE returns SET current = 1, chosen = 1 WHERE id = ?", (number,))
    journal.write(db, now, Event.CHOSEN, why, journal.About(row[1], sheet), who=who, detail=text_back(row[2]))
    return True


def load_returns(db: sqlite3.Connection, task: str, sheet: str | None = None) -> tuple[StoredReturn, ...]:
    """Every return of a task, or of one sheet of it, in order of sheets and of receiving."""
    entries: defaultdict[int, list[tuple[str, Entry]]] = defaultdict(list)
    chosen = "r.sheet IN (SELECT id FROM sheets WHERE task = :task AND (:sheet IS NULL OR code = :sheet))"
    named = {"task": task, "sheet": sheet}
    found = db.execute(
        "SELECT e.return, e.ask, e.raw, e.place, e.note, e.spoiled FROM returns AS r JOIN entries AS e "  # noqa: S608
        f"ON e.return = r.id WHERE {chosen} ORDER BY e.return, e.position",
        named,
    )
    for number, ask, raw, place, note, spoiled in found:
        entry = Entry(text_back(raw), text_back(place), text_back(note), bool(spoiled))
        entries[number].append((text_back(ask), entry))
    rows = db.execute(
        "SELECT r.id, s.code, r.file, r.received, r.sha256, r.current, r.chosen FROM returns AS r "  # noqa: S608
        f"JOIN sheets AS s ON s.id = r.sheet WHERE {chosen} ORDER BY r.sheet, r.id",
        named,
    )
    return tuple(_stored(row, entries[row[0]]) for row in rows)


def unchosen(db: sqlite3.Connection, task: str) -> tuple[SeveralReturns, ...]:
    """The sheets that came back more than once with different answers, where no teacher has chosen yet."""
    found = db.execute(
        "SELECT s.code, s.student, count(*), max(CASE r.current WHEN 1 THEN r.name END) FROM returns AS r "
        "JOIN sheets AS s ON s.id = r.sheet WHERE s.task = ? "
        "GROUP BY s.id HAVING count(DISTINCT r.digest) > 1 AND max(r.chosen) = 0 ORDER BY s.id",
        (task,),
    )
    return tuple(SeveralReturns(code, who, count, text_back(name or "")) for code, who, count, name in found)


def _stored(row: Sequence[Any], entries: Sequence[tuple[str, Entry]]) -> StoredReturn:
    number, code, file, received, sha, current, chosen = row
    handed_in = Return(code, text_back(file), tuple(entries))
    return StoredReturn(number, handed_in, datetime.fromisoformat(received), sha, bool(current), bool(chosen))
