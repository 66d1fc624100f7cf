"""Tasks and sheets as they were issued: the whole question text, the values shown, the results expected."""

import hashlib
import json
import sqlite3
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from functools import cache, lru_cache

from witnessmark.questions.checking.accepted_slips import AcceptedSlip, with_accepted
from witnessmark.questions.checking.corrections import Correction, corrected
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.expected import Expected, expected_of
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.questions.sheet.variant import Shown, Variant
from witnessmark.record import journal
from witnessmark.record.acceptance import slips_of
from witnessmark.record.codec import dump, load, to_json
from witnessmark.record.corrections import load_corrections
from witnessmark.record.rows import Event
from witnessmark.record.storing import stamp
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


class Questions:
    """Questions by the hash of their text, each made once; with the slips accepted for a task where it has some."""

    def __init__(self, db: sqlite3.Connection, make: Callable[[str], Question]) -> None:
        self._db, self._make = db, make
        self._made: dict[str, Question] = {}
        self._with: dict[tuple[str, tuple[AcceptedSlip, ...], tuple[Correction, ...]], Question] = {}

    def __getitem__(self, text_hash: str) -> Question:
        if text_hash not in self._made:
            row = self._db.execute("SELECT body FROM texts WHERE hash = ?", (text_hash,)).fetchone()
            self._made[text_hash] = self._make(row[0])
        return self._made[text_hash]

    def marked_by(
        self, text_hash: str, accepted: tuple[AcceptedSlip, ...], corrections: tuple[Correction, ...] = ()
    ) -> Question:
        """The question of a text as it was corrected, with these slips beside its own."""
        if not accepted and not corrections:
            return self[text_hash]
        at = text_hash, accepted, corrections
        if at not in self._with:
            self._with[at] = with_accepted(corrected(self[text_hash], corrections), accepted)
        return self._with[at]


def store_task(db: sqlite3.Connection, task: Task, now: datetime) -> None:
    """Store a task, or what changed in its title or date; its questions and rules stay once a sheet was issued."""
    before = load_task(db, task.key)
    if before is not None and _is_issued(db, task.key):
        if before.questions != task.questions:
            raise ProblemsFound([_other_questions(before, task)])
        task = replace(task, rules=before.rules)
    body, about = dump(task), journal.About(task.key)
    if before is None:
        db.execute("INSERT INTO tasks (key, body) VALUES (?, ?)", (task.key, body))
        journal.write(db, now, Event.TASK, "set", about, detail=body)
    elif dump(before) != body:
        db.execute("UPDATE tasks SET body = ? WHERE key = ?", (body, task.key))
        journal.write(db, now, Event.TASK, "changed", about, detail=body)


def load_task(db: sqlite3.Connection, key: str) -> Task | None:
    """The task of this key, or None."""
    row = db.execute("SELECT body FROM tasks WHERE key = ?", (key,)).fetchone()
    return load(Task, row[0]) if row else None


def task_keys(db: sqlite3.Connection) -> tuple[str, ...]:
    """The keys of all tasks, in the order in which they were set."""
    return tuple(key for (key,) in db.execute("SELECT key FROM tasks ORDER BY rowid"))


def count_sheets(db: sqlite3.Connection, task: str) -> int:
    """How many sheets of a task were issued."""
    count: int = db.execute("SELECT count(*) FROM sheets WHERE task = ?", (task,)).fetchone()[0]
    return count


def codes_of_students(db: sqlite3.Connection) -> tuple[tuple[str, str], ...]:
    """Code and student of every sheet, task by task in the order of issue."""
    sql = "SELECT s.code, s.student FROM sheets AS s JOIN tasks AS t ON t.key = s.task ORDER BY t.rowid, s.id"
    return tuple(db.execute(sql))


def _is_issued(db: sqlite3.Connection, task: str) -> bool:
    return bool(db.execute("SELECT EXISTS (SELECT 1 FROM sheets WHERE task = ?)", (task,)).fetchone()[0])


def _other_questions(before: Task, task: Task) -> Problem:
    expected = f"the questions that were issued: {', '.join(before.questions)}"
    remedy = "set other questions as a task of another name"
    return Problem("task-changed", Place(task.key), expected, ", ".join(task.questions), remedy)


