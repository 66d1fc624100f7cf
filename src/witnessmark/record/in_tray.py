"""What waits for the teacher, worked out from outcomes, moderations and returns; nothing of it is stored."""

import sqlite3
from collections.abc import Iterator, Mapping

from witnessmark.marking.outcome import Outcome
from witnessmark.record.moderation import load_moderations, standing
from witnessmark.record.outcomes import load_proposals
from witnessmark.record.returns import digest_of, load_returns
from witnessmark.record.rows import InTrayItem, Outcomes, StoredReturn


def in_tray(db: sqlite3.Connection, task: str) -> tuple[InTrayItem, ...]:
    """The items of a task by sheet, in the order of issue; what concerns a whole sheet first."""
    outcomes = standing(load_proposals(db, task), load_moderations(db, task))
    returns: dict[str, list[StoredReturn]] = {}
    for stored in load_returns(db, task):
        returns.setdefault(stored.handed_in.sheet_code, []).append(stored)
    found = db.execute("SELECT code, student FROM sheets WHERE task = ? ORDER BY id", (task,))
    return tuple(item for code, who in found.fetchall() for item in _of_sheet(code, who, outcomes, returns))


def _of_sheet(
    code: str, student: str, outcomes: Outcomes, returns: Mapping[str, list[StoredReturn]]
) -> Iterator[InTrayItem]:
    if reason := _several(returns.get(code, [])):
        yield InTrayItem(code, student, "", (reason,))
    for ask, outcome in sorted(outcomes.get(code, {}).items(), key=_by_ask):
        if outcome.in_tray:
            yield InTrayItem(code, student, ask, outcome.in_tray, outcome)


def _by_ask(item: tuple[str, Outcome]) -> tuple[int, str]:
    number, _, rest = item[0].partition(".")
    return (int(number) if number.isdecimal() else 0), rest


def _several(stored: list[StoredReturn]) -> str:
    if len({digest_of(r.handed_in) for r in stored}) < 2:
        return ""
    counts = next(r for r in stored if r.current)
    if counts.chosen:
        return ""
    return f"{len(stored)} returns, with different answers; the last, {counts.handed_in.file}, counts"
