"""A student's data is removed on request, wholly, and the rest stays as it was."""

import json
from contextlib import closing
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, STUDENTS, from_bundle, handed_in, outcome, sheets, slip, task
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.record import removal
from witnessmark.record.connection import connect, transaction
from witnessmark.record.record import Record
from witnessmark.record.rows import Event, Removed, Source
from witnessmark.review.year.history import Visit

WHOLE = sheets()
FIRST = WHOLE[0].code


def fill(record: Record) -> None:
    """Two tasks of three students, returned, marked, moderated."""
    other = sheets(task("shear-2"))
    record.add_sheets(WHOLE, NOW)
    record.add_sheets(other, NOW)
    record.add_returns([handed_in(s, "94.2 kN of Kim", file=f"{s.student.name}.xlsx") for s in WHOLE], NOW)
    record.add_returns([handed_in(WHOLE[0], "a second thought", file="Kim Dekker again.xlsx")], LATER)
    record.set_outcomes("shear-1", {s.code: {"1.a": slip(), "2.a": outcome()} for s in WHOLE}, NOW, "marked")
    record.set_outcomes("shear-2", {other[0].code: {"1.a": slip()}}, NOW, "marked")
    record.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "Kim Dekker showed me her sketch", LATER)


@pytest.fixture
def filled(record: Record) -> Record:
    """The open record of that class."""
    fill(record)
    return record


def test_removal_tells_what_was_removed(filled: Record) -> None:
    # two sheets; two returns; three marks; rows: issued 2, taken in 2, marked 3, moderated 1
    assert filled.remove_student("A1", LATER, "R. Vos") == Removed(2, 2, 3, 8)


def test_nothing_of_a_removed_student_is_left_in_the_file(path: Path) -> None:
    with Record(path, from_bundle) as record:
        fill(record)
    traces = [b"Kim Dekker", b"a second thought", FIRST.encode(), b"her sketch"]
    assert all(trace in path.read_bytes() for trace in traces)
    with Record(path, from_bundle) as record:
        record.remove_student("A1", LATER)
    assert not any(trace in path.read_bytes() for trace in traces)
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_what_was_arranged_for_a_removed_student_goes_and_so_do_the_rows_that_told_of_it(filled: Record) -> None:
    for student in ("A1", "A2"):
        given = Arrangement(Arranging.EXTENDED, "shear-1", student, "2027-03-12", "R. Vos", "was ill", NOW)
        filled.arrange(given)
    filled.remove_student("A1", LATER)
    assert [given.student for given in filled.arranged().all] == ["A2"]
    assert [row.sheet for row in filled.journal() if row.event is Event.ARRANGED] == ["A2"]
    assert filled.verify() == ()


def test_a_removed_students_files_go_with_the_class_tables_that_may_name_them(record: Record) -> None:
    record.add_sheets(WHOLE, NOW)
    of_whom = {
        "own.xlsx": Source.FOLDER,
        "another.xlsx": Source.FOLDER,
        "all.csv": Source.TABLE,
        "old.csv": Source.UNKNOWN,
    }
    hashes = {file: record.keep_file(f"what {file} holds".encode()) for file in of_whom}
    for (file, source), sheet in zip(of_whom.items(), (*WHOLE, WHOLE[1]), strict=True):
        record.take_in([handed_in(sheet, file=file)], NOW, hashes, source)
    record.remove_student("A1", LATER)
    left = {file for file, sha in hashes.items() if record.kept_file(sha) is not None}
    assert left == {"another.xlsx"}


def test_everything_of_the_others_stays(filled: Record) -> None:
    before = (filled.sheets("shear-1"), filled.outcomes("shear-1"), filled.returns("shear-1"))
    journal = [row for row in filled.journal() if "A1" not in row.sheet]
    filled.remove_student("A1", LATER)
    assert filled.sheets("shear-1") == before[0][1:]
    assert filled.outcomes("shear-1") == {code: o for code, o in before[1].items() if code != FIRST}
    assert filled.returns("shear-1") == before[2][1:]
    assert list(filled.journal()[:-1]) == journal


def test_the_journal_keeps_a_row_that_names_nobody(filled: Record) -> None:
    filled.remove_student("A1", LATER, "R. Vos")
    last = filled.journal()[-1]
    assert (last.event, last.sheet, last.task, last.who, last.why, last.detail) == (
        Event.REMOVED,
        "",
        "",
        "R. Vos",
        "removed on request",
        "2 sheets, 2 returns, 3 marks, 8 journal rows",
    )
    assert not any("A1" in line for line in filled.export_jsonl(names=True))


def test_counts_agree_after_a_removal(filled: Record) -> None:
    filled.remove_student("A1", LATER)
    kinds = [json.loads(line)["kind"] for line in filled.export_jsonl()]
    assert {kind: kinds.count(kind) for kind in ("sheet", "return", "entry", "outcome", "moderation", "variant")} == {
        "sheet": 4, "return": 2, "entry": 2, "outcome": 4, "moderation": 0, "variant": 8,
    }  # fmt: skip


def test_question_texts_go_with_the_last_sheet_that_used_them(filled: Record) -> None:
    for student in STUDENTS:
        filled.remove_student(student.code, LATER)
    kinds = [json.loads(line)["kind"] for line in filled.export_jsonl()]
    assert set(kinds) == {"task", "journal"}


