"""Corrections that a teacher made to the questions of a task after it was issued, and to its rules."""

import sqlite3
from datetime import datetime

from witnessmark.questions.checking.corrections import Correction
from witnessmark.questions.sheet.task import Task
from witnessmark.record import journal
from witnessmark.record.codec import dump, load
from witnessmark.record.rows import Event
from witnessmark.record.storing import named, saying, stamp


def load_corrections(db: sqlite3.Connection, task: str) -> tuple[Correction, ...]:
    """The corrections of a task, in the order in which they were made."""
    found = db.execute("SELECT body FROM corrections WHERE task = ? ORDER BY id", (task,))
    return tuple(load(Correction, body) for (body,) in found)


def store_correction(
    db: sqlite3.Connection, task: str, correction: Correction, told: str, who: str, why: str, now: datetime
) -> None:
    """Keep a correction, `told` in words for the journal. ProblemsFound without a name or a reason."""
    who, why = named(task, told, who, why)
    with saying(db, now, who, why):
        db.execute(
            "INSERT INTO corrections (task, body, told, who, why, at) VALUES (?, ?, ?, ?, ?, ?)",
            (task, dump(correction), told, who, why, stamp(now)),
        )


def store_rules(db: sqlite3.Connection, task: Task, who: str, why: str, now: datetime) -> None:
    """Let a task be marked by other rules from now on. ProblemsFound without a name or a reason."""
    who, why = named(task.key, "other rules", who, why)
    body = dump(task)
    db.execute("UPDATE tasks SET body = ? WHERE key = ?", (body, task.key))
    journal.write(db, now, Event.TASK, why, journal.About(task.key), who=who, detail=body)
