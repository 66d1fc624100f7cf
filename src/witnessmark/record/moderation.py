"""The teacher's moderations, kept beside the machine's proposals, and the marks that stand."""

import sqlite3
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from witnessmark.marking.outcome import Outcome
from witnessmark.questions.task import Task
from witnessmark.record.codec import load
from witnessmark.record.rows import Moderation, Outcomes
from witnessmark.record.storing import mark_text, saying, stamp
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def load_moderations(db: sqlite3.Connection, task: str) -> dict[str, dict[str, Moderation]]:
    """The teacher's marks that stand, by sheet code and ask key."""
    moderations: dict[str, dict[str, Moderation]] = {}
    found = db.execute(
        "SELECT s.code, m.ask, m.marks, m.machine, m.who, m.why, m.at FROM moderations AS m "
        "JOIN sheets AS s ON s.id = m.sheet WHERE s.task = ? ORDER BY m.sheet, m.ask",
        (task,),
    )
    for code, ask, marks, machine, who, why, at in found:
        moderation = Moderation(Decimal(marks), Decimal(machine), who, why, datetime.fromisoformat(at))
        moderations.setdefault(code, {})[ask] = moderation
    return moderations


def standing(proposals: Outcomes, moderations: Mapping[str, Mapping[str, Moderation]]) -> dict[str, dict[str, Outcome]]:
    """The outcomes with the marks that stand: the teacher's where there are some, with a note of whose and why."""
    return {
        sheet: {ask: _moderated(outcome, moderations.get(sheet, {}).get(ask)) for ask, outcome in by_ask.items()}
        for sheet, by_ask in proposals.items()
    }


def _moderated(outcome: Outcome, moderation: Moderation | None) -> Outcome:
    if moderation is None:
        return outcome
    note = f"moderated by {moderation.who} (the machine had proposed {outcome.marks}): {moderation.why}"
    waits: tuple[str, ...] = ()
    if moderation.machine != outcome.marks:
        waits = (f"the machine's mark was {moderation.machine} when it was moderated and is {outcome.marks} now",)
    return replace(outcome, marks=moderation.marks, notes=(*outcome.notes, note), in_tray=waits)


def store_moderation(
    db: sqlite3.Connection, sheet: str, ask: str, marks: Decimal, who: str, why: str, now: datetime
) -> Moderation:
    """Set the teacher's mark of one ask; the same mark, person and reason again change nothing."""
    number, machine, out_of, half_marks = _moderable(db, sheet, ask)
    _refuse_marks(sheet, ask, marks, out_of, half_marks)
    who, why = _named(sheet, ask, who, why)
    row = (mark_text(marks), mark_text(machine), who, why)
    key = (number, ask)
    before = db.execute(
        "SELECT marks, machine, who, why, at FROM moderations WHERE sheet = ? AND ask = ?", key
    ).fetchone()
    if before and tuple(before[:4]) == row:
        return Moderation(marks, machine, who, why, datetime.fromisoformat(before[4]))
    with saying(db, now, who, why):
        if before:
            sql = "UPDATE moderations SET marks = ?, machine = ?, who = ?, why = ?, at = ? WHERE sheet = ? AND ask = ?"
        else:
            sql = "INSERT INTO moderations (marks, machine, who, why, at, sheet, ask) VALUES (?, ?, ?, ?, ?, ?, ?)"
        db.execute(sql, (*row, stamp(now), *key))
    return Moderation(marks, machine, who, why, now)


def withdraw_moderation(db: sqlite3.Connection, sheet: str, ask: str, who: str, why: str, now: datetime) -> bool:
    """Take the teacher's mark back, so that the machine's stands again; False when there was none."""
    number = _moderable(db, sheet, ask)[0]
    who, why = _named(sheet, ask, who, why)
    with saying(db, now, who, why):
        return db.execute("DELETE FROM moderations WHERE sheet = ? AND ask = ?", (number, ask)).rowcount > 0


def _moderable(db: sqlite3.Connection, sheet: str, ask: str) -> tuple[int, Decimal, Decimal, bool]:
    """Number of the sheet, the machine's marks, marks available, and whether the task gives halves."""
    row = db.execute(
        "SELECT o.sheet, o.marks, o.out_of, t.body FROM outcomes AS o "
        "JOIN sheets AS s ON s.id = o.sheet JOIN tasks AS t ON t.key = s.task WHERE s.code = ? AND o.ask = ?",
        (sheet, ask),
    ).fetchone()
    if row is None:
        remedy = "mark the task first, then moderate"
        raise ProblemsFound([Problem("not-marked", Place(sheet), f"a marked answer {ask}", "none", remedy)])
    return row[0], Decimal(row[1]), Decimal(row[2]), load(Task, row[3]).rules.half_marks


def _refuse_marks(sheet: str, ask: str, marks: Decimal, out_of: Decimal, half_marks: bool) -> None:
    step = Decimal("0.5") if half_marks else Decimal(1)
    if not marks.is_finite() or not 0 <= marks <= out_of or marks % step:
        kind = "whole or half marks" if half_marks else "whole marks"
        expected = f"{kind} from 0 to {out_of} for {ask}"
        raise ProblemsFound([Problem("marks-out-of-range", Place(sheet), expected, str(marks))])


def _named(sheet: str, ask: str, who: str, why: str) -> tuple[str, str]:
    who, why = " ".join(who.split()), why.strip()
    missing = [what for what, given in (("a name", who), ("a reason", why)) if not given]
    if missing:
        remedy = "say who moderates and why; both are kept with the mark"
        raise ProblemsFound([Problem("no-reason", Place(sheet), f"{' and '.join(missing)} for {ask}", "none", remedy)])
    return who, why
