"""What the record holds of one student, as lines of JSON for that student: others who are named in it are not told."""

import re
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from witnessmark.record.codec import to_json
from witnessmark.record.export import rows

Row = tuple[str, dict[str, Any]]
OF_SHEET = frozenset({"variant", "return", "counts", "differs", "outcome", "moderation", "words"})
STAYS = frozenset({"raw", "place", "shown", "row_names", "expected", "sha256", "group", "at", "since", "issued"})
"""What holds nothing about others: what the student typed and where, and the student's own numbers."""
SOMEBODY = "another student"


def lines(db: sqlite3.Connection, code: str) -> Iterator[str]:
    """Every row about a student (a code), with the student's name; none where the record does not know the student."""
    kept = [row for row in rows(db, names=True) if row[0] != "text"]
    mine, others = _mine(kept, code), _others(kept, code)
    for kind, plain in kept:
        if _is_mine(kind, plain, mine):
            yield to_json({"kind": kind, **_without(plain, others)})


@dataclass(frozen=True, slots=True)
class _Mine:
    """By what rows are known to be the student's: the code, the tasks, the sheets, and the hash of the file of each
    return by its number."""

    code: str
    tasks: frozenset[str]
    sheets: frozenset[str]
    returns: dict[int, str]


def _mine(kept: list[Row], code: str) -> _Mine:
    issued = [row for kind, row in kept if kind == "sheet" and row["student"] == code]
    sheets = frozenset(row["code"] for row in issued)
    returns = {row["number"]: row["sha256"] for kind, row in kept if kind == "return" and row["sheet"] in sheets}
    return _Mine(code, frozenset(row["task"] for row in issued), sheets, returns)


def _is_mine(kind: str, row: dict[str, Any], mine: _Mine) -> bool:
    match kind:
        case "task":
            return row["key"] in mine.tasks
        case "sheet" | "visit" | "arrangement":
            return bool(row["student"] == mine.code)
        case "entry":
            return row["return"] in mine.returns
        case "file":
            return row["sha256"] in mine.returns.values()
        case "journal":
            return row["sheet"] in mine.sheets | {mine.code}
    return kind in OF_SHEET and row["sheet"] in mine.sheets


def _others(kept: list[Row], code: str) -> re.Pattern[str]:
    """The codes, the names and the sheets of all other students, each as a word of its own."""
    sheets = [row for kind, row in kept if kind == "sheet"]
    own = {row[key] for row in sheets if row["student"] == code for key in ("student", "code", "name")}
    named = {row[key] for row in sheets for key in ("student", "code", "name")} - own - {""}
    longest_first = sorted(named, key=len, reverse=True)
    return re.compile("|".join(rf"(?<![\w-]){re.escape(one)}(?![\w-])" for one in longest_first) or r"(?!)")


def _without(value: Any, others: re.Pattern[str]) -> Any:
    if isinstance(value, dict):
        return {key: one if key in STAYS else _without(one, others) for key, one in value.items()}
    if isinstance(value, list):
        return [_without(one, others) for one in value]
    return others.sub(SOMEBODY, value) if isinstance(value, str) else value