def store_sheets(
    db: sqlite3.Connection, sheets: Sequence[Sheet], now: datetime, expected: Mapping[str, Expected] | None
) -> int:
    """Store sheets that are not there yet, and give their number; what was issued once stays as it is.

    Raises ProblemsFound when a sheet of the same code, or the same student and attempt, was issued with other contents.
    """
    tasks = {sheet.task.key: sheet.task for sheet in sheets}
    there = {code: record for key in tasks for code, record in _stored(db, key).items()}
    taken = {(stored.task, stored.student, stored.attempt) for stored in there.values()}
    new: dict[str, Sheet] = {}
    problems: list[Problem] = []
    for sheet in sheets:
        mine = _Stored(sheet.task.key, sheet.student.code, sheet.attempt, tuple(map(_values, sheet.variants)))
        if sheet.code not in there and (mine.task, mine.student, mine.attempt) not in taken:
            new[sheet.code] = sheet
            there[sheet.code] = mine
            taken.add((mine.task, mine.student, mine.attempt))
        elif there.get(sheet.code) != mine:
            problems.append(_issued_otherwise(sheet))
    if problems:
        raise ProblemsFound(problems)
    results = expected_of(tuple(new.values())) if expected is None else expected
    _insert_texts(db, tuple(new.values()))
    for code, sheet in new.items():
        _insert(db, sheet, there[code], now, results[code])
    return len(new)


@dataclass(frozen=True, slots=True)
class _Stored:
    """What makes two sheets the same: whose, and hash of text, values and rows of every variant."""

    task: str
    student: str
    attempt: int
    variants: tuple[tuple[str, str, str], ...]


def _stored(db: sqlite3.Connection, task: str) -> dict[str, _Stored]:
    variants = _variant_rows(db, task)
    found = db.execute("SELECT id, code, student, attempt FROM sheets WHERE task = ? ORDER BY id", (task,))
    return {code: _Stored(task, who, attempt, tuple(variants.get(n, ()))) for n, code, who, attempt in found}


def _variant_rows(db: sqlite3.Connection, task: str, code: str | None = None) -> dict[int, list[tuple[str, str, str]]]:
    """Hash of text, values and rows of the variants of a task (or sheet), by number of the sheet, in sheet order."""
    rows: dict[int, list[tuple[str, str, str]]] = {}
    found = db.execute(
        "SELECT v.sheet, v.text, v.shown, v.row_names FROM variants AS v JOIN sheets AS s ON s.id = v.sheet "
        "WHERE s.task = ? AND (? IS NULL OR s.code = ?) ORDER BY v.sheet, v.number",
        (task, code, code),
    )
    for sheet, text, shown, row_names in found:
        rows.setdefault(sheet, []).append((text, shown, row_names))
    return rows


def _values(variant: Variant) -> tuple[str, str, str]:
    shown = {name: [str(s.number), s.unit] for name, s in variant.shown.items()}
    return text_hash(variant.question.source), to_json(shown), to_json(variant.row_names)


@cache
def text_hash(text: str) -> str:
    """The SHA-256 of a question text."""
    return hashlib.sha256(text.encode()).hexdigest()


def _issued_otherwise(sheet: Sheet) -> Problem:
    expected = f"a sheet of {sheet.student.code} for {sheet.task.key} (attempt {sheet.attempt}) with its first contents"
    remedy = "issue a further attempt; what was issued stays as it is"
    return Problem("issued-otherwise", Place(sheet.code), expected, "other contents", remedy)


def _insert_texts(db: sqlite3.Connection, sheets: Sequence[Sheet]) -> None:
    texts = {v.question.source for sheet in sheets for v in sheet.variants}
    if "" in texts:
        raise ValueError("a question without its source text cannot be kept; load it from a bank")
    db.executemany("INSERT OR IGNORE INTO texts (hash, body) VALUES (?, ?)", [(text_hash(t), t) for t in texts])


