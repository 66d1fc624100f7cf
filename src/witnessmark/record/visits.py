"""What was done with students on visits."""

import sqlite3
from collections.abc import Sequence
from datetime import date, datetime

from witnessmark.record.codec import load, to_json
from witnessmark.record.storing import named, saying, stamp
from witnessmark.review.year.history import Visit

WHY = "visited"


def load_visits(db: sqlite3.Connection) -> tuple[Visit, ...]:
    """Every visit, in the order of days and then of storing."""
    found = db.execute("SELECT student, day, misconceptions, note, who FROM visits ORDER BY day, id")
    return tuple(
        Visit(student, date.fromisoformat(day), load(tuple[str, ...], keys), note, who)
        for student, day, keys, note, who in found
    )


def store_visits(db: sqlite3.Connection, new: Sequence[Visit], now: datetime) -> None:
    """Keep them, each with a row of the journal; ProblemsFound without a name."""
    for one in new:
        who, why = named(one.student, "a visit", one.who, one.note.strip() or WHY)
        keys, note = to_json(list(one.misconceptions)), one.note.strip()
        values = (one.student, one.day.isoformat(), keys, note, who, stamp(now))
        with saying(db, now, who, why):
            db.execute(
                "INSERT INTO visits (student, day, misconceptions, note, who, at) VALUES (?, ?, ?, ?, ?, ?)", values
            )


def remove(db: sqlite3.Connection, student: str, now: datetime, why: str) -> None:
    """Let nothing be left of a student's visits; the caller takes the journal's rows about them out."""
    with saying(db, now, "", why):
        db.execute("DELETE FROM visits WHERE student = ?", (student,))
