"""How a record file is opened and let go, how a change in it begins and ends, and what lies beside it."""

import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, sheets, task
from witnessmark.record import connection, record_file
from witnessmark.record.connection import connect, refuse_damaged, rollback_file, tidy, told, transaction
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound

WHOLE = sheets()


@pytest.fixture
def filled(path: Path) -> Path:
    """A closed record with sheets."""
    with Record(path, from_bundle) as record:
        record.add_sheets(WHOLE, NOW)
    return path


@pytest.fixture
def db(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to a file with two tables, the second of which belongs to the first."""
    with closing(connect(tmp_path / "yard.db")) as made:
        made.execute("CREATE TABLE boats (name TEXT PRIMARY KEY)")
        made.execute("CREATE TABLE planks (boat TEXT REFERENCES boats (name))")
        yield made


def rows(path: Path) -> int:
    """How many boats another program sees."""
    with closing(sqlite3.connect(path)) as other:
        found: int = other.execute("SELECT count(*) FROM boats").fetchone()[0]
        return found


def test_a_file_says_whose_it_is(filled: Path) -> None:
    # Bytes 68 to 71 are the application id: https://www.sqlite.org/fileformat2.html
    assert filled.read_bytes()[68:72] == b"WMRK"


def test_a_row_that_belongs_to_nothing_is_refused(db: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        db.execute("INSERT INTO planks VALUES ('none')")


def test_nothing_in_a_file_from_elsewhere_is_trusted_and_a_commit_waits_for_the_disk(db: sqlite3.Connection) -> None:
    # 3 is EXTRA: https://www.sqlite.org/pragma.html#pragma_synchronous
    told_by = {name: db.execute(f"PRAGMA {name}").fetchone()[0] for name in ("trusted_schema", "synchronous")}
    assert told_by == {"trusted_schema": 0, "synchronous": 3}


class Careless(sqlite3.Connection):
    """A connection of an SQLite that was built so as not to overwrite what is deleted."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.execute("PRAGMA secure_delete = OFF")


def test_what_is_deleted_is_overwritten_however_sqlite_was_built(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite3, "connect", partial(sqlite3.connect, factory=Careless))
    with closing(connect(tmp_path / "yard.db")) as db:
        db.execute("CREATE TABLE boats (name TEXT)")
        for name in ("Gudrun of Norrvik", "Aase"):
            db.execute("INSERT INTO boats VALUES (?)", (name,))
        db.execute("DELETE FROM boats WHERE name = 'Gudrun of Norrvik'")
    data = (tmp_path / "yard.db").read_bytes()
    assert (b"Aase" in data, b"Gudrun" in data) == (True, False)


def test_a_transaction_is_kept_whole_or_not_at_all_and_leaves_nothing_open(
    db: sqlite3.Connection, tmp_path: Path
) -> None:
    with transaction(db):
        db.execute("INSERT INTO boats VALUES ('Aase')")
        assert rows(tmp_path / "yard.db") == 0
    assert rows(tmp_path / "yard.db") == 1

    def failing() -> None:
        with transaction(db):
            db.execute("INSERT INTO boats VALUES ('Gudrun')")
            raise KeyError

    with pytest.raises(KeyError):
        failing()
    assert not db.in_transaction
    assert db.execute("SELECT name FROM boats").fetchall() == [("Aase",)]


def test_a_transaction_within_another_ends_with_that_one(db: sqlite3.Connection, tmp_path: Path) -> None:
    with transaction(db):
        with transaction(db):
            db.execute("INSERT INTO boats VALUES ('Aase')")
        assert rows(tmp_path / "yard.db") == 0
    assert rows(tmp_path / "yard.db") == 1


def test_a_change_keeps_others_from_writing_from_its_beginning_and_reading_does_not(
    db: sqlite3.Connection, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(tmp_path / "yard.db", timeout=0, isolation_level=None)) as other:
        with transaction(db, "DEFERRED"):
            other.execute("BEGIN IMMEDIATE")
            other.execute("ROLLBACK")
        with transaction(db), pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")


def test_what_was_changed_after_a_change_that_failed_is_kept(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        with pytest.raises(ProblemsFound, match="unknown-sheet"):
            record.add_returns([handed_in(sheets(task("shear-9"))[0])], NOW)
        record.add_returns([handed_in(WHOLE[0])], LATER)
    with Record(filled, from_bundle) as record:
        assert len(record.returns("shear-1")) == 1


CODES = {
    sqlite3.SQLITE_BUSY: "record-busy", sqlite3.SQLITE_LOCKED: "record-busy", sqlite3.SQLITE_CORRUPT: "record-damaged",
    sqlite3.SQLITE_NOTADB: "record-damaged", sqlite3.SQLITE_READONLY: "record-not-writable",
    sqlite3.SQLITE_CANTOPEN: "record-not-writable", sqlite3.SQLITE_FULL: "disk-full",
    sqlite3.SQLITE_IOERR: "record-disk-error",
    sqlite3.SQLITE_BUSY_SNAPSHOT: "record-busy", sqlite3.SQLITE_IOERR_FSYNC: "record-disk-error",
}  # fmt: skip


@pytest.mark.parametrize(("number", "code"), CODES.items(), ids=[f"{n}" for n in CODES])
def test_an_error_of_sqlite_is_told_by_its_kind_also_where_sqlite_says_more(number: int, code: str) -> None:
    error = sqlite3.OperationalError("as SQLite says it")
    error.sqlite_errorcode = number
    with pytest.raises(ProblemsFound) as caught, told(Path("record.db")):
        raise error
    assert [(p.code, p.place.file) for p in caught.value.problems] == [(code, "record.db")]


@pytest.mark.parametrize("error", [sqlite3.OperationalError("no such table: planks"), sqlite3.IntegrityError("CHECK")])
def test_an_error_of_this_program_stays_what_it_is(error: sqlite3.Error) -> None:
    with pytest.raises(type(error), match=str(error)), told(Path("record.db")):
        raise error


def test_pages_that_do_not_hold_together_are_told_by_sqlites_own_check(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connection, "_WHOLE", {})

    class Torn:
        """A connection whose check finds something."""

        def execute(self, _: str) -> "Torn":
            """The check."""
            return self

        def fetchone(self) -> tuple[str]:
            """What it says."""
            return ("*** in database main ***",)

    torn: sqlite3.Connection = Torn()  # type: ignore[assignment]
    with pytest.raises(ProblemsFound) as caught:
        refuse_damaged(torn, filled)
    assert str(caught.value) == (
        f"{filled}: [record-damaged] expected a whole record, found damaged data;"
        " put the last good copy of record.db in its place"
    )
    with Record(filled, from_bundle):
        refuse_damaged(torn, filled)  # seen to be whole, and nobody wrote since


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[sqlite3.Connection]:
    """The connections that are opened for records."""
    made: list[sqlite3.Connection] = []

    def kept(path: Path, wait: float) -> sqlite3.Connection:
        made.append(connect(path, wait))
        return made[-1]

    monkeypatch.setattr(record_file, "connect", kept)
    return made


def is_open(db: sqlite3.Connection) -> bool:
    """Whether a connection still holds its file."""
    try:
        db.execute("SELECT 1")
    except sqlite3.ProgrammingError:
        return False
    return True


def test_each_change_is_sealed_when_the_outermost_of_several_ends(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        heads = [record.head()]
        with record.together():
            for sheet in WHOLE:
                record.add_returns([handed_in(sheet)], NOW)
            heads.append(record.head())
        heads.append(record.head())
        assert heads[0] == heads[1] != heads[2]
        assert record.verify() == ()


def test_the_file_is_let_go_when_the_block_ends(filled: Path, opened: list[sqlite3.Connection]) -> None:
    with Record(filled, from_bundle) as record:
        assert is_open(opened[0])
    assert not is_open(opened[0])
    with pytest.raises(RuntimeError, match="with block"):
        record.tasks()


def test_a_file_that_is_no_record_is_let_go_at_once(path: Path, opened: list[sqlite3.Connection]) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE boats (name)")
    with pytest.raises(ProblemsFound, match="not-a-record"), Record(path, from_bundle):
        pass
    assert [is_open(db) for db in opened] == [False]


def test_a_file_that_sqlite_cannot_read_is_let_go_at_once(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.write_bytes(b"code,name,group\nA1,Kim\n" * 60)
    made: list[sqlite3.Connection] = []
    bare: Callable[..., sqlite3.Connection] = sqlite3.connect

    def kept(*args: object, **more: object) -> sqlite3.Connection:
        made.append(bare(*args, **more))
        return made[-1]

    monkeypatch.setattr(sqlite3, "connect", kept)
    with pytest.raises(ProblemsFound, match="record-damaged"):
        connect(path)
    assert [is_open(db) for db in made] == [False]


def test_what_is_left_of_a_change_that_needs_no_undoing_is_told_and_cleared_away(filled: Path) -> None:
    before = filled.read_bytes()
    rollback_file(filled).write_bytes(b"")
    with Record(filled, from_bundle) as record:
        assert [warning.code for warning in record.warnings] == ["record-interrupted"]
    assert not rollback_file(filled).exists()
    with Record(filled, from_bundle) as record:
        assert record.warnings == ()
    assert len(filled.read_bytes()) == len(before)


def test_a_second_record_beside_one_that_another_program_writes_is_still_told(filled: Path) -> None:
    with Record(filled, from_bundle) as other, other.together():
        other.add_returns([handed_in(WHOLE[0])], NOW)
        filled.with_name("record (2).db").write_bytes(b"")
        with Record(filled, from_bundle) as record:
            assert [warning.code for warning in record.warnings] == ["record-copy"]


def test_clearing_away_waits_for_nobody_and_a_later_change_waits_as_long_as_before(filled: Path) -> None:
    """Two minutes, of which nothing is waited for: half of them are allowed to a busy machine."""
    with Record(filled, from_bundle) as other, closing(connect(filled, 120)) as db, other.together():
        other.add_returns([handed_in(WHOLE[0])], NOW)
        begun = time.monotonic()
        assert tidy(db, filled, 120) is False
        assert time.monotonic() - begun < 60
        assert db.execute("PRAGMA busy_timeout").fetchone() == (120_000,)


def test_clearing_away_says_that_nobody_else_is_at_work(filled: Path) -> None:
    with closing(connect(filled)) as db:
        assert tidy(db, filled, 5) is True
        rollback_file(filled).write_bytes(b"")
        assert tidy(db, filled, 5) is True
    assert not rollback_file(filled).exists()


def test_opening_a_record_of_today_writes_nothing(filled: Path) -> None:
    before, written = filled.read_bytes(), filled.stat().st_mtime_ns
    with Record(filled, from_bundle):
        pass
    assert (filled.read_bytes(), filled.stat().st_mtime_ns) == (before, written)
