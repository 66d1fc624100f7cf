"""The teacher's moderations, kept beside the machine's proposals, and the marks that stand."""

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from witnessmark.marking.outcome import Outcome, Teacher
from witnessmark.questions.model.mark_steps import may_give, range_text
from witnessmark.questions.sheet.task import Task, label_of_key
from witnessmark.record.codec import Unreadable, from_json, load
from witnessmark.record.rows import Given, Moderation, Outcomes
from witnessmark.record.storing import any_text, mark_text, named, saying, stamp, text_back
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def load_moderations(db: sqlite3.Connection, task: str, sheet: str | None = None) -> dict[str, dict[str, Moderation]]:
    """The teacher's marks that stand, by sheet code and ask key: of a task, or of one sheet of it."""
    moderations: dict[str, dict[str, Moderation]] = {}
    found = db.execute(
        "SELECT s.code, m.ask, m.marks, m.machine, m.who, m.why, m.at, m.raw, w.say, w.criteria FROM moderations AS m "
        "JOIN sheets AS s ON s.id = m.sheet LEFT JOIN teacher_words AS w ON w.sheet = m.sheet AND w.ask = m.ask "
        "WHERE s.task = :task AND (:sheet IS NULL OR s.code = :sheet) ORDER BY m.sheet, m.ask",
        {"task": task, "sheet": sheet},
    )
    for code, ask, *row in found:
        moderations.setdefault(code, {})[ask] = _moderation(*row)
    return moderations


def _moderation(
    marks: str, machine: str, who: str, why: str, at: str, raw: str | bytes | None, say: str | bytes | None,
    criteria: str | None,
) -> Moderation:  # fmt: skip
    entry, given = None if raw is None else text_back(raw), tuple(Decimal(one) for one in (criteria or "").split())
    when = datetime.fromisoformat(at)
    return Moderation(Decimal(marks), Decimal(machine), who, why, when, entry, text_back(say or ""), given)


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
    waits = tuple(_since(outcome, moderation))
    notes = (*outcome.notes, note)
    teacher = Teacher(moderation.say, outcome.marks)
    return replace(outcome, marks=moderation.marks, notes=notes, in_tray=waits, teacher=teacher)


def _since(outcome: Outcome, moderation: Moderation) -> Iterator[str]:
    """What has changed under a moderation, so that the teacher may want to look again."""
    if moderation.machine != outcome.marks:
        yield f"the machine's mark was {moderation.machine} when it was moderated and is {outcome.marks} now"
    if moderation.raw not in (None, outcome.raw):
        yield f"the entry was '{moderation.raw}' when it was moderated and is '{outcome.raw}' now"


def store_moderation(db: sqlite3.Connection, sheet: str, ask: str, given: Given, now: datetime) -> Moderation:
    """Set the teacher's mark of one ask, and what is written for the student; the same again changes nothing."""
    marks = given.marks
    number, machine, out_of, raw, half_marks = _moderable(db, sheet, ask)
    _refuse_marks(sheet, ask, marks, out_of, half_marks)
    who, why = named(sheet, label_of_key(ask), given.who, given.why)
    row = (mark_text(marks), mark_text(machine), who, why, any_text(raw))
    key = (number, ask)
    columns = "marks, machine, who, why, raw, at"
    before = db.execute(f"SELECT {columns} FROM moderations WHERE sheet = ? AND ask = ?", key).fetchone()  # noqa: S608
    at = now
    with saying(db, now, who, why):
        if before and tuple(before[:-1]) == row:
            at = datetime.fromisoformat(before[-1])
        elif before:
            sql = f"UPDATE moderations SET ({columns}) = (?, ?, ?, ?, ?, ?) WHERE sheet = ? AND ask = ?"  # noqa: S608
            db.execute(sql, (*row, stamp(now), *key))
        else:
            sql = f"INSERT INTO moderations ({columns}, sheet, ask) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"  # noqa: S608
            db.execute(sql, (*row, stamp(now), *key))
        _store_words(db, key, given)
    return Moderation(marks, machine, who, why, at, raw, given.say, given.criteria)


def _store_words(db: sqlite3.Connection, key: tuple[int, str], given: Given) -> None:
    """Keep what is written for the student and the marks of each criterion; no row where there is neither."""
    row = (any_text(given.say), " ".join(map(mark_text, given.criteria)))
    where = "WHERE sheet = ? AND ask = ?"
    before = db.execute(f"SELECT say, criteria FROM teacher_words {where}", key).fetchone()  # noqa: S608
    if (before or ("", "")) == row:
        return
    if row == ("", ""):
        db.execute(f"DELETE FROM teacher_words {where}", key)  # noqa: S608
    elif before:
        db.execute(f"UPDATE teacher_words SET (say, criteria) = (?, ?) {where}", (*row, *key))  # noqa: S608
    else:
        db.execute("INSERT INTO teacher_words (say, criteria, sheet, ask) VALUES (?, ?, ?, ?)", (*row, *key))


def withdraw_moderation(db: sqlite3.Connection, sheet: str, ask: str, who: str, why: str, now: datetime) -> bool:
    """Take the teacher's mark back, so that the machine's stands again; False when there was none."""
    number = _moderable(db, sheet, ask)[0]
    who, why = named(sheet, label_of_key(ask), who, why)
    with saying(db, now, who, why):
        db.execute("DELETE FROM teacher_words WHERE sheet = ? AND ask = ?", (number, ask))
        return db.execute("DELETE FROM moderations WHERE sheet = ? AND ask = ?", (number, ask)).rowcount > 0


def _moderable(db: sqlite3.Connection, sheet: str, ask: str) -> tuple[int, Decimal, Decimal, str, bool]:
    """Number of the sheet, the machine's marks, marks available, the entry, and whether the task gives halves."""
    row = db.execute(
        "SELECT o.sheet, o.marks, o.out_of, o.body, t.body FROM outcomes AS o "
        "JOIN sheets AS s ON s.id = o.sheet JOIN tasks AS t ON t.key = s.task WHERE s.code = ? AND o.ask = ?",
        (sheet, ask),
    ).fetchone()
    if row is None:
        remedy = "mark the task first, then moderate"
        raise ProblemsFound(
            [Problem("not-marked", Place(sheet), f"a marked answer {label_of_key(ask)}", "none", remedy)]
        )
    number, machine, out_of, body, task = row
    return number, Decimal(machine), Decimal(out_of), _raw(body), load(Task, task).rules.half_marks


def _raw(body: str) -> str:
    plain = from_json(body)
    if not isinstance(plain, dict) or not isinstance(plain.get("raw"), str):
        raise Unreadable("an outcome without its entry")
    return str(plain["raw"])


def _refuse_marks(sheet: str, ask: str, marks: Decimal, out_of: Decimal, half_marks: bool) -> None:
    if not may_give(marks, out_of, half_marks):
        expected = f"{range_text(out_of, half_marks)} for {label_of_key(ask)}"
        raise ProblemsFound([Problem("marks-out-of-range", Place(sheet), expected, str(marks))])