def _insert(db: sqlite3.Connection, sheet: Sheet, stored: _Stored, now: datetime, expected: Expected) -> None:
    student = sheet.student
    number = db.execute(
        "INSERT INTO sheets (code, task, student, student_body, attempt, issued) VALUES (?, ?, ?, ?, ?, ?)",
        (sheet.code, sheet.task.key, student.code, dump(student), sheet.attempt, stamp(now)),
    ).lastrowid
    questions = [variant.question for variant in sheet.variants]
    rows = [
        (number, n, question.key, question.fingerprint, *values, _of_question(n, expected))
        for n, (question, values) in enumerate(zip(questions, stored.variants, strict=True), 1)
    ]
    db.executemany(
        "INSERT INTO variants (sheet, number, question, fingerprint, text, shown, row_names, expected) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        rows,
    )
    evidence = issued_evidence(sheet.task.key, student.code, dump(student), sheet.attempt, stored.variants)
    journal.write(db, now, Event.ISSUED, "issued", journal.About(sheet.task.key, sheet.code), evidence=evidence)


def issued_evidence(
    task: str, student: str, student_body: str, attempt: int, variants: Sequence[tuple[str, str, str]]
) -> str:
    """The SHA-256 of all that a sheet shows."""
    whole = to_json([task, student, student_body, attempt, [list(v) for v in variants]])
    return hashlib.sha256(whole.encode()).hexdigest()


def _of_question(number: int, expected: Expected) -> str:
    stem = f"{number}."
    return to_json({key.removeprefix(stem): repr(x) for key, x in expected.items() if key.startswith(stem)})


def load_sheet(db: sqlite3.Connection, code: str, questions: Questions) -> Sheet | None:
    """The sheet of this code, or None."""
    row = db.execute("SELECT task FROM sheets WHERE code = ?", (code,)).fetchone()
    return load_sheets(db, row[0], questions, code)[0] if row else None


def load_sheets(
    db: sqlite3.Connection, task_key: str, questions: Questions, code: str | None = None
) -> tuple[Sheet, ...]:
    """The sheets of a task in the order in which they were issued, or the one of this code.

    Their questions are as they were issued, with what was corrected and the slips that were accepted since.
    """
    task = load_task(db, task_key)
    if task is None:
        return ()
    variants = _variant_rows(db, task_key, code)
    accepted, corrections = slips_of(db, task_key), load_corrections(db, task_key)
    texts = {row[0] for rows in variants.values() for row in rows}
    made = {text: questions.marked_by(text, accepted, corrections) for text in texts}
    found = db.execute(
        "SELECT id, code, student_body, attempt FROM sheets WHERE task = ? AND (? IS NULL OR code = ?) ORDER BY id",
        (task_key, code, code),
    )
    return tuple(
        Sheet(code, task, _student(body), tuple(_variant(row, made) for row in variants.get(n, ())), attempt)
        for n, code, body, attempt in found
    )


MOST_VARIANTS = 20_000
_VARIANTS: dict[tuple[int, str, str], Variant] = {}
"""Variants by their question (the same object, which each holds), values and rows, made once: a page that stays open
reads the same sheets again and again."""


def _variant(row: tuple[str, str, str], questions: Mapping[str, Question]) -> Variant:
    question, shown, row_names = questions[row[0]], row[1], row[2]
    found = _VARIANTS.get((id(question), shown, row_names))
    if found is None:
        found = Variant(question, _shown(shown), json.loads(row_names))
        if len(_VARIANTS) >= MOST_VARIANTS:
            _VARIANTS.clear()
        _VARIANTS[id(question), shown, row_names] = found
    return found


@lru_cache(maxsize=4096)
def _student(body: str) -> Student:
    return load(Student, body)


def _shown(text: str) -> dict[str, Shown]:
    return {name: Shown(Decimal(number), unit) for name, (number, unit) in json.loads(text).items()}


def load_expected(db: sqlite3.Connection, task_key: str) -> dict[str, dict[str, float]]:
    """The right results (SI) as they were worked out when the sheets were issued, by sheet code and ask key."""
    expected: dict[str, dict[str, float]] = {}
    found = db.execute(
        "SELECT s.code, v.number, v.expected FROM variants AS v JOIN sheets AS s ON s.id = v.sheet "
        "WHERE s.task = ? ORDER BY v.sheet, v.number",
        (task_key,),
    )
    for code, number, body in found:
        results = {f"{number}.{key}": float(value) for key, value in json.loads(body).items()}
        expected.setdefault(code, {}).update(results)
    return expected
