"""Whether a record holds what it says: its chain, its marks against the journal, its sheets, its texts and its links.

Nothing of it binds an owner who writes the chain anew as well; what was copied or printed before tells of that.
"""

import sqlite3
from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.sheet.task import Student, Task
from witnessmark.record import arrangements, chain
from witnessmark.record.codec import Unreadable, load
from witnessmark.record.outcomes import outcome_of
from witnessmark.record.returns import digest_of, load_returns
from witnessmark.record.sheets import issued_evidence, text_hash
from witnessmark.words.errors import ProblemsFound, UnitError
from witnessmark.words.problems import Place, Problem

COPY = "look at copies/ and see witnessmark restore"
UNREADABLE = (ValueError, ArithmeticError, KeyError, TypeError, AttributeError, UnitError)


def problems(db: sqlite3.Connection, path: Path, make: Callable[[str], Question]) -> tuple[Problem, ...]:
    """Every fault of a record whose tables and safeguards are whole."""

    def problem(code: str, expected: str, found: str) -> Problem:
        return Problem(code, Place(str(path)), expected, found, COPY)

    said: list[Problem] = []
    said += [
        problem("journal-changed", "a journal as it was written", f"row {n} {what}") for n, what in chain.faults(db)
    ]
    said += [problem("mark-changed", "marks that the journal tells", found) for found in _marks(db)]
    said += [
        problem("arrangement-changed", "arrangements that the journal tells", found)
        for found in arrangements.faults(db)
    ]
    said += [problem("sheet-changed", "sheets and returns that the journal tells", found) for found in _sheets(db)]
    said += [problem("record-unreadable", "stored text that can be read", found) for found in _bodies(db, make)]
    said += [
        problem("record-torn", "rows that belong together", f"{table}: a row without its {parent}")
        for table, _, parent, _ in db.execute("PRAGMA foreign_key_check")
    ]
    if db.execute("SELECT EXISTS (SELECT 1 FROM saying) OR EXISTS (SELECT 1 FROM removing)").fetchone()[0]:
        said.append(problem("journal-changed", "no reason that stands ready", "one: marks could change under it"))
    return tuple(said)


def _marks(db: sqlite3.Connection) -> Iterator[str]:
    """Marks that are not those of the last row about them."""
    told: dict[tuple[str, str, str], tuple[str | None, str]] = {}
    rows = (
        "SELECT event, sheet, ask, after, detail FROM journal "
        "WHERE event IN ('marked', 'moderated', 'withdrawn') ORDER BY id"
    )
    for event, sheet, ask, after, detail in db.execute(rows):
        kind = "marked" if event == "marked" else "moderated"
        told[kind, sheet, ask] = (None if event == "withdrawn" else after, str(detail).rpartition(", now ")[2])
    stands = {
        ("marked", sheet, ask): (marks, verdict)
        for sheet, ask, marks, verdict in db.execute(
            "SELECT s.code, ask, marks, verdict FROM outcomes JOIN sheets AS s ON s.id = sheet"
        )
    } | {
        ("moderated", sheet, ask): (marks, "")
        for sheet, ask, marks in db.execute(
            "SELECT s.code, ask, marks FROM moderations JOIN sheets AS s ON s.id = sheet"
        )
    }
    for key in sorted({*told, *stands}):
        kind, sheet, ask = key
        (after, verdict), (marks, now) = told.get(key, (None, "")), stands.get(key, (None, ""))
        if after != marks:
            yield f"{sheet} {ask} ({kind}): {marks or 'no mark'}, where the journal says {after or 'none'}"
        elif marks is not None and kind == "marked" and now != verdict:
            yield f"{sheet} {ask}: '{now}', where the journal says '{verdict}'"


