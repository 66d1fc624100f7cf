"""How single values stand in a record, what its rows are worth, and how the journal is asked."""

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, outcome, sheets, slip, task
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.task import Entry
from witnessmark.record import journal
from witnessmark.record.record import Record
from witnessmark.record.rows import Change, Event, Moderation, Noted, Received
from witnessmark.record.storing import any_text, mark_text, named, saying, sheet_ids, stamp, text_back
from witnessmark.words.errors import ProblemsFound

ONE, TWO, _ = sheets()


@pytest.mark.parametrize(
    ("marks", "text"),
    [("0", "0"), ("-0", "0"), ("-0.0", "0"), ("10", "10"), ("100", "100"), ("0.5", "0.5"), ("1.50", "1.5"),
     ("2.0", "2"), ("20.00", "20"), ("1E+2", "100"), ("0.05", "0.05")],
)  # fmt: skip
def test_equal_marks_have_one_spelling_in_plain_digits(marks: str, text: str) -> None:
    assert mark_text(Decimal(marks)) == text
    assert Decimal(text) == Decimal(marks)


@pytest.mark.parametrize("marks", ["-0.5", "-3", "NaN", "Infinity", "-Infinity"])
def test_what_cannot_be_marks_is_not_stored(marks: str) -> None:
    with pytest.raises(ValueError, match="cannot be marks"):
        mark_text(Decimal(marks))


def test_a_time_keeps_its_zone_and_one_without_is_refused() -> None:
    there = datetime(2027, 2, 1, 9, 30, tzinfo=timezone(timedelta(hours=2)))
    assert datetime.fromisoformat(stamp(there)) == there
    assert stamp(there) == "2027-02-01T09:30:00+02:00"
    with pytest.raises(ValueError, match="time zone"):
        stamp(there.replace(tzinfo=None))


@pytest.mark.parametrize("text", ["", "94.2 kN", "Å and \U0001f6a2"])
def test_text_that_utf_8_can_hold_stands_as_text(text: str) -> None:
    assert any_text(text) == text
    assert text_back(text) == text


def test_half_of_a_surrogate_pair_stands_as_bytes_and_comes_back() -> None:
    stored = any_text("94 \ud800")
    assert isinstance(stored, bytes)
    assert text_back(stored) == "94 \ud800"


def test_a_name_is_tidied_and_a_reason_keeps_its_lines() -> None:
    assert named("A1", "1a", "  R.\n Vos ", " seen\n twice ") == ("R. Vos", "seen\n twice")


