"""Second attempts on fresh numbers, students who join, leave and change group, and sheets printed again the same."""

import shutil
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner

from documents.pages import words_of_pdf
from jobs.small_class import (
    NOW,
    STUDENTS,
    TASK,
    hand_in,
    right_answers,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from witnessmark.cli.main import main
from witnessmark.jobs.arranging import change_group, leave
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.keeping_mark_book import keep_mark_book
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.printing import Wanted, print_sheets
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.setting_again import set_again
from witnessmark.jobs.standings import read_task_standing
from witnessmark.jobs.undoing import undo
from witnessmark.marking.standing import AttemptStanding, State, TaskStanding, counted
from witnessmark.questions.sheet.task import Sheet, Which
from witnessmark.words.errors import ProblemsFound

AGAIN = datetime(2027, 2, 1, 9, tzinfo=UTC)
DECISION = Decision("K. Lund", "fell ill on the day", AGAIN)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One of four handed in, with nothing right; not to be changed."""
    folder = small_class(tmp_path_factory.mktemp("attempts") / "class")
    write_task(folder, "[drain-hole]")
    issue(folder, TASK, NOW)
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, {"1.a": "1 kN"})
    mark(folder, TASK, NOW)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def standing(folder: Path, code: str) -> TaskStanding:
    """Where a student stands in February."""
    with open_class(folder).record() as record:
        read = read_task_standing(record, TASK)
        student = next(s.student for s in read.sheets if s.student.code == code)
        return read.standing(student, date(2027, 2, 20))


def attempt(folder: Path, code: str, number: int) -> Sheet:
    """A student's sheet of an attempt."""
    with open_class(folder).record() as record:
        return next(s for s in record.sheets(TASK) if (s.student.code, s.attempt) == (code, number))


def test_a_second_attempt_has_fresh_numbers_and_the_better_of_both_counts(folder: Path) -> None:
    done = set_again(folder, TASK, ["hb01"], date(2027, 2, 15), DECISION)
    (new,), first = done.new, attempt(folder, "HB01", 1)
    assert (new.attempt, new.student.code, len(done.before)) == (2, "HB01", 4)
    assert new.code != first.code
    assert new.variants[0].identity != first.variants[0].identity
    assert (folder / "issued" / TASK / "books" / "HB01.attempt-2.xlsx").is_file()
    assert standing(folder, "HB01").attempts[1].due == date(2027, 2, 15)
    hand_in(folder, new, right_answers(new), "again.xlsx")
    mark(folder, TASK, AGAIN)
    one, two = standing(folder, "HB01").attempts
    assert one.counts is not None
    assert two.counts is not None
    assert one.counts < two.counts == standing(folder, "HB01").marks
    return_feedback(folder, TASK, AGAIN)
    assert {p.name for p in (folder / "feedback" / TASK).iterdir()} == {"HB01.pdf", "HB01.attempt-2.pdf"}


def test_feedback_of_the_attempt_that_changed_is_named_and_not_that_of_the_other(folder: Path) -> None:
    (new,) = set_again(folder, TASK, ["hb01"], None, DECISION).new
    hand_in(folder, new, right_answers(new), "again.xlsx")
    mark(folder, TASK, AGAIN)
    return_feedback(folder, TASK, AGAIN)
    keep_mark_book(folder, AGAIN)
    book = {f"gradebook-{TASK}.xlsx", "mark-book.xlsx", "mark-book.csv"}
    later = moderate(folder, new.code, "1a", "0", "worked from another sheet", "K. Lund", AGAIN)
    assert {path.name for path in later.stale} == {"HB01.attempt-2.pdf", *book}
    first = moderate(folder, attempt(folder, "HB01", 1).code, "1a", "1", "the area is right", "K. Lund", AGAIN)
    assert {path.name for path in first.stale} == {"HB01.pdf", *book}
    assert {path.name for path in undo(folder, "K. Lund", "too soon", AGAIN).stale} == {"HB01.pdf", *book}


@pytest.mark.parametrize(("which", "marks"), [("best", "7"), ("last", "3"), ("mean", "5")])
def test_the_rule_of_the_task_says_which_attempt_counts(which: str, marks: str) -> None:
    def came(number: int, earned: str | None, off: str = "0") -> AttemptStanding:
        return AttemptStanding(number, "", None if earned is None else Decimal(earned), None, None, 0, Decimal(off), 0)

    assert counted(Which(which), [came(1, "8", "1"), came(2, "3"), came(3, None)]) == Decimal(marks)
    assert counted(Which(which), [came(1, None)]) == 0


def test_an_attempt_taken_back_counts_no_longer_and_the_next_has_other_numbers(folder: Path) -> None:
    (taken_back,) = set_again(folder, TASK, ["HB01"], None, DECISION).new
    assert undo(folder, "K. Lund", "the wrong student", AGAIN).step.what == "set-again"
    assert [a.attempt for a in standing(folder, "HB01").attempts] == [1]
    (new,) = set_again(folder, TASK, ["HB01"], None, DECISION).new
    assert new.attempt == 3
    assert new.variants[0].identity != taken_back.variants[0].identity
    with open_class(folder).record() as record:
        assert record.verify() == ()


def test_all_get_another_attempt_but_who_left(folder: Path) -> None:
    leave(folder, "LW02", date(2027, 1, 20), DECISION)
    done = set_again(folder, TASK, [], None, DECISION)
    assert [s.student.code for s in done.new] == ["HB01", "HB02", "LW01"]
    assert len({s.variants[0].identity for s in (*done.new, *done.before)}) == 7


def test_who_has_no_sheet_cannot_have_a_second(folder: Path) -> None:
    write_students(folder, (*STUDENTS, ("LW03", "Ada Fenn", "Low Wharf")))
    with pytest.raises(ProblemsFound, match="no-sheet"):
        set_again(folder, TASK, ["LW03"], None, DECISION)


def test_who_joins_gets_a_sheet_and_who_left_gets_none(folder: Path) -> None:
    leave(folder, "LW02", date(2027, 1, 20), DECISION)
    write_students(folder, (*STUDENTS, ("LW03", "Ada Fenn", "Low Wharf")))
    before = (folder / "issued" / TASK / "sheets" / "HB01.pdf").read_bytes()
    assert [s.student.code for s in issue(folder, TASK, AGAIN).new] == ["LW03"]
    assert (folder / "issued" / TASK / "sheets" / "HB01.pdf").read_bytes() == before
    write_task(folder, "[clevis-pin]", "pins-1")
    assert [s.student.code for s in issue(folder, "pins-1", AGAIN).new] == ["HB01", "HB02", "LW01", "LW03"]
    assert standing(folder, "LW02").state is State.LEFT


def test_a_lost_sheet_is_printed_byte_for_byte_as_it_was_issued(folder: Path) -> None:
    issued = (folder / "issued" / TASK / "sheets" / "HB02.pdf").read_bytes()
    done = print_sheets(folder, TASK, Wanted(("hb02",)))
    assert done.file.name == "hb02.pdf"
    assert done.file.read_bytes() == issued


def test_a_group_and_the_class_are_one_file_each_in_the_order_of_groups(folder: Path, tmp_path: Path) -> None:
    change_group(folder, "HB02", "Low Wharf", DECISION)
    done = print_sheets(folder, TASK, Wanted(group="low wharf"), both_sides=True)
    assert [s.student.code for s in done.sheets] == ["HB02", "LW01", "LW02"]
    pages = words_of_pdf(done.file.read_bytes(), tmp_path)
    first = [n for n, page in enumerate(pages) if "Calculation sheet" in page]
    assert len(first) == 3
    assert all(n % 2 == 0 for n in first), "a sheet that begins on the back of another"
    every = print_sheets(folder, TASK, Wanted())
    assert [s.student.code for s in every.sheets] == ["HB01", "HB02", "LW01", "LW02"]
    with pytest.raises(ProblemsFound, match="no-group"):
        print_sheets(folder, TASK, Wanted(group="Nowhere"))


def test_how_a_class_prints_is_kept_until_it_is_said_otherwise(folder: Path) -> None:
    def printed(*more: str) -> str:
        done = CliRunner().invoke(main, ["print", str(folder), TASK, *more])
        assert done.exit_code == 0, done.output
        return done.output

    before = (folder / "class.yaml").read_text(encoding="utf-8")
    assert "for one side of the paper" in printed()
    assert (folder / "class.yaml").read_text(encoding="utf-8") == before
    first = printed("--both-sides")
    assert "4 sheets, for both sides of the paper" in first
    assert "class.yaml says so from now on: print: both sides" in first
    assert (folder / "class.yaml").read_text(encoding="utf-8") == f"{before}print: both sides\n"
    pages = (folder / "issued" / TASK / "to-print" / "all.pdf").read_bytes()
    again = printed()
    assert "for both sides" in again
    assert "from now on" not in again
    assert (folder / "issued" / TASK / "to-print" / "all.pdf").read_bytes() == pages
    printed("--one-side")
    assert (folder / "class.yaml").read_text(encoding="utf-8") == f"{before}print: one side\n"
    (folder / "class.yaml").write_text(f"{before}print: all sides\n", encoding="utf-8")
    refused = CliRunner().invoke(main, ["print", str(folder), TASK])
    assert "expected one side or both sides, found 'all sides'" in refused.output


def test_the_commands_set_again_and_print(folder: Path) -> None:
    run = CliRunner().invoke
    why = ["--who", "K. Lund", "--why", "ill"]
    assert "1 sheet issued now, 4 before" in run(main, ["set-again", str(folder), TASK, "HB01", *why]).output
    assert run(main, ["set-again", str(folder), TASK, *why]).exit_code == 2
    assert run(main, ["print", str(folder), TASK, "--group", "Heron Boats"]).output.startswith("3 sheets, for one ")