def _sheets(db: sqlite3.Connection) -> Iterator[str]:
    """Sheets and returns that are not those that the journal tells of."""
    issued = dict(db.execute("SELECT sheet, evidence FROM journal WHERE event = 'issued'"))
    there = {}
    for number, code, task, student, body, attempt in db.execute(
        "SELECT id, code, task, student, student_body, attempt FROM sheets"
    ).fetchall():
        shown = db.execute("SELECT text, shown, row_names FROM variants WHERE sheet = ? ORDER BY number", (number,))
        there[code] = issued_evidence(task, student, body, attempt, shown.fetchall())
    for code in sorted({*issued, *there}):
        if code not in there:
            yield f"no sheet {code}, which was issued"
        elif code not in issued:
            yield f"a sheet {code} that was not issued"
        elif issued[code] not in ("", there[code]):
            yield f"sheet {code} with other contents than were issued"
    counted = "SELECT sheet, count(*) FROM journal WHERE event = 'returned' GROUP BY sheet"
    taken = dict(db.execute(counted))
    held = dict(db.execute("SELECT s.code, count(*) FROM returns JOIN sheets AS s ON s.id = sheet GROUP BY s.id"))
    for code in sorted({*taken, *held}):
        if taken.get(code, 0) != held.get(code, 0):
            yield f"{held.get(code, 0)} returns of {code}, where the journal tells of {taken.get(code, 0)}"
    known = {digest for (digest,) in db.execute("SELECT evidence FROM journal WHERE event = 'returned'")}
    for (task,) in db.execute("SELECT key FROM tasks").fetchall():
        try:
            stored = load_returns(db, task)
        except UNREADABLE:
            continue
        digests = dict(db.execute("SELECT id, digest FROM returns"))
        for one in stored:
            typed = digest_of(one.handed_in)
            if typed != digests[one.number] or ("" not in known and typed not in known):
                yield f"return {one.number} of {one.handed_in.sheet_code} with other entries than were received"


def _bodies(db: sqlite3.Connection, make: Callable[[str], Question]) -> Iterator[str]:
    """Stored texts that cannot be read."""
    for what, (sql, read) in _readers(make).items():
        for name, *values in db.execute(sql).fetchall():
            try:
                read(*values)
            except ProblemsFound as error:
                yield f"{what} {name}: {error.problems[0].expected} expected, {error.problems[0].found} found"
            except UNREADABLE as error:
                yield f"{what} {name}: {error}"


def _readers(make: Callable[[str], Question]) -> dict[str, tuple[str, Callable[..., Any]]]:
    """By what a row is: where its name and its stored texts are found, and what reads them."""
    return {
        "task": ("SELECT key, body FROM tasks", lambda body: load(Task, body)),
        "question": ("SELECT hash, hash, body FROM texts", lambda told, body: _question(told, body, make)),
        "student of sheet": ("SELECT code, student_body, issued FROM sheets", _student),
        "question of sheet number": ("SELECT sheet, shown, row_names, expected FROM variants", _variant),
        "outcome of sheet number": ("SELECT sheet, marks, out_of, verdict, body FROM outcomes", outcome_of),
        "moderation of sheet number": ("SELECT sheet, marks, machine, at FROM moderations", _moderation),
        "accepted slip": ("SELECT misconception, misconception_body, keeps, at FROM accepted", _accepted),
        "visit": ("SELECT student, day, misconceptions, at FROM visits", _visit),
        "arrangement of": (arrangements.NAMED, arrangements.read),
        "return": ("SELECT id, received FROM returns", datetime.fromisoformat),
        "journal row": ("SELECT id, at FROM journal", datetime.fromisoformat),
    }


def _question(told: str, body: str, make: Callable[[str], Question]) -> None:
    if text_hash(body) != told:
        raise Unreadable("a text that was changed")
    make(body)


def _student(body: str, issued: str) -> None:
    load(Student, body)
    datetime.fromisoformat(issued)


def _variant(shown: str, row_names: str, expected: str) -> None:
    load(dict[str, tuple[Decimal, str]], shown)
    load(dict[str, str], row_names)
    load(dict[str, float], expected)


def _moderation(marks: str, machine: str, at: str) -> None:
    _ = Decimal(marks), Decimal(machine), datetime.fromisoformat(at)


def _visit(day: str, misconceptions: str, at: str) -> None:
    load(tuple[str, ...], misconceptions)
    _ = date.fromisoformat(day), datetime.fromisoformat(at)


def _accepted(body: str, keeps: str, at: str) -> None:
    load(Misconception, body)
    _ = Decimal(keeps), datetime.fromisoformat(at)
