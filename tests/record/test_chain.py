"""What was changed in a record by other means is found, also where its safeguards are whole again."""

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, accepted, from_bundle, handed_in, outcome, sheets, slip
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound

FIRST, SECOND, THIRD = (sheet.code for sheet in sheets())


@pytest.fixture
def kept(path: Path) -> Path:
    """A closed record in which everything happened."""
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        record.add_returns([handed_in(sheet) for sheet in sheets()], NOW)
        marked = {FIRST: {"1.a": slip()}, SECOND: {"1.a": outcome()}, THIRD: {"1.a": outcome()}}
        record.set_outcomes("shear-1", marked, NOW, "marked")
        record.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "the sketch is right", LATER)
        record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)
        assert record.verify() == ()
    return path


def changed_behind(path: Path, *statements: str) -> None:
    """Do as somebody does who sets out to falsify: take the safeguards off, change, put them back as they were."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        triggers = db.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            db.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            db.execute(statement)
        for _, sql in triggers:
            db.execute(sql)


def found(path: Path) -> list[str]:
    """What `verify` says of a record, without the path and the remedy."""
    with Record(path, from_bundle) as record:
        return [f"[{p.code}] {p.found}" for p in record.verify()]


CHANGES: dict[str, tuple[str, str]] = {
    "a mark": ("UPDATE outcomes SET marks = '3' WHERE sheet = 1",
               f"[mark-changed] {FIRST} 1.a (marked): 3, where the journal says 1"),
    "a verdict": ("UPDATE outcomes SET verdict = 'right' WHERE sheet = 1",
                  f"[mark-changed] {FIRST} 1.a: 'right', where the journal says 'slip'"),
    "a teacher's mark": ("UPDATE moderations SET marks = '3'",
                         f"[mark-changed] {FIRST} 1.a (moderated): 3, where the journal says 2"),
    "a mark that went": ("DELETE FROM outcomes WHERE sheet = 2",
                         f"[mark-changed] {SECOND} 1.a (marked): no mark, where the journal says 3"),
    "a reason": ("UPDATE journal SET why = 'other' WHERE event = 'moderated'", "[journal-changed] row 11 was changed"),
    "a row that went": ("DELETE FROM journal WHERE event = 'moderated'", "[journal-changed] row 11 is missing"),
    "a link": ("UPDATE chain SET link = 'x' WHERE row = 3", "[journal-changed] row 3 does not follow the row before"),
    "a return that went": ("DELETE FROM entries WHERE return = 2",
                           f"[sheet-changed] return 2 of {SECOND} with other entries than were received"),
    "an entry": ("UPDATE entries SET raw = '12 kN' WHERE return = 3",
                 f"[sheet-changed] return 3 of {THIRD} with other entries than were received"),
    "a number on a sheet": ("UPDATE variants SET shown = replace(shown, '300', '301') WHERE sheet = 1",
                            f"[sheet-changed] sheet {FIRST} with other contents than were issued"),
    "a name on a sheet": ("UPDATE sheets SET student = 'B9' WHERE id = 3",
                          f"[sheet-changed] sheet {THIRD} with other contents than were issued"),
    "a question": ("UPDATE texts SET body = body || ' '", "[record-unreadable] question "),
    "a body that is no JSON": ("UPDATE outcomes SET body = 'x' WHERE sheet = 2",
                               "[record-unreadable] outcome of sheet number 2: stored text that is no JSON: "),
    "a body of another kind": ("UPDATE tasks SET body = '[1]'", "[record-unreadable] task shear-1: "),
    "a time": ("UPDATE returns SET received = 'yesterday' WHERE id = 1", "[record-unreadable] return 1: "),
    "a reason that stands ready": ("INSERT INTO saying VALUES (1, 'now', 'me', 'because')",
                                   "[journal-changed] one: marks could change under it"),
}  # fmt: skip


@pytest.mark.parametrize(("sql", "said"), CHANGES.values(), ids=CHANGES)
def test_a_change_behind_the_safeguards_is_found(kept: Path, sql: str, said: str) -> None:
    changed_behind(kept, sql)
    assert any(line.startswith(said) for line in found(kept)), found(kept)


def test_a_mark_changed_with_a_reason_typed_by_hand_is_found_also_after_further_work(kept: Path) -> None:
    with closing(sqlite3.connect(kept, isolation_level=None)) as db:
        db.execute("INSERT INTO saying VALUES (1, '2027-02-09T10:00:00+00:00', 'R. Vos', 'a slip of the pen')")
        db.execute("UPDATE outcomes SET marks = '3' WHERE sheet = 1")
        db.execute("DELETE FROM saying")
    said = ["[journal-changed] row 13 was not written by this program (marked, 'a slip of the pen')"]
    assert found(kept) == said
    with Record(kept, from_bundle) as record:
        record.moderate(SECOND, "1.a", Decimal(2), "R. Vos", "seen", LATER)
    assert found(kept) == said


def test_a_deleted_sheet_is_found(kept: Path) -> None:
    tables = ("entries WHERE return = 3", "returns WHERE sheet = 3", "outcomes WHERE sheet = 3",
              "variants WHERE sheet = 3", "sheets WHERE id = 3")  # fmt: skip
    changed_behind(kept, *(f"DELETE FROM {table}" for table in tables))
    assert f"[sheet-changed] no sheet {THIRD}, which was issued" in found(kept)
    assert f"[sheet-changed] 0 returns of {THIRD}, where the journal tells of 1" in found(kept)


def test_rows_that_lost_what_they_belong_to_are_found(kept: Path) -> None:
    changed_behind(kept, "DELETE FROM sheets WHERE id = 3")
    assert any(
        re.match(r"\[record-torn\] (returns|outcomes|variants): a row without its sheets", f) for f in found(kept)
    )


READS: dict[str, Callable[[Record], object]] = {
    "sheets": lambda record: record.sheets("shear-1"),
    "outcomes": lambda record: record.outcomes("shear-1"),
    "returns": lambda record: record.returns("shear-1"),
    "journal": lambda record: record.journal(),
    "accepted": lambda record: record.accepted("shear-1"),
    "moderate": lambda record: record.moderate(SECOND, "1.a", Decimal(1), "R. Vos", "seen", LATER),
}
SPOILT = {
    "sheets": "UPDATE sheets SET student_body = '{'",
    "outcomes": "UPDATE outcomes SET body = '{\"raw\": 3}'",
    "returns": "UPDATE returns SET received = 'x'",
    "journal": "UPDATE journal SET event = 'x'",
    "accepted": "UPDATE accepted SET misconception_body = '[]'",
    "moderate": "UPDATE outcomes SET body = '[]'",
}


@pytest.mark.parametrize("what", READS)
def test_what_cannot_be_read_is_a_problem_and_no_traceback(kept: Path, what: str) -> None:
    changed_behind(kept, SPOILT[what])
    with Record(kept, from_bundle) as record, pytest.raises(ProblemsFound) as caught:
        READS[what](record)
    assert [p.code for p in caught.value.problems] == ["record-unreadable"]
    assert found(kept)


@pytest.fixture
def thinned(kept: Path) -> Path:
    """That record after one student was removed."""
    with Record(kept, from_bundle) as record:
        record.remove_student("A1", LATER, "R. Vos")
    return kept


def test_a_removal_leaves_the_chain_whole_and_nothing_of_the_rows_but_their_links(thinned: Path) -> None:
    assert found(thinned) == []
    with closing(sqlite3.connect(thinned)) as db:
        gone = db.execute("SELECT row, salt, removed FROM chain WHERE removed <> 0").fetchall()
    assert [(row, salt) for row, salt, _ in gone] == [(2, ""), (5, ""), (8, ""), (11, "")]


def test_a_row_taken_out_in_the_name_of_a_removal_is_found(thinned: Path) -> None:
    with closing(sqlite3.connect(thinned)) as db:
        (removal,) = db.execute("SELECT id FROM journal WHERE event = 'removed'").fetchone()
    as_if = f"UPDATE chain SET salt = '', removed = {removal} WHERE row = 9"
    changed_behind(thinned, "DELETE FROM journal WHERE id = 9", as_if)
    said = f"[journal-changed] row {removal} does not tell of all 5 rows that were taken out with a student"
    assert said in found(thinned)
