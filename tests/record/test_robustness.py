"""Interruptions, other programs, damaged files: the record is as before or as after, and says what is wrong."""

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, outcome, sheets, task
from witnessmark.record.connection import APPLICATION, is_known_whole
from witnessmark.record.migrations import LATEST
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound

WHOLE = sheets()
ROOT = Path(__file__).parents[2]
# A process that stores a large batch and is killed in the middle of it: `sys.argv` gives file and number of rows.
KILLED = """
import os, signal, sys
from pathlib import Path
from record.examples import LATER, Entry, Return, from_bundle, sheets
from witnessmark.record import returns
from witnessmark.record.record import Record

stop = int(sys.argv[2])
insert, done = returns._insert, []

def counted(*args):
    number = insert(*args)
    done.append(1)
    if len(done) == stop:
        os.kill(os.getpid(), signal.SIGKILL)
    return number

returns._insert = counted
code = sheets()[0].code
entries = tuple((f"{n}.a", Entry("x" * 2_000)) for n in range(200))
many = [Return(code, f"{n}.xlsx", entries) for n in range(40)]
with Record(Path(sys.argv[1]), from_bundle) as record:
    record.add_returns(many, LATER)
"""


def opened_with_problem(path: Path, wait: float = 0.0) -> str:
    """The problem that opening and reading a record tells."""

    def read() -> None:
        with Record(path, from_bundle, wait) as record:
            record.journal()
            record.sheets("shear-1")

    with pytest.raises(ProblemsFound) as caught:
        read()
    return str(caught.value)


