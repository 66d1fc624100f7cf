"""The whole record as JSON lines: one object a line, its kind first, for other programs and for years to come."""

import json
import sqlite3
from collections.abc import Iterator
from typing import Any

from witnessmark.record.codec import to_json
from witnessmark.record.storing import text_back

# Each kind of line and what it holds; a sheet is named by its code.
QUERIES = {
    "task": "SELECT key, body FROM tasks ORDER BY rowid",
    "text": "SELECT hash, body AS text FROM texts ORDER BY hash",
    "sheet": "SELECT code, task, student, student_body, attempt, issued FROM sheets ORDER BY id",
    "variant": """
        SELECT s.code AS sheet, number, question, fingerprint, text, shown, row_names, expected
        FROM variants JOIN sheets AS s ON s.id = sheet ORDER BY s.id, number""",
    "accepted": """
        SELECT task, question, part, line, misconception_body AS misconception, answer, keeps, who, why, at
        FROM accepted ORDER BY id""",
    "arrangement": """
        SELECT task, student, kind AS what, sheet, value, who, why, at
        FROM arrangements ORDER BY task, student, kind, sheet""",
    "corrected": "SELECT task, body, told, who, why, at FROM corrections ORDER BY id",
    "return": """
        SELECT r.id AS number, s.code AS sheet, file, sha256, received, source
        FROM returns AS r JOIN sheets AS s ON s.id = r.sheet ORDER BY r.id""",
    "entry": "SELECT return, position, ask, raw, place, note, spoiled FROM entries ORDER BY return, position",
    "counts": """
        SELECT s.code AS sheet, ask, return, chosen FROM counting JOIN sheets AS s ON s.id = sheet
        ORDER BY s.id, ask""",
    "differs": """
        SELECT s.code AS sheet, ask, return, since FROM differing JOIN sheets AS s ON s.id = sheet
        ORDER BY s.id, ask, return""",
    "file": "SELECT sha256, size FROM files ORDER BY sha256",
    "outcome": """
        SELECT s.code AS sheet, ask, marks, out_of, verdict, o.body
        FROM outcomes AS o JOIN sheets AS s ON s.id = o.sheet ORDER BY s.id, ask""",
    "moderation": """
        SELECT s.code AS sheet, ask, marks, machine, who, why, at, m.raw
        FROM moderations AS m JOIN sheets AS s ON s.id = m.sheet ORDER BY s.id, ask""",
    "visit": "SELECT student, day, misconceptions, note, who, at FROM visits ORDER BY id",
    "words": """
        SELECT s.code AS sheet, ask, say, criteria
        FROM teacher_words JOIN sheets AS s ON s.id = sheet ORDER BY s.id, ask""",
    "journal": """
        SELECT id AS number, at, event, task, sheet, ask, before, after, who, why, detail FROM journal ORDER BY id""",
}
JSON_COLUMNS = frozenset({"misconceptions", "body", "student_body", "shown", "row_names", "expected", "misconception"})


def lines(db: sqlite3.Connection, names: bool) -> Iterator[str]:
    """Every row of the record as a line of JSON; without `names`, students are told by their codes alone."""
    return (to_json({"kind": kind, **plain}) for kind, plain in rows(db, names))


def rows(db: sqlite3.Connection, names: bool) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every row of the record with its kind, as plain data."""
    for kind, query in QUERIES.items():
        found = db.execute(query)
        columns = [str(column[0]) for column in found.description]
        for row in found:
            plain = {column: _plain(column, value) for column, value in zip(columns, row, strict=True)}
            if kind == "sheet":
                plain |= _of_student(plain.pop("student_body"), names)
            yield kind, plain


def _plain(column: str, value: Any) -> Any:
    if isinstance(value, bytes):
        return text_back(value)
    return json.loads(value) if column in JSON_COLUMNS else value


def _of_student(student: dict[str, Any], names: bool) -> dict[str, Any]:
    return {key: student[key] for key in (("group", "name", "more") if names else ("group",))}
