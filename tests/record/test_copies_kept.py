"""Copies of the record at the edges: what copying waits for, what it leaves behind, what several copies tell."""

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, sheets
from record.test_chain import changed_behind
from record.test_copies import lines, take_in
from witnessmark.record import chain, copies
from witnessmark.record.connection import rollback_file
from witnessmark.record.copies import (
    DAMAGED,
    FOLDER,
    PART,
    Copy,
    copies_of,
    faults,
    holding,
    keep_copy,
    others_beside,
    purge,
    restore,
)
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound

ONE = sheets()[0].code
HOUR = timedelta(hours=1)


@pytest.fixture
def filled(path: Path) -> Path:
    """A closed record with sheets."""
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
    return path


def kept(record: Path, hours: int, command: str = "mark") -> Copy:
    """A copy that is made so many hours after `NOW`."""
    made = keep_copy(record, command, NOW + hours * HOUR)
    assert made is not None
    return made


def written_anew(record: Path) -> None:
    """Do as somebody does who writes the journal anew."""
    changed_behind(record, "UPDATE journal SET who = 'nobody' WHERE id = 2", "DELETE FROM chain")
    with closing(sqlite3.connect(record, isolation_level=None)) as db:
        chain.seal(db, 0)


def told(record: Path) -> list[tuple[str, str]]:
    """Code and file name of each fault that the copies tell."""
    with Record(record, from_bundle) as opened:
        return [(problem.code, Path(problem.place.file).name) for problem in faults(opened)]


