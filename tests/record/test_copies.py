"""Copies of the record: which are kept, what each holds, and going back to one."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import partial
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, outcome, sheets
from record.test_chain import changed_behind
from witnessmark.record import chain
from witnessmark.record.connection import rollback_file
from witnessmark.record.copies import KEPT, PART, copies_of, faults, holding, keep_copy, purge, restore
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

WHOLE = sheets()


@pytest.fixture
def filled(path: Path) -> Path:
    """A closed record with sheets."""
    with Record(path, from_bundle) as record:
        record.add_sheets(WHOLE, NOW)
    return path


def lines(path: Path) -> list[str]:
    """The whole record."""
    with Record(path, from_bundle) as record:
        return list(record.export_jsonl(names=True))


def take_in(path: Path, typed: str) -> None:
    """Something happens."""
    with Record(path, from_bundle) as record:
        record.add_returns([handed_in(WHOLE[0], typed, f"{typed}.xlsx")], NOW)


def test_a_copy_is_a_whole_record_under_the_time_and_the_command(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    assert made.path == filled.parent / "copies" / "20270201T093000Z-before-mark.db"
    assert copies_of(filled) == (made,)
    assert lines(made.path) == lines(filled)


def test_without_a_record_and_without_a_change_there_is_no_copy(filled: Path, tmp_path: Path) -> None:
    assert keep_copy(tmp_path / "none" / "record.db", "issue", NOW) is None
    keep_copy(filled, "mark", NOW)
    assert keep_copy(filled, "mark", LATER) is None
    take_in(filled, "1 kN")
    assert keep_copy(filled, "mark", LATER) is not None


def test_two_copies_of_one_second_have_two_names(filled: Path) -> None:
    for n in range(3):
        take_in(filled, f"{n} kN")
        keep_copy(filled, "mark", NOW)
    assert [copy.name for copy in copies_of(filled)] == [
        "20270201T093000Z-before-mark", "20270201T093000Z-2-before-mark", "20270201T093000Z-3-before-mark",
    ]  # fmt: skip


def test_the_last_ten_stay_and_of_the_weeks_before_the_last_of_each(filled: Path) -> None:
    # 1 February 2027 is a Monday: a copy a day for 35 days is five whole weeks.
    for day in range(35):
        take_in(filled, f"{day} kN")
        keep_copy(filled, "mark", NOW + timedelta(days=day))
    days = [(copy.at - NOW).days for copy in copies_of(filled)]
    assert KEPT == 10
    assert days == [6, 13, 20, 24, *range(25, 35)]


def test_a_copy_is_put_in_the_place_of_the_record_and_the_record_says_so(filled: Path) -> None:
    before = lines(filled)
    made = keep_copy(filled, "mark", NOW)
    take_in(filled, "1 kN")
    assert made is not None
    restore(filled, made, from_bundle, LATER)
    assert lines(filled)[:-1] == before
    with Record(filled, from_bundle) as record:
        last = record.journal()[-1]
        assert (last.event, last.at, last.detail) == (Event.RESTORED, LATER, made.name)
        assert record.verify() == ()
    assert [p.name for p in filled.parent.iterdir() if p.name != "copies"] == ["record.db"]


@pytest.mark.parametrize("content", [b"", b"no record", b"SQLite format 3\x00" + b"x" * 4000])
def test_a_copy_that_is_no_record_is_told_and_nothing_changes(filled: Path, content: bytes) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    before = filled.read_bytes()
    if content:
        made.path.write_bytes(content)
    else:
        made.path.write_bytes(made.path.read_bytes()[:5000])
    with pytest.raises(ProblemsFound):
        restore(filled, made, from_bundle, LATER)
    assert filled.read_bytes() == before
    assert [p.name for p in filled.parent.iterdir() if p.name != "copies"] == ["record.db"]


def test_a_journal_written_anew_is_told_by_the_copies(filled: Path) -> None:
    take_in(filled, "1 kN")
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    changed_behind(filled, "UPDATE journal SET who = 'nobody' WHERE id = 2", "DELETE FROM chain")
    with closing(sqlite3.connect(filled, isolation_level=None)) as db:
        chain.seal(db, 0)
    with Record(filled, from_bundle) as record:
        assert record.verify() == ()  # the falsifier did all of it
        (problem,) = faults(record)
    assert (problem.code, problem.place.file) == ("journal-rewritten", str(made.path))


def test_copies_of_before_a_restoring_may_tell_another_story(filled: Path) -> None:
    first = keep_copy(filled, "mark", NOW)
    take_in(filled, "1 kN")
    keep_copy(filled, "mark", NOW + timedelta(hours=1))
    assert first is not None
    restore(filled, first, from_bundle, LATER)
    with Record(filled, from_bundle) as record:
        assert list(faults(record)) == []


def test_a_removed_student_is_in_no_copy_and_a_damaged_copy_goes(filled: Path) -> None:
    first = keep_copy(filled, "mark", NOW)
    with Record(filled, from_bundle) as record:
        record.add_returns([handed_in(sheet, "the sketch of Kim") for sheet in WHOLE[:1]], NOW)
        record.set_outcomes("shear-1", {WHOLE[0].code: {"1.a": outcome()}}, NOW, "marked")
        record.moderate(WHOLE[0].code, "1.a", Decimal(1), "R. Vos", "seen", NOW)
    second = keep_copy(filled, "mark", LATER)
    assert first is not None
    assert second is not None
    assert b"Kim Dekker" in first.path.read_bytes()
    damaged = first.path.with_name("20270101T000000Z-before-mark.db")
    damaged.write_bytes(b"Kim Dekker")
    with Record(filled, from_bundle) as record:
        record.remove_student("A1", LATER)
        assert [c.path for c in purge(filled, "A1", from_bundle, LATER)] == [damaged, first.path, second.path]
        assert list(faults(record)) == []
        assert record.verify() == ()
    left = b"".join(p.read_bytes() for p in filled.parent.rglob("*") if p.is_file())
    for trace in (b"Kim Dekker", b"the sketch of Kim", WHOLE[0].code.encode()):
        assert trace not in left
    for copy in copies_of(filled):
        with Record(copy.path, from_bundle) as record:
            assert record.verify() == ()


def test_a_copy_that_another_program_is_writing_stays_and_the_removal_is_told_to_wait(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("witnessmark.record.copies.Record", partial(Record, wait=0))
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    with closing(sqlite3.connect(made.path)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(ProblemsFound, match="record-busy"):
            purge(filled, "A1", from_bundle, LATER)
    assert made.path.exists()
    assert [c.path for c in purge(filled, "A1", from_bundle, LATER)] == [made.path]


def test_a_damaged_copy_goes_with_what_was_to_undo_its_last_change(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    made.path.write_bytes(b"no record")
    left = made.path.with_name(f"{made.path.name}-journal")
    left.write_bytes(b"")
    purge(filled, "A1", from_bundle, LATER)
    assert not made.path.exists()
    assert not left.exists()


def test_a_copy_with_an_unfinished_change_is_told_as_that(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    made.path.with_name(f"{made.path.name}-journal").write_bytes(b"")
    with Record(filled, from_bundle) as record:
        (told,) = faults(record)
    assert told.code == "record-interrupted"


def test_what_a_copying_that_was_cut_off_left_behind_goes_with_the_next(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    left = made.path.with_name(f".0123456789abcdef{PART}")
    left.write_bytes(b"Kim Dekker")
    keep_copy(filled, "mark", LATER)
    assert not left.exists()


def test_a_copy_that_somebody_took_away_meanwhile_keeps_nobody_from_making_the_next(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    gone = [replace(made, at=NOW - timedelta(hours=n), path=made.path.with_name("gone.db")) for n in range(20, 0, -1)]
    monkeypatch.setattr("witnessmark.record.copies.copies_of", lambda _: (*gone, made))
    take_in(filled, "1 kN")
    assert keep_copy(filled, "mark", LATER) is not None


def test_a_restoring_that_fails_leaves_no_file_of_its_own(filled: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None

    def fail(record: Record, *_: object) -> None:
        rollback_file(record.path).write_bytes(b"")
        raise OSError

    monkeypatch.setattr(Record, "tell_of_restoring", fail)
    with pytest.raises(OSError):  # noqa: PT011 - any
        restore(filled, made, from_bundle, LATER)
    assert [p.name for p in filled.parent.iterdir() if p.name != "copies"] == ["record.db"]


def test_copies_of_after_a_restoring_tell_of_a_journal_written_anew(filled: Path) -> None:
    first = keep_copy(filled, "mark", NOW)
    assert first is not None
    restore(filled, first, from_bundle, LATER)
    second = keep_copy(filled, "mark", LATER + timedelta(hours=1))
    assert second is not None
    changed_behind(filled, "UPDATE journal SET who = 'nobody' WHERE id = 2", "DELETE FROM chain")
    with closing(sqlite3.connect(filled, isolation_level=None)) as db:
        chain.seal(db, 0)
    with Record(filled, from_bundle) as record:
        assert [problem.place.file for problem in faults(record)] == [str(second.path)]


def test_copies_that_hold_a_students_sheet_are_told_and_so_is_what_cannot_be_opened(filled: Path) -> None:
    made = keep_copy(filled, "mark", NOW)
    assert made is not None
    damaged = made.path.with_name("20270101T000000Z-before-mark.db")
    damaged.write_bytes(b"no record")
    for code, held in ((WHOLE[0].code, [damaged, made.path]), ("shear-1-Z9-1", [damaged])):
        assert [copy.path for copy in holding(filled, [code], from_bundle)] == held


@pytest.mark.parametrize(("error", "found"), [
    (OSError(28, "No space left on device", "record.db"), "No space left on device"),
    (OSError("the disk is gone"), "the disk is gone"),
])  # fmt: skip
def test_a_disk_that_fails_is_told_in_its_own_words(
    filled: Path, monkeypatch: pytest.MonkeyPatch, error: OSError, found: str
) -> None:
    def full(*_: object) -> None:
        raise error

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(ProblemsFound) as told:
        keep_copy(filled, "mark", NOW)
    (problem,) = told.value.problems
    assert (problem.code, problem.found) == ("not-writable", found)
    assert copies_of(filled) == ()
    assert list((filled.parent / "copies").iterdir()) == []
