"""Returns as they were received: every one is kept; what counts of them is told in `counting`."""

import hashlib
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import PurePosixPath, PureWindowsPath
from typing import Any

from witnessmark.questions.sheet.task import Entry, Return
from witnessmark.record import counting, journal
from witnessmark.record.codec import to_json
from witnessmark.record.counting import entry_of
from witnessmark.record.rows import Event, Noted, Source, StoredReturn, TakenIn
from witnessmark.record.storing import any_text, sheet_ids, stamp, text_back
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

Identity = tuple[int, str | bytes, str, str]
"""A return as it is known again: its sheet's number, its file's name, the SHA-256 of the file and of the entries."""


def take_in(
    db: sqlite3.Connection, returns: Sequence[Return], now: datetime, sha256: Mapping[str, str], source: Source,
    again: bool,
) -> TakenIn:  # fmt: skip
    """Store returns as they were received, and let their answers count where none counts yet (see `counting`).

    A return is known again by its file's name and hash and by its entries, wherever the file lies. What a file said
    when it was last taken in changes nothing, unless it is taken in `again` on purpose. `sha256` is by `Return.file`.
    Raises ProblemsFound for unknown sheets.
    """
    ids = sheet_ids(db)
    if strangers := [r for r in returns if r.sheet_code not in ids]:
        raise ProblemsFound([_unknown_sheet(r) for r in strangers])
    new, added = 0, []
    for handed_in in sorted(returns, key=_fuller_first):
        key = _identity(handed_in, ids[handed_in.sheet_code], sha256)
        number = _known(db, key)
        if number is None:
            number, new = _insert(db, key, handed_in, now, source), new + 1
        elif number == _said_last(db, key) and not again:
            continue
        counting.forget_file(db, key[0], key[1], number)
        db.execute("UPDATE returns SET seen = (SELECT max(seen) + 1 FROM returns) WHERE id = ?", (number,))
        added += [(handed_in.sheet_code, ask) for ask in counting.join(db, key[0], number, handed_in.entries, now)]
    return TakenIn(new, tuple(added))


def _fuller_first(handed_in: Return) -> tuple[str, int, str, str]:
    """Of several returns of one sheet the fuller is taken first, so that it is the one proposed."""
    filled = sum(entry.is_filled for _, entry in handed_in.answers)
    return handed_in.sheet_code, -filled, _name(handed_in.file), digest_of(handed_in)


def _known(db: sqlite3.Connection, key: Identity) -> int | None:
    row = db.execute(
        "SELECT id FROM returns WHERE sheet = ? AND name = ? AND sha256 = ? AND digest = ?", key
    ).fetchone()
    return row[0] if row else None


def _said_last(db: sqlite3.Connection, key: Identity) -> int | None:
    """The return that a file of this name held for this sheet when it was last taken in, unless that was undone."""
    row = db.execute(
        "SELECT id FROM returns WHERE sheet = ? AND name = ? AND seen > 0 ORDER BY seen DESC LIMIT 1", key[:2]
    ).fetchone()
    return row[0] if row else None


def _identity(handed_in: Return, sheet: int, sha256: Mapping[str, str]) -> Identity:
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


def _insert(db: sqlite3.Connection, key: Identity, handed_in: Return, now: datetime, source: Source) -> int:
    sheet, name, sha, digest = key
    number = db.execute(
        "INSERT INTO returns (sheet, file, name, sha256, digest, received, source) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (sheet, any_text(handed_in.file), name, sha, digest, stamp(now), source.value),
    ).lastrowid
    assert number is not None
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
    return number