@pytest.fixture
def waited(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """For each copying how long SQLite waits for the disk with what it writes (0: not at all)."""
    found: list[int] = []

    class Copying(sqlite3.Connection):
        """A connection that tells."""

        def backup(self, target: sqlite3.Connection, **_: object) -> None:
            """Into another file."""
            found.append(target.execute("PRAGMA synchronous").fetchone()[0])
            super().backup(target)

    with monkeypatch.context() as patch:
        connect = sqlite3.connect
        patch.setattr(sqlite3, "connect", lambda *args, **more: connect(*args, **{"factory": Copying, **more}))
        yield found


def test_a_copy_before_a_step_waits_for_no_disk_and_one_that_becomes_the_record_does(
    filled: Path, waited: list[int]
) -> None:
    made = kept(filled, 0)
    assert waited == [0]
    restore(filled, made, from_bundle, LATER)
    assert waited[1] > 0


def test_a_change_that_leaves_length_and_time_of_a_file_as_they_were_is_copied(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file system that counts time in steps of two seconds, and a change within one page."""
    back_up = copies._back_up

    def coarse(record: Path, into: Path, waits_for_disk: bool = True) -> None:
        back_up(record, into, waits_for_disk)
        os.utime(into, (0, 0))

    monkeypatch.setattr(copies, "_back_up", coarse)
    first = kept(filled, 0)
    with closing(sqlite3.connect(filled, isolation_level=None)) as db:
        db.execute("UPDATE sheets SET issued = '2027-02-02' WHERE id = 1")
    second = kept(filled, 1)
    assert first.path.stat().st_size == second.path.stat().st_size
    assert copies_of(filled) == (first, second)


def test_a_copying_that_fails_leaves_nothing_behind(filled: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(_: Path, into: Path, **__: bool) -> None:
        into.write_bytes(b"half of it")
        rollback_file(into).write_bytes(b"")
        raise OSError("the disk is gone")

    monkeypatch.setattr(copies, "_back_up", fails)
    with pytest.raises(ProblemsFound, match="the disk is gone"):
        keep_copy(filled, "mark", NOW)
    assert list((filled.parent / FOLDER).iterdir()) == []


def test_what_would_undo_a_change_of_the_record_goes_with_the_record_that_is_replaced(filled: Path) -> None:
    made = kept(filled, 0)
    before = lines(filled)
    take_in(filled, "1 kN")
    rollback_file(filled).write_bytes(b"of the file that goes")
    restore(filled, made, from_bundle, LATER)
    assert not rollback_file(filled).exists()
    assert lines(filled)[:-1] == before


def test_copies_between_two_restorings_may_tell_another_story_and_so_may_one_of_the_same_second(filled: Path) -> None:
    first = kept(filled, 0)
    take_in(filled, "1 kN")
    kept(filled, 1, "restore")
    restore(filled, first, from_bundle, NOW + HOUR)
    take_in(filled, "2 kN")
    kept(filled, 2)
    take_in(filled, "3 kN")
    kept(filled, 3, "restore")
    restore(filled, first, from_bundle, NOW + 3 * HOUR)
    assert told(filled) == []


def test_only_the_last_restoring_of_a_record_that_goes_on_from_it_counts(filled: Path) -> None:
    """The second copy is put back twice: what was kept between the two is given up, what came after the last is not."""
    first = kept(filled, 0)
    restore(filled, first, from_bundle, NOW + HOUR)
    second = kept(filled, 2)
    take_in(filled, "1 kN")
    kept(filled, 3)
    restore(filled, second, from_bundle, NOW + 4 * HOUR)
    assert told(filled) == []
    last = kept(filled, 5)
    written_anew(filled)
    assert told(filled) == [("journal-rewritten", last.path.name)]


def test_a_copy_that_cannot_be_looked_at_hides_nothing_in_the_next(filled: Path) -> None:
    made = []
    for hour in range(3):
        take_in(filled, f"{hour} kN")
        made.append(kept(filled, hour))
    written_anew(filled)
    assert [code for code, _ in told(filled)] == ["journal-rewritten"] * 3
    rollback_file(made[0].path).write_bytes(b"")
    made[1].path.write_bytes(b"no record" * 500)
    assert told(filled) == [
        ("record-interrupted", rollback_file(made[0].path).name),
        ("record-damaged", made[1].path.name),
        ("journal-rewritten", made[2].path.name),
    ]


def test_a_copy_from_before_there_was_a_chain_tells_of_no_other_story(filled: Path) -> None:
    made = kept(filled, 0)
    made.path.unlink()
    with closing(sqlite3.connect(made.path)) as db:
        db.execute("CREATE TABLE journal (id)")
    assert told(filled) == []


def test_one_sheet_of_several_is_enough_for_a_copy_to_hold_a_student(filled: Path) -> None:
    made = kept(filled, 0)
    assert holding(filled, ["shear-9-A1-1", ONE], from_bundle) == (made,)
    assert holding(filled, ["shear-9-A1-1"], from_bundle) == ()


def test_a_removal_clears_what_was_set_aside_and_what_was_left_of_a_copying(filled: Path) -> None:
    kept(filled, 0)
    folder = filled.parent / FOLDER
    for name in (DAMAGED, f".0123456789abcdef{PART}", f".0123456789abcdef{PART}-journal"):
        (folder / name).write_bytes(b"Kim Dekker")
    purge(filled, "A1", from_bundle, LATER)
    assert [path.name for path in folder.iterdir()] == ["20270201T093000Z-before-mark.db"]


def test_a_removal_touches_only_the_copies_that_hold_the_student(filled: Path, tmp_path: Path) -> None:
    before = tmp_path / "other" / "record.db"
    before.parent.mkdir()
    with Record(before, from_bundle) as record:
        record.add_sheets(sheets()[1:], NOW)
    kept(before, 0)
    with Record(before, from_bundle) as record:
        record.add_sheets(sheets()[:1], NOW)
    second = kept(before, 1)
    assert purge(before, "A1", from_bundle, LATER) == (second,)
    assert purge(before, "A1", from_bundle, LATER) == ()


def test_a_damaged_copy_that_somebody_takes_away_meanwhile_keeps_no_removal_from_its_end(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = kept(filled, 0)
    made.path.write_bytes(b"no record" * 500)

    class Gone(Record):
        """A record that is gone once it was found damaged."""

        def __enter__(self) -> "Gone":
            try:
                return super().__enter__()
            finally:
                self.path.unlink()

    monkeypatch.setattr(copies, "Record", Gone)
    assert purge(filled, "A1", from_bundle, LATER) == (made,)


def test_what_others_put_among_the_copies_is_told_apart_from_what_this_program_did(filled: Path) -> None:
    assert others_beside(filled) == ()
    kept(filled, 0)
    folder = filled.parent / FOLDER
    (folder / DAMAGED).write_bytes(b"x")
    for name in ("z.txt", "20270201T093000Z-before-mark (2).db"):
        (folder / name).write_bytes(b"x")
    assert [path.name for path in others_beside(filled)] == ["20270201T093000Z-before-mark (2).db", "z.txt"]


@pytest.mark.parametrize(
    ("name", "number", "command"),
    [("20270201T093000Z-before-mark.db", 1, "mark"), ("20270201T093000Z-12-before-take-in.db", 12, "take-in")],
)
def test_a_copy_is_known_by_its_name(path: Path, name: str, number: int, command: str) -> None:
    (path.parent / FOLDER).mkdir()
    file = path.parent / FOLDER / name
    file.touch()
    (copy,) = copies_of(path)
    assert (copy.at, copy.number, copy.path, copy.command, copy.name) == (NOW, number, file, command, file.stem)


def test_a_copy_of_a_fraction_of_a_second_is_of_the_whole_one(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW + timedelta(microseconds=999_999))
    assert made is not None
    assert (made.at, copies_of(filled)) == (NOW, (made,))


def test_the_last_of_a_week_is_kept_whatever_its_day(filled: Path) -> None:
    """Twelve copies: a Monday and a Thursday of one week, then ten later ones."""
    for day in (0, 3, *range(30, 40)):
        take_in(filled, f"{day} kN")
        keep_copy(filled, "mark", NOW + timedelta(days=day))
    assert [(copy.at - NOW).days for copy in copies_of(filled)] == [3, *range(30, 40)]


def test_nothing_is_copied_where_there_is_a_folder_in_the_place_of_the_record(tmp_path: Path) -> None:
    (tmp_path / "record.db").mkdir()
    assert keep_copy(tmp_path / "record.db", "mark", NOW) is None
    assert list(tmp_path.iterdir()) == [tmp_path / "record.db"]


def test_a_returned_file_is_in_the_copy_made_after_it(filled: Path) -> None:
    with Record(filled, from_bundle) as record:
        sha = record.keep_file(b"a book")
        record.add_returns([handed_in(sheets()[0])], NOW, {"A1.xlsx": sha})
    with Record(kept(filled, 0).path, from_bundle) as record:
        assert record.kept_file(sha) == b"a book"


def test_copies_are_looked_at_with_an_sqlite_too_that_takes_a_name_for_an_address_only_when_told(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Debian's takes it unasked; others look for a file of that name."""
    connect: Callable[..., sqlite3.Connection] = sqlite3.connect

    def strict(name: str | Path, **more: Any) -> sqlite3.Connection:
        if str(name).startswith("file:") and not more.get("uri"):
            raise sqlite3.OperationalError(f"unable to open {name}")
        return connect(name, **more)

    kept(filled, 0)
    monkeypatch.setattr(sqlite3, "connect", strict)
    assert told(filled) == []
