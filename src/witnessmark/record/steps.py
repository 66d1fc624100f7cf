"""What one command changed, kept so that it can be taken back: the rows as they were before, and a hash of them after.

Returns are never deleted: taking back the taking in of one lets none of its entries count. Every mark that changes back
has its row in the journal, with the reason.
"""

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from witnessmark.record import journal
from witnessmark.record.chain import digest
from witnessmark.record.codec import from_json, to_json
from witnessmark.record.rows import Event, Step, Undone
from witnessmark.record.storing import named, saying, stamp
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Tracked:
    """Rows that a step may change: a table, the columns that name a row, those that are compared, how a task's rows are
    found, whether rows that came are taken out again (else `gone` is what their columns become), and whether they name
    a sheet by its number."""

    table: str
    key: tuple[str, ...]
    columns: tuple[str, ...]
    of_task: str
    gone: tuple[Any, ...] | None = None
    has_sheet: bool = True

    @property
    def where(self) -> str:
        """The condition that names one row."""
        return " AND ".join(f"{name} = ?" for name in self.key)


SHEETS = "sheet IN (SELECT id FROM sheets WHERE task = ?)"
RETURNS = Tracked("returns", ("id",), ("seen",), SHEETS, (0,))
COUNTING = Tracked("counting", ("sheet", "ask"), ("return", "chosen"), SHEETS)
DIFFERING = Tracked("differing", ("sheet", "ask", "return"), ("since",), SHEETS)
OUTCOMES = Tracked("outcomes", ("sheet", "ask"), ("marks", "out_of", "verdict", "waits", "body"), SHEETS)
MODERATIONS = Tracked("moderations", ("sheet", "ask"), ("marks", "machine", "who", "why", "raw", "at"), SHEETS)
WORDS = Tracked("teacher_words", ("sheet", "ask"), ("say", "criteria"), SHEETS)
ACCEPTED = Tracked(
    "accepted", ("id",),
    ("task", "question", "part", "line", "misconception", "misconception_body", "answer", "keeps", "who", "why", "at"),
    "task = ?", has_sheet=False,
)  # fmt: skip
TASKS = Tracked("tasks", ("key",), ("body",), "key = ?", has_sheet=False)
CORRECTIONS = Tracked("corrections", ("id",), ("task", "body", "told", "who", "why", "at"), "task = ?", has_sheet=False)
VISITS = Tracked(
    "visits", ("id",), ("student", "day", "misconceptions", "note", "who", "at"), "'' = ?", has_sheet=False
)
"""Those of the class, which belong to no task."""
ARRANGEMENTS = Tracked(
    "arrangements", ("task", "student", "kind", "sheet"), ("value", "who", "why", "at"), "task = ?", has_sheet=False
)
"""Those of a task, or, without one, of the class."""
OF_SHEETS = (RETURNS, COUNTING, DIFFERING, OUTCOMES, MODERATIONS, WORDS)
TRACKED = {tracked.table: tracked for tracked in (*OF_SHEETS, ACCEPTED, TASKS, CORRECTIONS, VISITS, ARRANGEMENTS)}

Values = tuple[Any, ...]
Rows = Mapping[tuple[str, Values], tuple[int, Values | None]]
"""By table and key: the number of the sheet (0: none), and the columns; None where there is no row."""
NOTHING: tuple[int, None] = (0, None)


def snapshot(db: sqlite3.Connection, task: str, sheets: Sequence[str] | None = None) -> Rows:
    """Every row of a task that a step may change; with `sheets` those of these sheets, and all that are of no sheet."""
    found: dict[tuple[str, Values], tuple[int, Values | None]] = {}
    for tracked in TRACKED.values():
        sheet = "sheet" if tracked.has_sheet else "0"
        names = ", ".join((*tracked.key, sheet, *tracked.columns))
        wide = len(tracked.key)
        sql = f"SELECT {names} FROM {tracked.table} WHERE {tracked.of_task}"  # noqa: S608
        if sheets is not None and tracked.has_sheet:
            sql += " AND sheet IN (SELECT id FROM sheets WHERE code IN (SELECT value FROM json_each(?)))"
            asked: tuple[str, ...] = (task, to_json(list(sheets)))
        else:
            asked = (task,)
        for row in db.execute(sql, asked):
            found[tracked.table, row[:wide]] = (row[wide], row[wide + 1 :])
    return found


def _packed(row: Sequence[Any]) -> str:
    return to_json([{"bytes": value.hex()} if isinstance(value, bytes) else value for value in row])


def _unpacked(text: str) -> list[Any]:
    return [bytes.fromhex(value["bytes"]) if isinstance(value, dict) else value for value in from_json(text)]