def test_a_removed_student_is_not_named_in_notes_on_others(filled: Record) -> None:
    other = WHOLE[1].code
    notes = ("equal to the right answer of A1's sheet", f"see {FIRST}", "A10 and B-A1 are others")
    told = outcome(notes=notes, in_tray=("like A1",))
    noted = outcome(notes=("like A1",))
    filled.set_outcomes("shear-1", {other: {"1.a": told, "2.a": noted}}, LATER, "marked")
    before = len(filled.journal(sheet_code=other))
    filled.remove_student("A1", LATER)
    left = filled.proposals("shear-1")[other]["1.a"]
    assert left.notes == (
        "equal to the right answer of a removed student's sheet", "see a removed student", "A10 and B-A1 are others",
    )  # fmt: skip
    assert left.in_tray == ("like a removed student",)
    assert filled.proposals("shear-1")[other]["2.a"].notes == ("like a removed student",)
    assert len(filled.journal(sheet_code=other)) == before


def test_removing_a_student_who_is_not_there_changes_nothing(filled: Record) -> None:
    before = filled.journal()
    assert filled.remove_student("Z9", LATER) == Removed(0, 0, 0, 0)
    assert filled.journal() == before


def test_a_removed_student_can_be_issued_a_sheet_again(filled: Record) -> None:
    filled.remove_student("A1", LATER)
    assert filled.add_sheets(WHOLE, LATER) == 1


def test_what_a_removal_deletes_is_wiped_before_the_file_is_made_anew(path: Path) -> None:
    # A kill between the change and VACUUM leaves the file as the change left it: SQLite's secure_delete wiped it.
    with Record(path, from_bundle) as record:
        fill(record)
    traces = [b"Kim Dekker", b"a second thought", b"her sketch", b"94.2 kN of Kim"]
    before = path.read_bytes()
    assert all(trace in before for trace in traces)
    with closing(connect(path)) as db, transaction(db):
        for code in ("A1", "A2", "B1"):
            removal.remove_student(db, code, "", LATER)
    after = path.read_bytes()
    assert len(after) == len(before)
    assert [trace for trace in traces if trace in after] == []


def test_a_student_known_by_a_visit_alone_is_removed_too(record: Record) -> None:
    record.add_visits([Visit("A1", date(2027, 2, 1), (), "cut a disc", "R. Vos")], NOW)
    assert record.remove_student("A1", LATER) == Removed(0, 0, 0, 1)
    assert (record.visits(), [row.event for row in record.journal()]) == ((), [Event.REMOVED])


def test_words_for_a_removed_student_go_with_the_marks(filled: Record) -> None:
    for code in (FIRST, WHOLE[1].code):
        filled.moderate(code, "2.a", Decimal(2), "R. Vos", "seen", LATER, f"Well begun, {code}")
    filled.remove_student("A1", LATER)
    words = [json.loads(line) for line in filled.export_jsonl() if line.startswith('{"kind":"words"')]
    assert [(line["sheet"], line["say"]) for line in words] == [(WHOLE[1].code, f"Well begun, {WHOLE[1].code}")]
    assert not any(row.detail == f"Well begun, {FIRST}" for row in filled.journal())
    assert filled.verify() == ()


def test_what_waited_for_a_removed_student_waits_no_longer_and_what_waits_for_others_does(filled: Record) -> None:
    filled.add_returns([handed_in(WHOLE[1], "another thought", file="again.xlsx")], LATER)
    assert [one.student for one in filled.differences("shear-1")] == ["A1", "A2"]
    filled.remove_student("A1", LATER)
    assert [one.student for one in filled.differences("shear-1")] == ["A2"]
    assert filled.verify() == ()


def test_after_a_removal_no_free_page_is_left_and_the_journal_is_as_guarded_as_before(path: Path) -> None:
    with Record(path, from_bundle) as record:
        fill(record)
        record.add_returns([handed_in(WHOLE[0], "x" * 50_000, "long.xlsx")], LATER)
        record.remove_student("A1", LATER)
    with closing(connect(path)) as db:
        assert db.execute("PRAGMA freelist_count").fetchone() == (0,)
        assert db.execute("SELECT count(*) FROM removing").fetchone() == (0,)
        assert db.execute("SELECT count(*) FROM saying").fetchone() == (0,)


def test_the_row_of_a_removal_is_told_by_no_row_that_is_gone(filled: Record) -> None:
    rows = {row.number for row in filled.journal() if row.sheet in (FIRST, "shear-2-A1-1")}
    filled.remove_student("A1", LATER)
    assert rows.isdisjoint(row.number for row in filled.journal())
    assert filled.verify() == ()


def test_what_was_arranged_before_a_student_is_removed_can_no_longer_be_taken_back(filled: Record) -> None:
    with filled.step("moderate", "shear-1", LATER, "R. Vos"):
        filled.moderate(FIRST, "2.a", Decimal(1), "R. Vos", "seen", LATER)
    assert filled.last_step() is not None
    filled.remove_student("Z9", LATER)
    assert filled.last_step() is not None
    filled.remove_student("A1", LATER)
    assert filled.last_step() is None
