"""The machine's proposals: stored with a reason, and only where they differ from what is there."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import lru_cache
from typing import Any

from witnessmark.marking.outcome import Outcome
from witnessmark.record.codec import dump, load
from witnessmark.record.moderation import load_moderations, standing
from witnessmark.record.rows import Change, Outcomes
from witnessmark.record.storing import mark_text, saying, sheet_ids

Row = tuple[str, str, str, int, str]
"""Marks, marks available, verdict, whether it waits for the teacher, and all else as JSON."""
COLUMNS = ("marks", "out_of", "verdict")
"""The fields of an outcome that have columns of their own."""
NOT_IN_BODY = (*COLUMNS, "teacher")
"""These and the field that no proposal of the machine fills."""
MODERATED = "EXISTS (SELECT 1 FROM moderations AS m WHERE m.sheet = o.sheet AND m.ask = o.ask)"
ALL, MAY_WAIT = "1", f"(o.waits OR {MODERATED})"
"""Which outcomes are read: all; those that may wait for the teacher, since the machine or a mark beside its own says
so; and `MODERATED`, those beside which a teacher's mark stands."""


def _row(outcome: Outcome) -> Row:
    marks, out_of = mark_text(outcome.marks), mark_text(outcome.out_of)
    return marks, out_of, outcome.verdict.value, int(bool(outcome.in_tray)), dump(outcome, without=NOT_IN_BODY)


@lru_cache(maxsize=8192)
def outcome_of(marks: str, out_of: str, verdict: str, body: str) -> Outcome:
    """An outcome from its columns and its body, made once: a page that stays open reads it again and again."""
    columns = json.dumps({"marks": marks, "out_of": out_of, "verdict": verdict})
    return load(Outcome, f"{columns[:-1]},{body[1:]}")


def changes(db: sqlite3.Connection, task: str, outcomes: Outcomes) -> tuple[Change, ...]:
    """What storing these outcomes would change, by sheet and ask.

    A sheet's outcomes replace what it had, but a moderated ask is never dropped; sheets not named stay as they are.
    """
    return tuple(change for change, _ in _differences(db, task, outcomes))


def _differences(db: sqlite3.Connection, task: str, outcomes: Outcomes) -> Iterable[tuple[Change, Row | None]]:
    _refuse_unknown(db, task, outcomes)
    stored = _stored_rows(db, task)
    moderated = load_moderations(db, task)
    for sheet, by_ask in outcomes.items():
        before = stored.get(sheet, {})
        for ask, outcome in by_ask.items():
            row = _row(outcome)
            if before.get(ask) != row:
                yield Change(sheet, ask, _from_row(before.get(ask)), outcome), row
        for ask, old in before.items():
            if ask not in by_ask and ask not in moderated.get(sheet, {}):
                yield Change(sheet, ask, _from_row(old), None), None


def _from_row(row: Row | None) -> Outcome | None:
    return None if row is None else outcome_of(row[0], row[1], row[2], row[4])


def _refuse_unknown(db: sqlite3.Connection, task: str, outcomes: Outcomes) -> None:
    known = sheet_ids(db, task)
    if strangers := [code for code in outcomes if code not in known]:
        raise KeyError(f"no sheets of {task}: {', '.join(strangers)}")


def _stored_rows(
    db: sqlite3.Connection, task: str, sheet: str | None = None, which: str = ALL
) -> dict[str, dict[str, Row]]:
    rows: dict[str, dict[str, Row]] = {}
    found = db.execute(
        "SELECT s.code, o.ask, o.marks, o.out_of, o.verdict, o.waits, o.body FROM outcomes AS o "  # noqa: S608
        "JOIN sheets AS s ON s.id = o.sheet WHERE s.task = :task AND (:sheet IS NULL OR s.code = :sheet) "
        f"AND {which} ORDER BY o.sheet, o.ask",
        {"task": task, "sheet": sheet},
    )
    for code, ask, *row in found:
        rows.setdefault(code, {})[ask] = tuple(row)
    return rows


def store_outcomes(
    db: sqlite3.Connection, task: str, outcomes: Outcomes, now: datetime, why: str, who: str
) -> tuple[Change, ...]:
    """Store the machine's proposals; what changed. The same outcomes again change nothing."""
    ids = sheet_ids(db, task)
    found = tuple(_differences(db, task, outcomes))
    with saying(db, now, who, why):
        _delete(db, [(ids[c.sheet], c.ask) for c, row in found if row is None])
        _insert(db, [(ids[c.sheet], c.ask, *row) for c, row in found if row and not c.before])
        _update(db, [(*row, ids[c.sheet], c.ask) for c, row in found if row and c.before])
    return tuple(change for change, _ in found)


def _delete(db: sqlite3.Connection, keys: Sequence[tuple[int, str]]) -> None:
    db.executemany("DELETE FROM outcomes WHERE sheet = ? AND ask = ?", keys)


def _insert(db: sqlite3.Connection, rows: Sequence[tuple[Any, ...]]) -> None:
    db.executemany("INSERT INTO outcomes VALUES (?, ?, ?, ?, ?, ?, ?)", rows)


def _update(db: sqlite3.Connection, rows: Sequence[tuple[Any, ...]]) -> None:
    columns = "marks = ?, out_of = ?, verdict = ?, waits = ?, body = ?"
    db.executemany(f"UPDATE outcomes SET {columns} WHERE sheet = ? AND ask = ?", rows)  # noqa: S608


def load_proposals(
    db: sqlite3.Connection, task: str, sheet: str | None = None, which: str = ALL
) -> dict[str, dict[str, Outcome]]:
    """The machine's outcomes as they were proposed: of a task or of one sheet, all or some (see `ALL`)."""
    return {
        sheet: {ask: outcome_of(row[0], row[1], row[2], row[4]) for ask, row in rows.items()}
        for sheet, rows in _stored_rows(db, task, sheet, which).items()
    }


def load_waiting(db: sqlite3.Connection, task: str) -> dict[str, dict[str, Outcome]]:
    """The outcomes that wait for the teacher as they stand, by sheet code and ask key; no others are read."""
    found = standing(load_proposals(db, task, which=MAY_WAIT), load_moderations(db, task))
    waits = {code: {ask: o for ask, o in by_ask.items() if o.in_tray} for code, by_ask in found.items()}
    return {code: by_ask for code, by_ask in waits.items() if by_ask}


def count_waiting(db: sqlite3.Connection, task: str) -> int:
    """How many outcomes of a task wait for the teacher; only those beside which a teacher's mark stands are read."""
    count = "SELECT count(*) FROM outcomes AS o JOIN sheets AS s ON s.id = o.sheet WHERE s.task = ? AND o.waits"
    untouched: int = db.execute(f"{count} AND NOT {MODERATED}", (task,)).fetchone()[0]
    touched = standing(load_proposals(db, task, which=MODERATED), load_moderations(db, task))
    return untouched + sum(bool(outcome.in_tray) for by_ask in touched.values() for outcome in by_ask.values())


def count_marked(db: sqlite3.Connection, task: str) -> int:
    """How many sheets of a task have outcomes."""
    count = "SELECT count(DISTINCT o.sheet) FROM outcomes AS o JOIN sheets AS s ON s.id = o.sheet WHERE s.task = ?"
    marked: int = db.execute(count, (task,)).fetchone()[0]
    return marked
