"""Taking one student's data out of the record, so that nothing is left of it in the file."""

import json
import re
import sqlite3
from collections.abc import Sequence
from datetime import datetime

from witnessmark.record import arrangements, chain, journal, steps, visits
from witnessmark.record.codec import to_json
from witnessmark.record.rows import Event, Removed
from witnessmark.record.storing import saying

WHY = "removed on request"


def remove_student(db: sqlite3.Connection, code: str, who: str, now: datetime) -> Removed:
    """Remove every sheet of a student with returns, outcomes, moderations, arrangements and journal rows; what went.

    The student's code goes from the machine's notes on others too (an answer equal to that of the student's sheet).
    One journal row is left that counts and names no student. What a teacher wrote as the reason of another student's
    mark stays as it was written. The caller runs this in a transaction and tidies the file
    afterwards, since the free pages of a file keep what was deleted.
    """
    sheets = db.execute("SELECT id, code FROM sheets WHERE student = ? ORDER BY id", (code,)).fetchall()
    rows = _rows_of(db, [code, *(sheet for _, sheet in sheets)])
    visits.remove(db, code, now, WHY)
    arrangements.remove(db, code, now, WHY)
    _drop_rows(db, code)
    counts = [_remove_sheet(db, number, sheet, now) for number, sheet in sheets]
    returns, marks = (sum(column) for column in zip(*counts, strict=True)) if counts else (0, 0)
    found = Removed(len(sheets), returns, marks, len(rows))
    if rows:
        steps.forget(db)
        _drop_unused_texts(db)
        _leave_out_of_notes(db, [code, *(sheet for _, sheet in sheets)])
        detail = (
            f"{found.sheets} sheets, {found.returns} returns, {found.marks} marks, {found.journal_rows} journal rows"
        )
        told = journal.write(
            db, now, Event.REMOVED, WHY, journal.About(), who=who, detail=detail, evidence=chain.evidence_of(rows)
        )
        chain.unsalt(db, rows, told)
    return found


def _rows_of(db: sqlite3.Connection, sheets: Sequence[str]) -> list[int]:
    """The numbers of the rows about these sheets."""
    found = (db.execute("SELECT id FROM journal WHERE sheet = ?", (sheet,)).fetchall() for sheet in sheets)
    return sorted(number for rows in found for (number,) in rows)


def _remove_sheet(db: sqlite3.Connection, number: int, code: str, now: datetime) -> tuple[int, int]:
    _drop_files(db, number)
    db.execute("DELETE FROM counting WHERE sheet = ?", (number,))
    db.execute("DELETE FROM differing WHERE sheet = ?", (number,))
    db.execute("DELETE FROM entries WHERE return IN (SELECT id FROM returns WHERE sheet = ?)", (number,))
    returns = db.execute("DELETE FROM returns WHERE sheet = ?", (number,)).rowcount
    with saying(db, now, "", WHY):
        db.execute("DELETE FROM teacher_words WHERE sheet = ?", (number,))
        db.execute("DELETE FROM moderations WHERE sheet = ?", (number,))
        marks = db.execute("DELETE FROM outcomes WHERE sheet = ?", (number,)).rowcount
    db.execute("DELETE FROM variants WHERE sheet = ?", (number,))
    db.execute("DELETE FROM sheets WHERE id = ?", (number,))
    _drop_rows(db, code)
    return returns, marks


def _drop_rows(db: sqlite3.Connection, about: str) -> None:
    """Let the journal's rows about a sheet go, or those that name a student in its place (visits, arrangements)."""
    db.execute("INSERT INTO removing (sheet) VALUES (?)", (about,))
    db.execute("DELETE FROM journal WHERE sheet = ?", (about,))
    db.execute("DELETE FROM removing")


def _drop_files(db: sqlite3.Connection, sheet: int) -> None:
    """Let go of the student's files, and of every class table of the task, which may name the student."""
    db.execute(
        "DELETE FROM files WHERE sha256 IN (SELECT sha256 FROM returns WHERE sheet = ? "
        "OR source IN ('table', 'unknown') AND sheet IN "
        "(SELECT id FROM sheets WHERE task = (SELECT task FROM sheets WHERE id = ?)))",
        (sheet, sheet),
    )


def _drop_unused_texts(db: sqlite3.Connection) -> None:
    db.execute("DELETE FROM texts WHERE hash NOT IN (SELECT text FROM variants)")


def _leave_out_of_notes(db: sqlite3.Connection, names: Sequence[str]) -> None:
    named = re.compile("|".join(rf"(?<![\w-]){re.escape(name)}(?![\w-])" for name in names))
    changed = []
    for sheet, ask, body in db.execute("SELECT sheet, ask, body FROM outcomes").fetchall():
        plain = json.loads(body)
        notes = {key: [named.sub("a removed student", text) for text in plain[key]] for key in ("notes", "in_tray")}
        if any(plain[key] != texts for key, texts in notes.items()):
            changed.append((to_json({**plain, **notes}), sheet, ask))
    db.executemany("UPDATE outcomes SET body = ? WHERE sheet = ? AND ask = ?", changed)
