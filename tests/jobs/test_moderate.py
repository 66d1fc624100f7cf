"""The job `moderate`: the teacher's mark stays, with who and why; the machine's is kept beside it."""

import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from jobs.copied import issued_class
from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.errors import ProblemsFound


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class with one returned book, marked; not to be changed."""
    folder = issued_class(tmp_path_factory.mktemp("moderate") / "class")
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "87.654 kN"})
    mark(folder, TASK, NOW)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def sheet_of(folder: Path) -> Sheet:
    """The one sheet that came back."""
    return sheets_of(folder)["HB01"]


def told(folder: Path, code: str, answer: str, marks: str, who: str = "K. Dekker", why: str = "working shown") -> str:
    """The one problem that a moderation meets."""
    with pytest.raises(ProblemsFound) as raised:
        moderate(folder, code, answer, marks, why, who, LATER)
    (problem,) = raised.value.problems
    return str(problem).replace(str(folder), "CLASS")


def test_a_mark_is_changed_with_who_and_why_and_stays_when_marked_again(folder: Path) -> None:
    sheet = sheet_of(folder)
    done = moderate(folder, sheet.code, "1a", "1,5", "the working is right to the last line", "K. Dekker", LATER)
    assert (done.machine, done.marks, done.label) == (Decimal(0), Decimal("1.5"), "1a")
    for _ in range(2):
        outcome = mark(folder, TASK, LATER).outcomes[sheet.code]["1.a"]
        assert (outcome.marks, outcome.verdict) == (Decimal("1.5"), "unexplained")
    with open_class(folder).record() as record:
        assert record.proposals(TASK)[sheet.code]["1.a"].marks == 0
        kept = record.moderations(TASK)[sheet.code]["1.a"]
        assert (kept.marks, kept.who, kept.why) == (
            Decimal("1.5"), "K. Dekker", "the working is right to the last line",
        )  # fmt: skip


def test_the_teachers_mark_stays_when_another_return_is_taken_in(folder: Path) -> None:
    sheet = sheet_of(folder)
    moderate(folder, sheet.code, "1a", "2", "working shown", "K. Dekker", LATER)
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "12.345 kN", "2.a": ""}, "again.xlsx")
    outcomes = mark(folder, TASK, LATER, replace=Decision("K. Dekker", "a better book", LATER)).outcomes[sheet.code]
    assert (outcomes["1.a"].marks, outcomes["1.a"].raw) == (Decimal(2), "12.345 kN")
    assert outcomes["2.a"].verdict == "right"  # a blank replaces nothing


@pytest.mark.parametrize("answer", ["1a", "1A", " 1a ", "1.a"])
def test_an_answer_is_named_by_its_label_or_key(folder: Path, answer: str) -> None:
    assert moderate(folder, sheet_of(folder).code, answer, "3", "why not", "K. Dekker", LATER).label == "1a"


def test_a_sheet_code_is_repaired_as_it_is_typed(folder: Path) -> None:
    code = sheet_of(folder).code
    as_typed = f" {code.lower().replace('-', ' ')} "
    assert moderate(folder, as_typed, "1a", "3", "why not", "K. Dekker", LATER).sheet == code


def test_a_line_has_its_own_mark(folder: Path) -> None:
    done = moderate(folder, sheet_of(folder).code, "1a A_s", "0.5", "half of it", "K. Dekker", LATER)
    assert (done.label, done.marks) == ("1a A_s", Decimal("0.5"))


@pytest.mark.parametrize("marks", ["4", "-1", "0.3", "nan", "NaN", "inf", "1e999999999", "two", "", "1/2"])
def test_marks_that_the_answer_does_not_give_are_told_and_nothing_changes(folder: Path, marks: str) -> None:
    code = sheet_of(folder).code
    line = f"{code}: [marks-out-of-range] expected whole or half marks from 0 to 3 for 1a, found {marks}"
    assert told(folder, code, "1a", marks) == line
    with open_class(folder).record() as record:
        assert record.moderations(TASK) == {}


def test_an_unknown_sheet_answer_or_unmarked_answer_is_told(folder: Path) -> None:
    sheets = sheets_of(folder)
    remedy = "the code stands at the head of the sheet, and in the in-tray"
    no_sheet = f"CLASS: [no-sheet] expected a sheet code or a student's code of this class, found AAAA-AAAA; {remedy}"
    assert told(folder, "AAAA-AAAA", "1a", "1") == no_sheet
    line = told(folder, sheets["HB01"].code, "9z", "1")
    assert line.startswith(f"{sheets['HB01'].code}: [no-answer] expected one of 1a A_s, 1a, 1b A_p, 1b, 1c, ")
    assert "[not-marked]" in told(folder, sheets["HB02"].code, "1a", "1")


@pytest.mark.parametrize(("who", "why"), [("", "working shown"), ("K. Dekker", " ")])
def test_without_a_name_or_a_reason_no_mark_changes(folder: Path, who: str, why: str) -> None:
    assert "[no-reason]" in told(folder, sheet_of(folder).code, "1a", "1", who, why)
