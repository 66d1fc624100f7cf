"""What `check` looks through in a record: sheets and returns against the journal, and whether each text can be read."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, accepted, from_bundle, handed_in, outcome, sheets, slip, task
from record.test_chain import changed_behind
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.model.question import Question
from witnessmark.record.record import Record
from witnessmark.record.returns import digest_of
from witnessmark.review.year.history import Visit
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

FIRST, SECOND, THIRD = (sheet.code for sheet in sheets())
TYPED = handed_in(sheets()[0], "94.2 kN")


@pytest.fixture
def kept(path: Path) -> Path:
    """A closed record: two tasks, the first with returns of two of three sheets, marks, a visit, a mark taken back."""
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        record.add_sheets(sheets(task("shear-2")), NOW)
        record.add_returns([TYPED, handed_in(sheets()[1], "half \ud800 a pair")], NOW)
        record.set_outcomes("shear-1", {FIRST: {"1.a": slip()}, SECOND: {"1.a": outcome()}}, NOW, "marked")
        record.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "the sketch is right", LATER)
        record.moderate(SECOND, "1.a", Decimal(2), "R. Vos", "too soon", LATER)
        record.withdraw(SECOND, "1.a", "R. Vos", "a slip of the pen", LATER)
        record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)
        record.add_visits([Visit("A1", date(2027, 2, 1), ("both-faces",), "", "R. Vos")], NOW)
    return path


def found(path: Path, make: Callable[[str], Question] = from_bundle) -> list[str]:
    """The faults of a record."""
    with Record(path, make) as record:
        return [f"[{p.code}] {p.found}" for p in record.verify()]


def test_a_record_that_only_this_program_wrote_has_no_fault(kept: Path) -> None:
    assert found(kept) == []


def test_a_fault_is_told_with_the_record_what_was_expected_and_what_can_be_done(kept: Path) -> None:
    changed_behind(kept, "UPDATE outcomes SET marks = '3' WHERE sheet = 1")
    with Record(kept, from_bundle) as record:
        (problem,) = record.verify()
    assert str(problem) == (
        f"{kept}: [mark-changed] expected marks that the journal tells, found {FIRST} 1.a (marked): 3, where the"
        " journal says 1; look at copies/ and see witnessmark restore"
    )


def test_a_teachers_mark_that_was_taken_back_and_stands_again_is_found(kept: Path) -> None:
    columns = "sheet, ask, marks, machine, who, why, at"
    changed_behind(kept, f"INSERT INTO moderations ({columns}) VALUES (2, '1.a', '2', '3', 'x', 'y', '{NOW}')")
    assert found(kept) == [f"[mark-changed] {SECOND} 1.a (moderated): 2, where the journal says none"]


def test_a_mark_that_the_journal_never_told_of_is_found(kept: Path) -> None:
    changed_behind(kept, "INSERT INTO outcomes SELECT 3, ask, marks, out_of, verdict, waits, body FROM outcomes"
                         " WHERE sheet = 2")  # fmt: skip
    assert found(kept) == [f"[mark-changed] {THIRD} 1.a (marked): 3, where the journal says none"]


def test_a_changed_verdict_counts_as_the_last_one_told(path: Path) -> None:
    """The journal tells a change of verdict as `slip, now right`."""
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        for verdict in (Verdict.SLIP, Verdict.UNIT):
            record.set_outcomes("shear-1", {FIRST: {"1.a": outcome("1", verdict)}}, NOW, "marked")
    assert found(path) == []
    changed_behind(path, "UPDATE outcomes SET verdict = 'slip'")
    assert found(path) == [f"[mark-changed] {FIRST} 1.a: 'slip', where the journal says '{Verdict.UNIT}'"]


def test_a_sheet_that_was_not_issued_is_found(kept: Path) -> None:
    changed_behind(kept, "INSERT INTO sheets SELECT 9, 'forged', task, 'B9', student_body, attempt, issued FROM sheets"
                         " WHERE id = 1")  # fmt: skip
    assert found(kept) == ["[sheet-changed] a sheet forged that was not issued"]


def test_returns_are_held_against_the_number_that_the_journal_tells_of(kept: Path) -> None:
    again = "INSERT INTO returns SELECT 9, {}, file, 'copy.xlsx', sha256, digest, received, seen, source FROM returns"
    changed_behind(kept, again.format(3) + " WHERE id = 1", "INSERT INTO entries SELECT 9, position, ask, raw, place,"
                   " note, spoiled FROM entries WHERE return = 1")  # fmt: skip
    assert found(kept) == [f"[sheet-changed] 1 returns of {THIRD}, where the journal tells of 0"]


def test_entries_whose_hash_was_made_anew_as_well_are_found(kept: Path) -> None:
    other = replace(TYPED, entries=tuple((ask, replace(entry, raw="12 kN")) for ask, entry in TYPED.entries))
    changed_behind(kept, "UPDATE entries SET raw = '12 kN' WHERE return = 1",
                   f"UPDATE returns SET digest = '{digest_of(other)}' WHERE id = 1")  # fmt: skip
    assert found(kept) == [f"[sheet-changed] return 1 of {FIRST} with other entries than were received"]


def test_a_hash_that_was_changed_alone_is_found(kept: Path) -> None:
    changed_behind(kept, f"UPDATE returns SET digest = '{'0' * 64}' WHERE id = 1")
    assert found(kept) == [f"[sheet-changed] return 1 of {FIRST} with other entries than were received"]


def test_a_task_whose_returns_cannot_be_read_hides_nothing_in_the_next(kept: Path) -> None:
    with Record(kept, from_bundle) as record:
        record.add_returns([handed_in(sheets(task("shear-2"))[0], "1 kN")], LATER)
    changed_behind(kept, "UPDATE returns SET received = 'yesterday' WHERE id = 1",
                   "UPDATE entries SET raw = '12 kN' WHERE return = 3")  # fmt: skip
    assert "[sheet-changed] return 3 of shear-2-A1-1 with other entries than were received" in found(kept)


UNREADABLE = {
    "a task": ("UPDATE tasks SET body = '[]' WHERE key = 'shear-1'", "task shear-1"),
    "a student": ("UPDATE sheets SET student_body = '[]' WHERE id = 1", f"student of sheet {FIRST}"),
    "a time of issue": ("UPDATE sheets SET issued = 'today' WHERE id = 1", f"student of sheet {FIRST}"),
    "values shown": ("UPDATE variants SET shown = '{\"d\": 3}' WHERE sheet = 2", "question of sheet number 2"),
    "rows of tables": ("UPDATE variants SET row_names = '[1]' WHERE sheet = 2", "question of sheet number 2"),
    "results": ("UPDATE variants SET expected = '{\"a\": \"much\"}' WHERE sheet = 2", "question of sheet number 2"),
    "an outcome": ("UPDATE outcomes SET body = '[]' WHERE sheet = 2", "outcome of sheet number 2"),
    "the machine's mark then": ("UPDATE moderations SET machine = 'x'", "moderation of sheet number 1"),
    "a time of moderation": ("UPDATE moderations SET at = 'today'", "moderation of sheet number 1"),
    "an accepted misconception": ("UPDATE accepted SET misconception_body = '[]'", "accepted slip both-faces"),
    "a time of acceptance": ("UPDATE accepted SET at = 'today'", "accepted slip both-faces"),
    "what was shown on a visit": ("UPDATE visits SET misconceptions = '3'", "visit A1"),
    "a day of a visit": ("UPDATE visits SET day = 'Monday'", "visit A1"),
    "a time of a visit": ("UPDATE visits SET at = 'today'", "visit A1"),
    "a time of receiving": ("UPDATE returns SET received = 'today' WHERE id = 2", "return 2"),
    "a time in the journal": ("UPDATE journal SET at = 'today' WHERE id = 3", "journal row 3"),
}  # fmt: skip


@pytest.mark.parametrize(("sql", "named"), UNREADABLE.values(), ids=UNREADABLE)
def test_each_stored_text_that_cannot_be_read_is_named(kept: Path, sql: str, named: str) -> None:
    changed_behind(kept, sql)
    told = {line.split(": ")[0] for line in found(kept) if line.startswith("[record-unreadable]")}
    assert told == {f"[record-unreadable] {named}"}


def test_a_question_is_told_that_was_changed_and_one_that_this_program_no_longer_reads(kept: Path) -> None:
    def refuses(text: str) -> Question:
        if text.startswith("rivet"):
            raise ProblemsFound([Problem("x", Place("rivet"), "an answer", "none")])
        return from_bundle(text)

    (said,) = found(kept, refuses)
    assert said.endswith(": an answer expected, none found")
    assert said.startswith("[record-unreadable] question ")
    changed_behind(kept, "UPDATE texts SET body = body || ' ' WHERE body LIKE 'rivet%'")
    assert any(line.endswith(": a text that was changed") for line in found(kept))


@pytest.mark.parametrize("ready", ["saying VALUES (1, 'now', 'me', 'because')", "removing VALUES ('A1')"])
def test_a_reason_or_a_permission_that_stands_ready_is_found(kept: Path, ready: str) -> None:
    changed_behind(kept, f"INSERT INTO {ready}")
    assert found(kept) == ["[journal-changed] one: marks could change under it"]