def keep(db: sqlite3.Connection, task: str, what: str, who: str, before: Rows, after: Rows, now: datetime) -> None:
    """Store what became of the rows of a task; nothing where all are as they were."""
    changed = [key for key in {**before, **after} if before.get(key, NOTHING)[1] != after.get(key, NOTHING)[1]]
    if not changed:
        return
    columns = "(at, what, task, who)"
    step = db.execute(f"INSERT INTO steps {columns} VALUES (?, ?, ?, ?)", (stamp(now), what, task, who)).lastrowid  # noqa: S608
    rows = []
    for table, key in changed:
        (sheet, old), (also, new) = before.get((table, key), NOTHING), after.get((table, key), NOTHING)
        rows.append((step, table, _packed(key), sheet or also, "" if old is None else _packed(old), _digest(new)))
    db.executemany("INSERT INTO step_rows (step, place, key, sheet, before, after) VALUES (?, ?, ?, ?, ?, ?)", rows)


def last(db: sqlite3.Connection) -> Step | None:
    """The last step that was not taken back, or None."""
    row = db.execute("SELECT id, at, what, task, who FROM steps WHERE undone = 0 ORDER BY id DESC LIMIT 1").fetchone()
    return Step(row[0], datetime.fromisoformat(row[1]), *row[2:]) if row else None


def undo(db: sqlite3.Connection, who: str, why: str, now: datetime) -> Undone:
    """Take the last step back; ProblemsFound where there is none, without a name or a reason, or where its rows were
    changed since by other means."""
    step = last(db)
    if step is None:
        remedy = "only what changed marks, rules, visits or arrangements can be taken back, and not beyond a removal"
        raise ProblemsFound([Problem("nothing-to-undo", Place("record"), "a step to take back", "none", remedy)])
    who, why = named(step.task, "taking a step back", who, why)
    found = db.execute("SELECT place, key, before, after FROM step_rows WHERE step = ?", (step.number,)).fetchall()
    now_there = snapshot(db, step.task)
    if any(
        _digest(now_there.get((place, tuple(_unpacked(key))), NOTHING)[1]) != after for place, key, _, after in found
    ):
        expected, remedy = "the rows that the step left", "put a copy of the record in its place: witnessmark restore"
        raise ProblemsFound([Problem("changed-since", Place(step.task), expected, "others", remedy)])
    db.execute("PRAGMA defer_foreign_keys = ON")
    told = f"{step.what} of {step.at.isoformat(' ', 'minutes')}"
    with saying(db, now, who, f"{told} taken back: {why}"):
        for tracked, key, before in _in_order(found):
            _restore(db, tracked, _unpacked(key), before)
    db.execute("UPDATE steps SET undone = 1 WHERE id = ?", (step.number,))
    sheets = _sheets_of(db, step.number)
    journal.write(db, now, Event.UNDONE, why, journal.About(step.task), who=who, detail=f"{told}: {len(sheets)} sheets")
    for sheet in sheets:
        journal.write(db, now, Event.UNDONE, why, journal.About(step.task, sheet), who=who, detail=told)
    return Undone(step, sheets)


def _digest(values: Values | None) -> str:
    return "" if values is None else digest(_packed(values))


def _in_order(found: Sequence[tuple[str, str, str, str]]) -> Iterator[tuple[Tracked, str, str]]:
    """Moderations go before outcomes do and come after them."""

    def rank(row: tuple[str, str, str, str]) -> int:
        place, _, before, _ = row
        if place == MODERATIONS.table:
            return 2 if before else 0
        return 1

    for place, key, before, _ in sorted(found, key=rank):
        yield TRACKED[place], key, before


def _restore(db: sqlite3.Connection, tracked: Tracked, key: Sequence[Any], before: str) -> None:
    """One row as it was; one that was not there goes, or stands without counting."""
    if not before and tracked.gone is None:
        db.execute(f"DELETE FROM {tracked.table} WHERE {tracked.where}", key)  # noqa: S608
        return
    values = _unpacked(before) if before else list(tracked.gone or ())
    sets = ", ".join(f"{name} = ?" for name in tracked.columns)
    changed = db.execute(f"UPDATE {tracked.table} SET {sets} WHERE {tracked.where}", (*values, *key)).rowcount  # noqa: S608
    if not changed:
        names = ", ".join((*tracked.key, *tracked.columns))
        marks = ", ".join("?" * (len(key) + len(values)))
        db.execute(f"INSERT INTO {tracked.table} ({names}) VALUES ({marks})", (*key, *values))  # noqa: S608


def _sheets_of(db: sqlite3.Connection, step: int) -> tuple[str, ...]:
    sql = "SELECT code FROM sheets WHERE id IN (SELECT sheet FROM step_rows WHERE step = ?) ORDER BY id"
    return tuple(code for (code,) in db.execute(sql, (step,)))


def forget(db: sqlite3.Connection) -> None:
    """Let no step be taken back any more: rows as they were would bring a removed student back."""
    db.execute("DELETE FROM step_rows")
    db.execute("DELETE FROM steps")
