"""Promise 6 held by the file itself: whatever program writes it, no mark changes without a row that says why."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, accepted, from_bundle, outcome, sheets, slip
from witnessmark.record.migrations import bring_up_to_date
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound

FIRST, SECOND, _ = (sheet.code for sheet in sheets())


@pytest.fixture
def db(path: Path) -> Iterator[sqlite3.Connection]:
    """A bare connection to a record with a moderated mark, as any other program would have it."""
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        record.set_outcomes("shear-1", {FIRST: {"1.a": slip()}, SECOND: {"1.a": outcome()}}, NOW, "marked")
        record.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "the sketch is right", LATER, "Well drawn")
        record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)
    with closing(sqlite3.connect(path, isolation_level=None)) as made:
        yield made


SILENT_CHANGES = [
    "UPDATE outcomes SET marks = '3'",
    "UPDATE outcomes SET verdict = 'right' WHERE verdict = 'slip'",
    "UPDATE outcomes SET out_of = '4'",
    "INSERT INTO outcomes VALUES (3, '1.a', '3', '3', 'right', 0, '{}')",
    "INSERT OR REPLACE INTO outcomes VALUES (1, '1.a', '3', '3', 'right', 0, '{}')",
    "DELETE FROM outcomes WHERE sheet = 2",
    "UPDATE outcomes SET sheet = 3 WHERE sheet = 2",
    "UPDATE moderations SET marks = '3'",
    "UPDATE moderations SET why = 'another'",
    "UPDATE moderations SET ask = '1.b'",
    "DELETE FROM moderations",
    "INSERT INTO moderations (sheet, ask, marks, machine, who, why, at) VALUES (2, '1.a', '0', '3', 'x', 'y', 'z')",
    "INSERT INTO teacher_words VALUES (2, '1.a', 'Well done', '')",
    "UPDATE teacher_words SET say = 'another'",
    "DELETE FROM teacher_words",
    "UPDATE journal SET why = 'another'",
    "DELETE FROM journal",
    "INSERT OR REPLACE INTO journal SELECT id, at, event, task, sheet, ask, before, '3', who, why, '', '' FROM journal",
    "INSERT INTO saying VALUES (1, 'now', 'somebody', '')",
    "INSERT INTO accepted VALUES (9, 'shear-1', 'rivet', 'a', '', 'x', '{}', 'tau', '0', 'somebody', 'y', 'z')",
    "INSERT OR REPLACE INTO accepted SELECT * FROM accepted",
    "UPDATE accepted SET keeps = '2'",
    "UPDATE accepted SET why = 'another'",
    "DELETE FROM accepted",
    "DELETE FROM chain",
    "UPDATE chain SET content = ''",
    "UPDATE chain SET link = ''",
    "UPDATE chain SET salt = ''",
    "INSERT OR REPLACE INTO chain SELECT row, salt, content, '', 0 FROM chain",
]


@pytest.mark.parametrize("sql", SILENT_CHANGES)
def test_another_program_cannot_change_a_mark_or_the_journal_silently(db: sqlite3.Connection, sql: str) -> None:
    def contents() -> list[str]:
        return [line for line in db.iterdump() if not line.startswith("CREATE")]

    before = contents()
    with pytest.raises(sqlite3.IntegrityError):
        db.execute(sql)
    assert contents() == before


def test_another_program_that_gives_a_reason_writes_the_journal_row(db: sqlite3.Connection) -> None:
    db.execute("INSERT INTO saying VALUES (1, '2027-02-09T10:00:00+00:00', 'by hand', 'a slip of the pen')")
    db.execute("UPDATE outcomes SET marks = '0.5' WHERE sheet = 2")
    row = db.execute("SELECT event, sheet, ask, before, after, who, why FROM journal ORDER BY id DESC").fetchone()
    assert row == ("marked", SECOND, "1.a", "3", "0.5", "by hand", "a slip of the pen")


@pytest.mark.parametrize("marks", ["-1", "1e1", "NaN", "", " 1"])
def test_marks_are_plain_decimals_in_the_file_too(db: sqlite3.Connection, marks: str) -> None:
    db.execute("INSERT INTO saying VALUES (1, 'now', 'by hand', 'a reason')")
    with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        db.execute("UPDATE outcomes SET marks = ?", (marks,))


def test_a_sheet_cannot_be_deleted_from_under_its_marks(db: sqlite3.Connection) -> None:
    db.execute("PRAGMA foreign_keys = ON")
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        db.execute("DELETE FROM sheets WHERE id = 2")


ALTERATIONS = [
    "DROP TRIGGER journal_keeps",
    "DROP TRIGGER outcome_changes",
    "DROP INDEX journal_of_sheet",
    "CREATE TABLE further (x)",
    "CREATE VIEW further AS SELECT * FROM sheets",
    "ALTER TABLE outcomes ADD COLUMN further ANY",
    "CREATE TRIGGER further AFTER INSERT ON sheets BEGIN DELETE FROM saying; END",
]


@pytest.mark.parametrize("sql", ALTERATIONS)
def test_a_record_whose_safeguards_were_altered_is_not_opened(db: sqlite3.Connection, path: Path, sql: str) -> None:
    bring_up_to_date(db, path)
    db.execute(sql)
    with pytest.raises(ProblemsFound) as caught, Record(path, from_bundle):
        pass
    assert str(caught.value) == (
        f"{path}: [record-altered] expected the tables of a record, found others;"
        " put the last good copy of record.db in its place"
    )
