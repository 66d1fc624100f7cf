"""What waits for the teacher, worked out from outcomes, moderations and returns; nothing of it is stored."""

import sqlite3
from collections.abc import Iterator, Mapping

from witnessmark.marking.outcome import Outcome
from witnessmark.record.moderation import load_moderations, standing
from witnessmark.record.outcomes import load_waiting
from witnessmark.record.rows import InTrayItem, Outcomes
from witnessmark.record.storing import text_back


def in_tray(db: sqlite3.Connection, task: str) -> tuple[InTrayItem, ...]:
    """The items of a task by sheet, in the order of issue; what concerns a whole sheet first."""
    outcomes = standing(load_waiting(db, task), load_moderations(db, task))
    several = _several_returns(db, task)
    found = db.execute("SELECT code, student FROM sheets WHERE task = ? ORDER BY id", (task,))
    return tuple(item for code, who in found.fetchall() for item in _of_sheet(code, who, outcomes, several))


def _of_sheet(code: str, student: str, outcomes: Outcomes, several: Mapping[str, str]) -> Iterator[InTrayItem]:
    if code in several:
        yield InTrayItem(code, student, "", (several[code],))
    for ask, outcome in sorted(outcomes.get(code, {}).items(), key=_by_ask):
        if outcome.in_tray:
            yield InTrayItem(code, student, ask, outcome.in_tray, outcome)


def _by_ask(item: tuple[str, Outcome]) -> tuple[int, str]:
    number, _, rest = item[0].partition(".")
    return (int(number) if number.isdecimal() else 0), rest


def _several_returns(db: sqlite3.Connection, task: str) -> dict[str, str]:
    """By sheet code, that it came back more than once with different answers and no teacher has chosen yet."""
    found = db.execute(
        "SELECT s.code, count(*), max(CASE r.current WHEN 1 THEN r.name END) FROM returns AS r "
        "JOIN sheets AS s ON s.id = r.sheet WHERE s.task = ? "
        "GROUP BY s.id HAVING count(DISTINCT r.digest) > 1 AND max(r.chosen) = 0",
        (task,),
    )
    words = "{} returns, with different answers; the last, {}, counts"
    return {code: words.format(count, text_back(name)) for code, count, name in found}
