"""What a teacher arranged for students: what stands, and the journal's rows of all that ever did (by triggers)."""

import sqlite3
from collections.abc import Iterator
from datetime import datetime

from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.record.storing import named, saying, stamp

COLUMNS = "kind, task, student, value, who, why, at, sheet"
NAMED = "SELECT student, kind, task, student, value, who, why, at, sheet FROM arrangements"
"""Every arrangement after the name of its student."""


def load_arrangements(db: sqlite3.Connection) -> tuple[Arrangement, ...]:
    """All that stands arranged in a class."""
    found = db.execute(f"SELECT {COLUMNS} FROM arrangements ORDER BY task, student, kind, sheet")  # noqa: S608
    return tuple(read(*row) for row in found)


def read(kind: str, task: str, student: str, value: str, who: str, why: str, at: str, sheet: str) -> Arrangement:
    """An arrangement from its columns. ValueError where they hold none."""
    return Arrangement(Arranging(kind), task, student, value, who, why, datetime.fromisoformat(at), sheet)


def arrange(db: sqlite3.Connection, new: Arrangement) -> bool:
    """Let an arrangement stand in the place of one of its kind; False where it stands already.

    ProblemsFound without a name or a reason.
    """
    who, why = named(new.student, f"'{new.kind}'", new.who, new.why)
    key = (new.task, new.student, str(new.kind), new.sheet)
    where = "task = ? AND student = ? AND kind = ? AND sheet = ?"
    before = db.execute(f"SELECT value, who, why FROM arrangements WHERE {where}", key).fetchone()  # noqa: S608
    values = (new.value, who, why)
    if before == values:
        return False
    with saying(db, new.at, who, why):
        if before:
            sql = f"UPDATE arrangements SET value = ?, who = ?, why = ?, at = ? WHERE {where}"  # noqa: S608
        else:
            columns = "(value, who, why, at, task, student, kind, sheet)"
            sql = f"INSERT INTO arrangements {columns} VALUES (?, ?, ?, ?, ?, ?, ?, ?)"  # noqa: S608
        db.execute(sql, (*values, stamp(new.at), *key))
    return True


def drop(
    db: sqlite3.Connection, kind: Arranging, task: str, student: str, sheet: str, who: str, why: str, now: datetime
) -> bool:
    """Let an arrangement stand no longer; False where there was none. ProblemsFound without a name or a reason."""
    who, why = named(student, f"taking back '{kind}'", who, why)
    where = "task = ? AND student = ? AND kind = ? AND sheet = ?"
    with saying(db, now, who, why):
        key = (task, student, str(kind), sheet)
        return db.execute(f"DELETE FROM arrangements WHERE {where}", key).rowcount > 0  # noqa: S608


def remove(db: sqlite3.Connection, student: str, now: datetime, why: str) -> None:
    """Let nothing be left of what was arranged for a student; the caller takes the journal's rows about it out."""
    with saying(db, now, "", why):
        db.execute("DELETE FROM arrangements WHERE student = ?", (student,))


def faults(db: sqlite3.Connection) -> Iterator[str]:
    """Arrangements that are not those of the last row of the journal about them."""
    told = {}
    rows = "SELECT task, sheet, detail FROM journal WHERE event = 'arranged' ORDER BY id"
    for task, student, detail in db.execute(rows):
        kind, sheet, value = str(detail).split("|", 2)
        told[task, student, kind, sheet] = value
    stands = {
        tuple(key): value for *key, value in db.execute("SELECT task, student, kind, sheet, value FROM arrangements")
    }
    for key in sorted({*told, *stands}):
        if told.get(key, "") != stands.get(key, ""):
            task, student, kind, _ = key
            now_there, then = stands.get(key) or "none", told.get(key) or "none"
            yield f"{student} {task} ({kind}): {now_there}, where the journal says {then}"