@pytest.fixture
def filled(path: Path) -> Path:
    """A closed record with sheets."""
    with Record(path, from_bundle) as record:
        record.add_sheets(WHOLE, NOW)
    return path


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL on this system")
@pytest.mark.parametrize("stop", [1, 20, 40])
def test_a_process_killed_in_the_middle_of_adding_leaves_the_record_as_before(filled: Path, stop: int) -> None:
    with Record(filled, from_bundle) as record:
        before = list(record.export_jsonl(names=True))
    env = {**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"}
    done = subprocess.run([sys.executable, "-c", KILLED, filled, str(stop)], env=env, capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()
    with Record(filled, from_bundle) as record:
        assert list(record.export_jsonl(names=True)) == before
    with Record(filled, from_bundle) as record:
        assert record.warnings == ()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL on this system")
def test_an_unfinished_change_is_undone_with_a_warning(filled: Path) -> None:
    # The journal of SQLite is written once the pages in memory are spilled: a batch of 16 MB does that.
    env = {**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"}
    subprocess.run([sys.executable, "-c", KILLED, filled, "40"], env=env, capture_output=True, check=False)
    beside = filled.with_name("record.db-journal")
    assert beside.exists()
    with Record(filled, from_bundle) as record:
        (warning,) = record.warnings
    assert str(warning) == (
        f"{beside}: [record-interrupted] expected a closed record, found an unfinished change;"
        " nothing to do, it was undone; where folders are synchronised, let that finish first"
    )
    assert not beside.exists()


def test_a_change_that_another_program_is_making_is_no_warning(filled: Path) -> None:
    with Record(filled, from_bundle) as other, other.together():
        other.add_returns([handed_in(WHOLE[0])], NOW)
        assert filled.with_name("record.db-journal").exists()
        with Record(filled, from_bundle) as record:
            assert record.warnings == ()
            assert record.returns("shear-1") == ()
    with Record(filled, from_bundle) as record:
        assert len(record.returns("shear-1")) == 1


def test_a_second_copy_beside_the_record_is_a_warning(filled: Path) -> None:
    copy = filled.with_name("record (conflicted copy).db")
    copy.write_bytes(filled.read_bytes())
    with Record(filled, from_bundle) as record:
        (warning,) = record.warnings
    assert str(warning) == (
        f"{copy}: [record-copy] expected one record in a class, found a second one; see which of the two has your"
        f" last marks, and move the other out of {filled.parent}"
    )


def test_a_record_that_another_program_writes_is_told(filled: Path) -> None:
    with closing(sqlite3.connect(filled, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert opened_with_problem(filled) == (
            f"{filled}: [record-busy] expected a record that no other program is writing, found it is in use;"
            " wait, or close the other program, and try again"
        )


def test_a_change_waits_for_another_and_is_told_when_it_waits_too_long(filled: Path) -> None:
    with closing(sqlite3.connect(filled, isolation_level=None)) as other, Record(filled, from_bundle, 0.05) as record:
        other.execute("BEGIN IMMEDIATE")
        assert record.sheets("shear-1") == WHOLE
        with pytest.raises(ProblemsFound, match="record-busy"):
            record.add_returns([handed_in(WHOLE[0])], NOW)
        other.execute("ROLLBACK")
        assert record.add_returns([handed_in(WHOLE[0])], NOW) == 1


def test_two_open_records_see_each_others_changes(filled: Path) -> None:
    with Record(filled, from_bundle) as one, Record(filled, from_bundle) as other:
        one.add_returns([handed_in(WHOLE[0])], NOW)
        other.set_outcomes("shear-1", {WHOLE[0].code: {"1.a": outcome()}}, NOW, "marked")
        assert one.outcomes("shear-1") == other.outcomes("shear-1") != {}


@pytest.mark.parametrize(
    "content", [b"code,name,group\nA1,Kim\n" * 60, b"\x00" * 4096, b"SQLite format 3\x00" + b"x" * 4000]
)
def test_a_file_of_another_kind_is_told_and_left_alone(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    assert opened_with_problem(path) == (
        f"{path}: [record-damaged] expected a record, found a file of another kind;"
        " put the last good copy of record.db in its place"
    )
    assert path.read_bytes() == content


def test_a_damaged_record_is_told(filled: Path) -> None:
    data = bytearray(filled.read_bytes())
    page = 4096
    for start in range(page, len(data), page):
        data[start : start + 64] = b"\xff" * 64
    filled.write_bytes(data)
    assert opened_with_problem(filled) == (
        f"{filled}: [record-damaged] expected a whole record, found damaged data;"
        " put the last good copy of record.db in its place"
    )


def test_damage_to_any_page_is_told_before_anything_is_read_or_written(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        record.add_returns([handed_in(sheet, "x" * 3_000) for sheet in WHOLE], NOW)
    whole = filled.read_bytes()
    for start in range(4096, len(whole), 4096):
        filled.write_bytes(whole[:start] + b"\xff" * 64 + whole[start + 64 :])
        with pytest.raises(ProblemsFound, match="record-damaged"), Record(filled, from_bundle):
            pass


def test_what_this_program_wrote_into_a_whole_record_is_whole_until_somebody_else_writes(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        record.add_returns([handed_in(sheet, "94.2 kN") for sheet in WHOLE], NOW)
    assert is_known_whole(filled)
    with closing(sqlite3.connect(filled)) as other, other:
        other.execute("PRAGMA user_version = 0")
        other.execute(f"PRAGMA user_version = {LATEST}")
    assert not is_known_whole(filled)


def test_what_is_written_after_others_wrote_is_looked_through_again(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        os.utime(filled, (0, 0))  # as another program leaves it
        record.add_returns([handed_in(sheet, "94.2 kN") for sheet in WHOLE], NOW)
    assert not is_known_whole(filled)


def test_a_record_cut_short_is_told(filled: Path) -> None:
    data = filled.read_bytes()
    filled.write_bytes(data[: len(data) // 2])
    assert "[record-damaged]" in opened_with_problem(filled)


def test_another_database_is_told_and_left_alone(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE boats (name)")
    before = path.read_bytes()
    assert opened_with_problem(path) == (
        f"{path}: [not-a-record] expected a class record, found another database;"
        " put the record of this class in its place"
    )
    assert path.read_bytes() == before


def test_a_record_of_a_later_program_is_told_and_left_alone(filled: Path) -> None:
    with closing(sqlite3.connect(filled)) as other:
        other.execute("PRAGMA user_version = 1000")
    before = filled.read_bytes()
    assert opened_with_problem(filled) == (
        f"{filled}: [record-newer] expected a record of version {LATEST} or earlier, found version 1000;"
        " it was written by a later witnessmark: use that one, or a later one"
    )
    assert filled.read_bytes() == before


def test_a_record_in_a_missing_folder_is_told(tmp_path: Path) -> None:
    path = tmp_path / "nowhere" / "record.db"
    assert opened_with_problem(path) == (
        f"{path}: [record-not-writable] expected a place where the record can be opened, found none;"
        " look whether the folder is there and may be written"
    )


def test_an_empty_file_becomes_a_record(path: Path) -> None:
    path.touch()
    with Record(path, from_bundle) as record:
        record.add_task(task(), NOW)
        assert record.tasks() == ("shear-1",)


def test_a_closed_record_is_one_file(filled: Path) -> None:
    assert [p.name for p in filled.parent.iterdir()] == ["record.db"]
    with closing(sqlite3.connect(filled)) as db:
        assert db.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert db.execute("PRAGMA application_id").fetchone() == (APPLICATION,)
        assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert db.execute("PRAGMA foreign_key_check").fetchall() == []


def test_a_record_left_in_another_journal_mode_becomes_one_file_again(filled: Path) -> None:
    with closing(sqlite3.connect(filled)) as db:
        db.execute("PRAGMA journal_mode = WAL")
    with Record(filled, from_bundle) as record:
        record.add_returns([handed_in(WHOLE[0])], NOW)
        assert not filled.with_name("record.db-wal").exists()
    assert [p.name for p in filled.parent.iterdir()] == ["record.db"]
    with closing(sqlite3.connect(filled)) as db:
        assert db.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_a_failed_change_leaves_the_record_usable(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        with pytest.raises(ProblemsFound):
            record.add_returns([handed_in(sheets(task("shear-9"))[0])], NOW)
        assert record.add_returns([handed_in(WHOLE[0])], LATER) == 1