@pytest.mark.parametrize(
    ("who", "why", "missing"),
    [("", "seen", "a name"), ("R. Vos", "", "a reason"), ("\t", "\n", "a name and a reason")],
)
def test_who_and_why_are_asked_for_where_one_is_missing(who: str, why: str, missing: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        named("A1", "the mark", who, why)
    assert str(caught.value).startswith(f"A1: [no-reason] expected {missing} for the mark, found none;")


def test_a_reason_stands_ready_only_as_long_as_its_change_lasts(issued: Record, path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        with saying(db, NOW, "R. Vos", "seen"):
            assert db.execute("SELECT who, why FROM saying").fetchall() == [("R. Vos", "seen")]
        assert db.execute("SELECT count(*) FROM saying").fetchone() == (0,)
        assert sheet_ids(db, "shear-1") == sheet_ids(db) == {sheet.code: n for n, sheet in enumerate(sheets(), 1)}
        assert sheet_ids(db, "shear-2") == {}
    assert issued.verify() == ()


@pytest.mark.parametrize(
    ("entry", "words"),
    [(Entry(" seen ", "B9"), "seen"), (Entry("1/2", "B9", "became a date"), "1/2 (became a date)"),
     (Entry(" ", "B9", "lost"), "(lost)")],
)  # fmt: skip
def test_a_note_is_told_with_what_a_spreadsheet_did_to_it(entry: Entry, words: str) -> None:
    assert Noted("A1", entry, "A1.xlsx", NOW).words == words


@pytest.mark.parametrize(
    ("file", "place", "told"),
    [("A1.xlsx", "B2", "'94.2 kN' (A1.xlsx, B2)"), ("A1.txt", "", "'94.2 kN' (A1.txt)"), ("", "B2", "'94.2 kN' (B2)")],
)
def test_an_entry_is_told_with_where_it_stood(file: str, place: str, told: str) -> None:
    assert Received(1, file, Entry(" 94.2\n kN", place)).told == told


@pytest.mark.parametrize(("marks", "machine", "what"), [("-1", "0", "marks"), ("1", "NaN", "machine")])
def test_a_moderation_holds_marks_alone(marks: str, machine: str, what: str) -> None:
    with pytest.raises(ValueError, match=f"{what}: expected marks"):
        Moderation(Decimal(marks), Decimal(machine), "R. Vos", "seen", NOW)


def test_a_change_is_from_something_or_to_something() -> None:
    assert Change("A1", "1.a", None, outcome()).changes_the_mark
    assert Change("A1", "1.a", outcome(), None).changes_the_mark
    with pytest.raises(ValueError, match="after: expected an outcome"):
        Change("A1", "1.a", None, None)


@pytest.mark.parametrize(
    ("other", "changes"),
    [(outcome(), False), (outcome(notes=("seen",)), False), (outcome("2"), True), (outcome(out_of=Decimal(4)), True),
     (outcome("3", Verdict.UNIT), True)],
)  # fmt: skip
def test_a_change_of_words_alone_changes_no_mark(other: Outcome, changes: bool) -> None:
    assert Change("A1", "1.a", outcome(), other).changes_the_mark is changes


@pytest.fixture
def told(issued: Record) -> Record:
    """Two tasks, two sheets marked, an arrangement, a moderation."""
    issued.add_sheets(sheets(task("shear-2")), NOW)
    issued.set_outcomes("shear-1", {ONE.code: {"1.a": slip(), "1.b": outcome("0")}, TWO.code: {}}, NOW, "marked")
    issued.moderate(ONE.code, "1.a", Decimal(2), "R. Vos", "seen", LATER)
    for student in ("A1", "A2"):
        issued.arrange(Arrangement(Arranging.GROUP, "", student, "Norrvik", "R. Vos", "moved", LATER))
    return issued


def asked(record: Record, *what: str | None) -> list[tuple[str, str, str, str]]:
    """Event, task, sheet and answer of the rows that are asked for."""
    return [(str(row.event), row.task, row.sheet, row.ask) for row in record.journal(*what)]


def test_the_journal_is_asked_for_a_task_a_sheet_or_an_answer(told: Record) -> None:
    everything = asked(told)
    assert asked(told, "shear-2") == [row for row in everything if row[1] == "shear-2"] != []
    assert asked(told, None, ONE.code) == [row for row in everything if row[2] == ONE.code] != []
    assert asked(told, "shear-1", ONE.code, "1.a") == [
        ("marked", "shear-1", ONE.code, "1.a"), ("moderated", "shear-1", ONE.code, "1.a"),
    ]  # fmt: skip
    assert asked(told, None, None, "1.b") == [("marked", "shear-1", ONE.code, "1.b")]
    assert asked(told, "shear-1", "shear-2-A1-1") == []


def test_the_journal_of_a_sheet_has_its_rows_those_of_its_task_and_what_was_arranged_for_its_student(
    told: Record,
) -> None:
    assert [(row.event, row.sheet) for row in told.journal_of(ONE)] == [
        (Event.TASK, ""), (Event.ISSUED, ONE.code), (Event.MARKED, ONE.code), (Event.MARKED, ONE.code),
        (Event.MODERATED, ONE.code), (Event.ARRANGED, "A1"),
    ]  # fmt: skip


def test_a_row_of_the_journal_holds_the_mark_before_and_after(told: Record) -> None:
    first, second = told.journal("shear-1", ONE.code, "1.a")
    assert (first.before, first.after, first.who, first.why, first.at) == (
        None, Decimal(1), "witnessmark", "marked", NOW,
    )  # fmt: skip
    assert (second.before, second.after, second.who, second.why, second.at) == (
        Decimal(1), Decimal(2), "R. Vos", "seen", LATER,
    )  # fmt: skip
    assert second.number > first.number


def test_a_row_that_is_added_has_the_next_number(issued: Record, path: Path) -> None:
    last = issued.journal()[-1].number
    with closing(sqlite3.connect(path)) as db:
        about = journal.About("shear-1", ONE.code)
        assert journal.write(db, NOW, Event.RETURNED, "taken in", about, detail="half \ud800") == last + 1
        assert journal.rows(db)[-1].detail == "half \ud800"


def test_the_last_link_stands_for_the_journal_without_rows_of_removals(told: Record, path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        before = journal.last_link(db)
        assert before == told.head()
        told.remove_student("A1", LATER)
        assert journal.last_link(db) == before != told.head()


def test_a_record_without_rows_or_without_a_chain_has_no_last_link(record: Record, path: Path) -> None:
    assert record.journal() == ()
    with closing(sqlite3.connect(path)) as db, closing(sqlite3.connect(":memory:")) as older:
        assert journal.last_link(db) == ""
        assert journal.last_link(older) == ""


def test_mentions_are_counted_as_words_of_their_own(issued: Record) -> None:
    issued.set_outcomes("shear-1", {ONE.code: {"1.a": slip()}, TWO.code: {"1.a": outcome()}}, NOW, "marked")
    for why in ("worked with Kim", "Kimberley's sketch", "A1 and Kim", "see A1-2"):
        issued.moderate(ONE.code, "1.a", Decimal(2), "R. Vos", why, LATER)
    assert issued.mentions(["Kim", "A1"]) == 2
    assert issued.mentions(["Kimberley", ""]) == 1
    assert issued.mentions(["Tomás"]) == 0


def test_a_record_tells_how_much_it_holds_and_what_stands_in_all(issued: Record) -> None:
    issued.add_returns([handed_in(ONE)], NOW)
    issued.set_outcomes("shear-1", {ONE.code: {"1.a": slip(), "1.b": outcome("0.5")}}, NOW, "marked")
    issued.moderate(ONE.code, "1.a", Decimal(2), "R. Vos", "seen", LATER)
    counts = issued.counts()
    assert (counts.sheets, counts.returns, counts.marks) == (3, 1, 2)
    assert counts.journal_rows == len(issued.journal())
    assert issued.totals("shear-1") == {ONE.code: "2.5"}
    assert issued.totals("shear-2") == {}


def test_a_task_that_is_not_there_has_no_counts(issued: Record) -> None:
    assert issued.task("shear-9") is None
    found = issued.task("shear-1")
    assert found is not None
    assert (found.task, found.sheets, found.marked, found.waiting) == (task(), 3, 0, 0)


def test_what_is_kept_is_there_when_it_is_opened_again(path: Path) -> None:
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        code_of_student = record.sheet_codes()
    with Record(path, from_bundle) as record:
        assert record.sheets("shear-1") == sheets()
        assert record.sheet_codes() == code_of_student == tuple((s.code, s.student.code) for s in sheets())
