"""Slips that a teacher accepted for a task after it was issued; the question itself stays as it was."""

import sqlite3
from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from witnessmark.questions.checking.accepted_slips import AcceptedSlip
from witnessmark.questions.model.question import Misconception
from witnessmark.record.codec import dump, load
from witnessmark.record.rows import Acceptance
from witnessmark.record.storing import mark_text, named, saying, stamp

COLUMNS = "question, part, misconception_body, answer, keeps, line, who, why, at"


def load_accepted(db: sqlite3.Connection, task: str) -> tuple[Acceptance, ...]:
    """The slips that were accepted for a task, in the order in which that was done."""
    found = db.execute(f"SELECT {COLUMNS} FROM accepted WHERE task = ? ORDER BY id", (task,))  # noqa: S608
    return tuple(
        Acceptance(
            AcceptedSlip(question, part, load(Misconception, body), answer, Decimal(keeps), line),
            who, why, datetime.fromisoformat(at),
        )
        for question, part, body, answer, keeps, line, who, why, at in found
    )  # fmt: skip


def slips_of(db: sqlite3.Connection, task: str) -> tuple[AcceptedSlip, ...]:
    """The accepted slips of a task."""
    return tuple(accepted.slip for accepted in load_accepted(db, task))


def store_accepted(
    db: sqlite3.Connection, task: str, slip: AcceptedSlip, who: str, why: str, now: datetime
) -> Acceptance:
    """Keep an accepted slip. ProblemsFound without a name or a reason; the caller has looked whether it is new."""
    who, why = named(task, slip.misconception.key, who, why)
    columns = f"task, misconception, {COLUMNS}"
    values = (
        task, slip.misconception.key, slip.question, slip.part, dump(slip.misconception), slip.answer,
        mark_text(slip.keeps), slip.line, who, why, stamp(now),
    )  # fmt: skip
    with saying(db, now, who, why):
        db.execute(f"INSERT INTO accepted ({columns}) VALUES ({', '.join('?' * len(values))})", values)  # noqa: S608
    return Acceptance(slip, who, why, now)


def drop_accepted(db: sqlite3.Connection, task: str, slip: AcceptedSlip, who: str, why: str, now: datetime) -> bool:
    """Take an accepted slip back; False when it was not accepted. The journal keeps both."""
    who, why = named(task, slip.misconception.key, who, why)
    key: Sequence[str] = (task, slip.question, slip.part, slip.line, slip.misconception.key)
    where = "task = ? AND question = ? AND part = ? AND line = ? AND misconception = ?"
    with saying(db, now, who, why):
        return db.execute(f"DELETE FROM accepted WHERE {where}", key).rowcount > 0  # noqa: S608
