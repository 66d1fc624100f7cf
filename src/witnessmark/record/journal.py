"""The journal: what happened, when, by whom and why. Rows about marks are written by the triggers of the file."""

import sqlite3
from datetime import datetime
from decimal import Decimal
from typing import Any, NamedTuple

from witnessmark.record.rows import Event, JournalRow
from witnessmark.record.storing import any_text, stamp, text_back

COLUMNS = "id, at, event, task, sheet, ask, before, after, who, why, detail"


class About(NamedTuple):
    """What a row is about: a task, or one sheet of it."""

    task: str = ""
    sheet: str = ""


def write(
    db: sqlite3.Connection, now: datetime, event: Event, why: str, about: About, *,
    who: str = "", detail: str = "", evidence: str = "",
) -> int:  # fmt: skip
    """Add a row that is not about a mark, with the hash of what it tells of; its number."""
    number = db.execute(
        "INSERT INTO journal (at, event, task, sheet, ask, who, why, detail, evidence) "
        "VALUES (?, ?, ?, ?, '', ?, ?, ?, ?)",
        (stamp(now), str(event), *about, who, why, any_text(detail), evidence),
    ).lastrowid
    assert number is not None
    return number


def last_link(db: sqlite3.Connection) -> str:
    """The last link of a record (empty for one before version 4), passing over the rows about removals: those that are
    made in a copy are not in the record."""
    if not db.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'chain'").fetchone()[0]:
        return ""
    sql = (
        "SELECT c.link FROM chain AS c LEFT JOIN journal AS j ON j.id = c.row "
        "WHERE coalesce(j.event, '') <> 'removed' ORDER BY c.row DESC LIMIT 1"
    )
    found = db.execute(sql).fetchone()
    return str(found[0]) if found else ""


def rows(
    db: sqlite3.Connection, task: str | None = None, sheet: str | None = None, ask: str | None = None
) -> tuple[JournalRow, ...]:
    """The rows in the order in which they were written, of one task, sheet or ask, or all."""
    wanted = {"task": task, "sheet": sheet, "ask": ask}
    names = [name for name, value in wanted.items() if value is not None]
    where = " AND ".join(f"{name} = ?" for name in names) or "1"
    values = [wanted[name] for name in names]
    found = db.execute(f"SELECT {COLUMNS} FROM journal WHERE {where} ORDER BY id", values)  # noqa: S608
    return tuple(_row(*row) for row in found)


def rows_about(db: sqlite3.Connection, task: str, sheet: str, student: str) -> tuple[JournalRow, ...]:
    """The rows about a sheet, its task as a whole, and what was arranged for its student, in order."""
    found = db.execute(
        f"SELECT {COLUMNS} FROM journal WHERE (task = ? AND sheet IN (?, '')) OR (sheet = ? AND event = ?) ORDER BY id",  # noqa: S608
        (task, sheet, student, Event.ARRANGED),
    )
    return tuple(_row(*row) for row in found)


def _row(number: int, at: str, event: str, task: str, sheet: str, ask: str, *rest: Any) -> JournalRow:
    before, after, who, why, detail = rest
    when, text = datetime.fromisoformat(at), text_back(detail)
    return JournalRow(number, when, Event(event), task, sheet, ask, _mark(before), _mark(after), who, why, text)


def _mark(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)
