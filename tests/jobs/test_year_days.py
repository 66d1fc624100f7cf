"""A student's days: due, late, extended, excused, received by mail; each a step with who and why, and taken back."""

import json
import shutil
from collections.abc import Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from jobs.small_class import NOW, TASK, hand_in, right_answers, sheets_of, small_class, write_task
from programs import worked_out
from witnessmark.cli.main import main
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.jobs.arranging import excuse, extend, leave, receive
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.listing_returns import list_returns
from witnessmark.jobs.marking import CameOn, mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.standings import read_task_standing
from witnessmark.jobs.telling_history import history
from witnessmark.jobs.undoing import undo
from witnessmark.marking.standing import AttemptStanding, State, TaskStanding
from witnessmark.questions.sheet.arranged import Excuse
from witnessmark.words.errors import ProblemsFound

TAKEN_IN = datetime(2027, 1, 25, 9, tzinfo=UTC)  # the task is due on 22 January
RULE = "late: {marks off: 0.5, each: day, at most: 2}\n"
DECISION = Decision("K. Lund", "told by the yard", TAKEN_IN)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two of four handed in, and were taken in three days after the day; not to be changed."""
    folder = small_class(tmp_path_factory.mktemp("days") / "class")
    write_task(folder, "[drain-hole]", more=RULE)
    issue(folder, TASK, NOW)
    for code in ("HB01", "LW01"):
        sheet = sheets_of(folder)[code]
        hand_in(folder, sheet, right_answers(sheet))
    mark(folder, TASK, TAKEN_IN)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def standings(folder: Path, today: date = date(2027, 2, 1)) -> Mapping[str, TaskStanding]:
    """Where the four stand."""
    with open_class(folder).record() as record:
        read = read_task_standing(record, TASK)
        return {sheet.student.code: read.standing(sheet.student, today) for sheet in read.sheets}


def days_of(folder: Path, code: str) -> AttemptStanding:
    """The first attempt of a student."""
    return standings(folder)[code].attempts[0]


def test_what_came_late_loses_what_the_rule_says_and_keeps_its_marks(folder: Path) -> None:
    one = days_of(folder, "HB01")
    assert (one.due, one.received, one.days_late) == (date(2027, 1, 22), date(2027, 1, 25), 3)
    assert one.earned is not None
    assert (one.off, one.counts) == (Decimal("1.5"), one.earned - Decimal("1.5"))
    states = {code: standing.state for code, standing in standings(folder).items()}
    assert states == {"HB01": State.LATE, "HB02": State.MISSING, "LW01": State.LATE, "LW02": State.MISSING}
    assert standings(folder)["HB02"].marks == 0
    before = standings(folder, date(2027, 1, 22))["HB02"]
    assert (before.state, before.marks) == (State.OPEN, None)


def test_more_time_for_one_makes_it_in_time_and_is_told_and_taken_back(folder: Path) -> None:
    assert extend(folder, TASK, "hb01", date(2027, 1, 25), DECISION).changed
    assert not extend(folder, TASK, "HB01", date(2027, 1, 25), DECISION).changed
    found = standings(folder)
    assert (found["HB01"].state, found["LW01"].state) == (State.EXTENDED, State.LATE)
    assert found["HB01"].attempts[0].off == 0
    (story,) = history(folder, "HB01").sheets
    assert [(t.sentence, t.who, t.why) for t in story.told][-1] == (
        "given until 2027-01-25", "K. Lund", "told by the yard",
    )  # fmt: skip
    undone = undo(folder, "K. Lund", "the other yard", TAKEN_IN)
    assert (undone.step.what, undone.totals) == ("extend", ())
    assert days_of(folder, "HB01").days_late == 3
    assert history(folder, "HB01").sheets[0].told[-1].sentence == "no longer given another day"
    with open_class(folder).record() as record:
        assert record.verify() == ()


def test_the_absent_are_out_until_something_comes_and_the_exempt_for_good(folder: Path) -> None:
    for code in ("HB01", "HB02"):
        excuse(folder, TASK, code, Excuse.ABSENT, DECISION)
    for code in ("LW01", "LW02"):
        excuse(folder, TASK, code, Excuse.EXEMPT, DECISION)
    found = {code: (s.state, s.marks is None) for code, s in standings(folder).items()}
    assert found == {
        "HB01": (State.LATE, False), "HB02": (State.ABSENT, True), "LW01": (State.EXEMPT, True),
        "LW02": (State.EXEMPT, True),
    }  # fmt: skip
    leave(folder, "HB02", date(2027, 1, 10), DECISION)
    excuse(folder, TASK, "HB02", None, DECISION)
    assert standings(folder)["HB02"].state is State.LEFT


def test_a_day_given_at_the_taking_in_or_later_is_the_day_of_receiving(folder: Path) -> None:
    sheet = sheets_of(folder)["HB02"]
    hand_in(folder, sheet, right_answers(sheet))
    done = mark(folder, TASK, TAKEN_IN, came=CameOn(date(2027, 1, 22), "K. Lund"))
    assert days_of(folder, "HB02").days_late == 0
    assert {one.sheet for one in done.late} == {sheets_of(folder)[code].code for code in ("HB01", "LW01")}
    receive(folder, sheet.code, date(2027, 1, 23), DECISION)
    assert days_of(folder, "HB02").days_late == 1
    undo(folder, "K. Lund", "no", TAKEN_IN)
    undo(folder, "K. Lund", "the wrong folder", TAKEN_IN)
    assert (days_of(folder, "HB02").earned, days_of(folder, "HB02").received) == (None, None)


@pytest.mark.parametrize(("task", "student", "said"), [(TASK, "HB09", "no-student"), ("shear-2", "HB01", "no-task")])
def test_unknown_students_and_tasks_are_told(folder: Path, task: str, student: str, said: str) -> None:
    with pytest.raises(ProblemsFound, match=said):
        extend(folder, task, student, date(2027, 1, 25), DECISION)


def test_nothing_is_arranged_without_a_reason(folder: Path) -> None:
    with pytest.raises(ProblemsFound, match="no-reason"):
        extend(folder, TASK, "HB01", date(2027, 1, 25), Decision("K. Lund", " ", TAKEN_IN))


def test_removing_a_student_takes_what_was_arranged(folder: Path) -> None:
    leave(folder, "HB02", date(2027, 1, 10), DECISION)
    excuse(folder, TASK, "HB02", Excuse.ABSENT, DECISION)
    with open_class(folder).record() as record:
        record.remove_student("HB02", TAKEN_IN)
        assert record.verify() == ()
        assert not any("HB02" in line for line in record.export_jsonl(names=True))


def test_the_gradebook_shows_the_days_and_its_formulas_are_what_libreoffice_works_out(
    folder: Path, soffice: Path, tmp_path: Path
) -> None:
    extend(folder, TASK, "LW01", date(2027, 1, 24), DECISION)
    excuse(folder, TASK, "LW02", Excuse.ABSENT, DECISION)
    book = return_feedback(folder, TASK, TAKEN_IN).gradebook
    again = worked_out(soffice, book, "xlsx", tmp_path / "again")
    stored, worked = (openpyxl.load_workbook(path, data_only=True)["Summary"] for path in (book, again))
    cells = [cell.value for row in stored.iter_rows() for cell in row]
    assert cells == [cell.value for row in worked.iter_rows() for cell in row]
    rows = [[str(cell.value) for cell in row] for row in stored.iter_rows(min_row=5)]
    told = {row[0]: dict(zip(rows[0], row, strict=True)) for row in rows[1:]}
    one, two = told["HB01"], told["LW01"]
    assert (one["days late"], one["taken off"], float(one["counts"])) == ("3", "1.5", float(one["total"]) - 1.5)
    assert (two["due"], two["days late"], two["taken off"]) == ("2027-01-24 00:00:00", "1", "0.5")
    assert (told["HB02"]["state"], told["LW02"]["state"]) == ("not returned", "absent")
    assert told["HB02"]["counts"] in ("", "None")


def test_the_student_reads_what_lateness_cost(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    with open_class(folder).record() as record:
        read = read_task_standing(record, TASK)
    head = feedback_document(sheet, read.outcomes[sheet.code], days=read.attempt(sheet)).blocks[0]
    earned = read.attempt(sheet).counts
    assert f"('Late', '3 days, 1½ marks off: {earned:f}".replace(".5", "½") in str(head)


def test_the_commands_say_what_stands(folder: Path) -> None:
    def said(*words: str) -> str:
        done = CliRunner().invoke(main, [words[0], str(folder), *words[1:]])
        assert done.exit_code == 0, done.output
        return done.output

    why = ("--who", "K. Lund", "--why", "the ferry")
    assert said("extend", TASK, "HB01", "2027-01-25", *why) == "HB01, shear-1: has until 2027-01-25\n"
    assert said("excuse", TASK, "HB02", "--absent", *why) == "HB02, shear-1: is excused as absent\n"
    assert said("group", "HB02", "North Slip", *why) == "HB02: is in the group North Slip\n"
    listed = list_returns(folder, TASK, TAKEN_IN)
    assert listed.states == {
        "HB01": State.EXTENDED, "HB02": State.ABSENT, "LW01": State.LATE, "LW02": State.MISSING,
    }  # fmt: skip
    told = said("returns", TASK)
    assert "due 2027-01-25, received 2027-01-25, in time; extended" in told
    assert "due 2027-01-22, received 2027-01-25, 3 days late, 1.5 off" in told
    data = json.loads(said("history", "HB01", "--json"))
    assert data["sheets"][0]["days"]["due"] == "2027-01-25"
    wrong = CliRunner().invoke(main, ["extend", str(folder), TASK, "HB01", "25 January", *why])
    assert (wrong.exit_code, "type year-month-day" in wrong.output) == (2, True)