def load_returns(db: sqlite3.Connection, task: str, sheet: str | None = None) -> tuple[StoredReturn, ...]:
    """Every return of a task, or of one sheet of it, in order of sheets and of receiving."""
    chosen = "r.sheet IN (SELECT id FROM sheets WHERE task = :task AND (:sheet IS NULL OR code = :sheet))"
    named = {"task": task, "sheet": sheet}
    entries: defaultdict[int, list[tuple[str, Entry]]] = defaultdict(list)
    found = db.execute(
        "SELECT e.return, e.ask, e.raw, e.place, e.note, e.spoiled FROM returns AS r JOIN entries AS e "  # noqa: S608
        f"ON e.return = r.id WHERE {chosen} ORDER BY e.return, e.position",
        named,
    )
    for number, ask, *entered in found:
        entries[number].append((text_back(ask), entry_of(*entered)))
    counts: defaultdict[int, list[tuple[str, bool]]] = defaultdict(list)
    found = db.execute(
        "SELECT c.return, c.ask, c.chosen FROM counting AS c JOIN returns AS r ON r.id = c.return "  # noqa: S608
        f"WHERE {chosen} ORDER BY c.sheet, c.ask",
        named,
    )
    for number, ask, by_teacher in found:
        counts[number].append((text_back(ask), bool(by_teacher)))
    rows = db.execute(
        "SELECT r.id, s.code, r.file, r.received, r.sha256, r.source, "  # noqa: S608
        "EXISTS (SELECT 1 FROM files AS f WHERE f.sha256 = r.sha256), r.seen = 0 "
        f"FROM returns AS r JOIN sheets AS s ON s.id = r.sheet WHERE {chosen} ORDER BY r.sheet, r.id",
        named,
    )
    return tuple(_stored(row, entries[row[0]], counts[row[0]]) for row in rows)


def _stored(
    row: Sequence[Any], entries: Sequence[tuple[str, Entry]], counts: Sequence[tuple[str, bool]]
) -> StoredReturn:
    number, code, file, received, sha, source, kept, back = row
    handed_in = Return(code, text_back(file), tuple(entries))
    counting_asks, chosen = tuple(ask for ask, _ in counts), tuple(ask for ask, by_teacher in counts if by_teacher)
    when = datetime.fromisoformat(received)
    return StoredReturn(number, handed_in, when, sha, counting_asks, chosen, Source(source), bool(kept), bool(back))


def standing_returns(stored: Sequence[StoredReturn]) -> tuple[Return, ...]:
    """For every sheet that came back one return of the answers that count, with the files that they came in.

    An answer that any return left blank and none filled is there as blank. Notes to the teacher hand nothing in.
    """
    by_sheet: dict[str, list[StoredReturn]] = {}
    for one in (one for one in stored if not one.taken_back and one.handed_in.answers):
        by_sheet.setdefault(one.handed_in.sheet_code, []).append(one)
    return tuple(_standing(code, several) for code, several in by_sheet.items())


def _standing(code: str, several: Sequence[StoredReturn]) -> Return:
    only = several[0].handed_in
    if len(several) == 1 and {a for a, e in only.answers if e.is_filled} == {*several[0].counts}:
        return replace(only, entries=only.answers)
    entries = {ask: Entry("", entry.place) for one in several for ask, entry in one.handed_in.answers}
    for one in several:
        mine = dict(one.handed_in.answers)
        entries |= {ask: mine[ask] for ask in one.counts if ask in mine}
    files = dict.fromkeys(one.handed_in.file for one in several if one.counts) or {several[-1].handed_in.file: None}
    return Return(code, ", ".join(files), tuple(entries.items()))


def notes_in(stored: Sequence[StoredReturn]) -> tuple[Noted, ...]:
    """What students wrote to the teacher, in the order of `stored`; the same words of one sheet once, as they were
    first received."""
    found: dict[tuple[str, str], Noted] = {}
    for one in stored:
        note, code = one.handed_in.note, one.handed_in.sheet_code
        if note and not one.taken_back:
            said = " ".join(note.raw.split())
            found.setdefault((code, said), Noted(code, note, _name(one.handed_in.file), one.received))
    return tuple(found.values())
