"""Brings a record file to the version of this program, and looks whether it is what its version says."""

import sqlite3
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

from witnessmark.record.connection import APPLICATION, refuse_damaged, told, transaction
from witnessmark.record.mending import MENDING
from witnessmark.record.schema import SCRIPTS
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

LATEST = len(SCRIPTS)


def bring_up_to_date(db: sqlite3.Connection, path: Path, scripts: Sequence[str] = SCRIPTS) -> int:
    """Run the scripts that a file has not had, all of them or none; the version that it had.

    Raises ProblemsFound for a file of a later program, one that is no record, or one whose tables or safeguards were
    altered by other means.
    """
    with told(path):
        before = _version(db)
        _refuse_foreign(db, path, before, len(scripts))
        refuse_damaged(db, path)
        if before < len(scripts):
            with transaction(db):
                for version in range(_version(db), len(scripts)):
                    for statement in statements(scripts[version]):
                        db.execute(statement)
                    if version + 1 in MENDING:
                        MENDING[version + 1](db)
                    db.execute(f"PRAGMA user_version = {version + 1}")
                db.execute(f"PRAGMA application_id = {APPLICATION}")
            db.execute("VACUUM")  # what a script took out is not to be found in free pages
        if _shape(db) != _shape_of(tuple(scripts)):
            expected, remedy = "the tables of a record", "put the last good copy of record.db in its place"
            raise ProblemsFound([Problem("record-altered", Place(str(path)), expected, "others", remedy)])
        return before


def statements(script: str) -> Iterator[str]:
    """The statements of a script one by one (running a whole script would end the transaction)."""
    waiting = ""
    for line in script.splitlines(keepends=True):
        waiting += line
        if sqlite3.complete_statement(waiting):
            yield waiting.strip()
            waiting = ""
    assert not waiting.strip(), f"an unfinished statement: {waiting}"


def _refuse_foreign(db: sqlite3.Connection, path: Path, version: int, latest: int) -> None:
    application = db.execute("PRAGMA application_id").fetchone()[0]
    is_empty = version == 0 and not _shape(db)
    if not is_empty and application != APPLICATION:
        remedy = "put the record of this class in its place"
        raise ProblemsFound([Problem("not-a-record", Place(str(path)), "a class record", "another database", remedy)])
    if version > latest:
        expected, found = f"a record of version {latest} or earlier", f"version {version}"
        remedy = "it was written by a later witnessmark: use that one, or a later one"
        raise ProblemsFound([Problem("record-newer", Place(str(path)), expected, found, remedy)])


def _version(db: sqlite3.Connection) -> int:
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def _shape(db: sqlite3.Connection) -> frozenset[tuple[str, str, str]]:
    """Columns of every table, and the text of all else (triggers, indexes), which must not be missing or altered.

    The text of a table is left out: SQLite itself rewrites it when a column is added.
    """
    found = db.execute(
        "SELECT type, name, CASE type WHEN 'table' THEN '' ELSE coalesce(sql, '') END FROM sqlite_schema "
        "WHERE name NOT LIKE 'sqlite_%' UNION ALL "
        "SELECT 'column', m.name || '.' || c.name, c.type || ' ' || c.\"notnull\" || ' ' || c.pk "
        "FROM sqlite_schema AS m, pragma_table_info(m.name) AS c WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%'"
    )
    return frozenset(found.fetchall())


@cache
def _shape_of(scripts: tuple[str, ...]) -> frozenset[tuple[str, str, str]]:
    db = sqlite3.connect(":memory:")
    try:
        for script in scripts:
            db.executescript(script)
        return _shape(db)
    finally:
        db.close()
