"""How often misconceptions show, over tasks."""

import sqlite3
from collections.abc import Sequence

from witnessmark.record.rows import RecurrenceCount


def recurrences(db: sqlite3.Connection, tasks: Sequence[str]) -> tuple[RecurrenceCount, ...]:
    """A count for each misconception and task, in the order of these tasks, most students first."""
    return tuple(count for task in tasks for count in _of_task(db, task))


def _of_task(db: sqlite3.Connection, task: str) -> list[RecurrenceCount]:
    returned = db.execute(
        "SELECT count(DISTINCT s.student) FROM sheets AS s JOIN outcomes AS o ON o.sheet = s.id WHERE s.task = ?",
        (task,),
    ).fetchone()[0]
    found = db.execute(
        "SELECT g.misconception, count(DISTINCT s.student), count(*) FROM sightings AS g "
        "JOIN sheets AS s ON s.id = g.sheet WHERE s.task = ? "
        "GROUP BY g.misconception ORDER BY 2 DESC, 3 DESC, 1",
        (task,),
    )
    return [RecurrenceCount(key, task, students, sightings, returned) for key, students, sightings in found]
