"""How single values stand in a column: times, marks, text of any kind."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from decimal import Decimal
from functools import cache

from witnessmark.record.codec import is_storable
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def stamp(now: datetime) -> str:
    """A time as text; ValueError without a time zone, since a record is read elsewhere and years later."""
    if now.utcoffset() is None:
        raise ValueError("a time for the record needs its time zone")
    return now.isoformat()


@cache
def mark_text(marks: Decimal) -> str:
    """Marks in their one spelling: plain digits, no zeros at the end. ValueError for negative or no number."""
    if not marks.is_finite() or marks < 0:
        raise ValueError(f"{marks} cannot be marks")
    text = format(marks, "f")
    return (text.rstrip("0").rstrip(".") if "." in text else text).lstrip("-") or "0"


def any_text(text: str) -> str | bytes:
    """Text as it is, or as bytes where it holds half of a surrogate pair."""
    return text if is_storable(text) else text.encode("utf-8", "surrogatepass")


def text_back(stored: str | bytes) -> str:
    """The text that `any_text` stored."""
    return stored if isinstance(stored, str) else stored.decode("utf-8", "surrogatepass")


@contextmanager
def saying(db: sqlite3.Connection, now: datetime, who: str, why: str) -> Iterator[None]:
    """Give the reason of every change of a mark inside; the triggers of the file copy it into the journal."""
    db.execute("INSERT OR REPLACE INTO saying (one, at, who, why) VALUES (1, ?, ?, ?)", (stamp(now), who, why))
    yield
    db.execute("DELETE FROM saying")


def sheet_ids(db: sqlite3.Connection, task: str | None = None) -> dict[str, int]:
    """The number of each sheet by its code, of one task or of all."""
    found = db.execute("SELECT code, id FROM sheets WHERE ? IS NULL OR task = ? ORDER BY id", (task, task))
    return dict(found.fetchall())


def named(sheet: str, what: str, who: str, why: str) -> tuple[str, str]:
    """Who and why, tidied; ProblemsFound when one of them was not given."""
    who, why = " ".join(who.split()), why.strip()
    missing = [what for what, given in (("a name", who), ("a reason", why)) if not given]
    if missing:
        remedy = "say who decides and why; both are kept in the record"
        raise ProblemsFound([Problem("no-reason", Place(sheet), f"{' and '.join(missing)} for {what}", "none", remedy)])
    return who, why
