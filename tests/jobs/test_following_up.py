"""Follow-up sheets: who gets one, what it is aimed at, and that it is marked and tracked like a task."""

import csv
import re
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from documents.pages import Page, words_of_pdf
from jobs.copied import copied
from jobs.small_class import LATER
from jobs.teaching_class import EDGE, FACE, hand_in_all, taught, teaching_class
from programs import worked_out
from witnessmark.cli.main import main
from witnessmark.files.bank.derived_text import NOTHING_WRONG
from witnessmark.jobs.follow_up_rounds import rounds_of
from witnessmark.jobs.following_up import FollowedUp, follow_up
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.opened_year import open_year
from witnessmark.marking.marker import mark
from witnessmark.maths.quantities import from_si
from witnessmark.questions.model.parts import ChoicePart
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.review.year.wrong_working import distance, worked_wrong

TASK = "shear-1-follow-up"
WAY_ROUND = "circumference-for-area"
"""A length where an area is asked: no working of it can be shown to the end."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of six, of whom three hold something."""
    return copied(taught, tmp_path_factory.mktemp("follow-up") / "class")


@pytest.fixture(scope="module")
def done(folder: Path) -> FollowedUp:
    """The follow-up of its task."""
    return follow_up(folder, "shear-1", LATER)


def test_whoever_showed_something_gets_a_sheet_aimed_at_it_and_nobody_else(done: FollowedUp) -> None:
    assert {student: set(keys) for student, keys in done.aims.items()} == {
        "HB00": {FACE, EDGE}, "HB02": {FACE}, "LB01": {FACE},
    }  # fmt: skip
    assert not done.left
    assert not done.faults


def test_the_other_persons_working_is_what_the_students_own_method_gives(done: FollowedUp) -> None:
    for sheet in done.new:
        for one in rounds_of(sheet):
            assert one.fault is not None
            told, part = one.fault.told, one.wrong.part
            _, values = worked_wrong(told, one.wrong)
            number = f"{from_si(values[part.key], part.unit):.6g} {part.unit}"
            assert one.wrong.slip.misconception in mark(told, {part.key: number})[part.key].misconceptions


def test_whoever_finds_nothing_wrong_is_seen_to_work_so(done: FollowedUp) -> None:
    fault = done.new[0].variants[0]
    part = fault.question.parts[0]
    assert isinstance(part, ChoicePart)
    options = [option.text for option in listed_options(fault, part)]
    assert len(options) == len(set(options)) == 4
    nothing = mark(fault, {"a": letter_of(options.index(NOTHING_WRONG))})["a"]
    assert nothing.misconceptions == (rounds_of(done.new[0])[0].wrong.slip.misconception,)
    right = next(option.text for option in part.options if option.right)
    assert mark(fault, {"a": letter_of(options.index(right))})["a"].marks == 1


def test_the_third_question_has_the_numbers_that_part_right_from_wrong_most(done: FollowedUp) -> None:
    for sheet in done.new:
        for one in rounds_of(sheet):
            assert distance(one.apart, one.wrong) >= distance(one.plain, one.wrong)
            assert len({v.identity for v in (one.example, one.apart, one.plain)}) == 3


def test_the_sheet_shows_example_fault_and_two_questions_in_two_pages_a_misconception(
    folder: Path, done: FollowedUp
) -> None:
    page = Page((folder / "issued" / TASK / "pages" / "HB02.html").read_text(encoding="utf-8"))
    for told in ("An example: Punching a drain hole", "Find the fault", "Their working:", NOTHING_WRONG):
        assert told in page.words, told
    assert not page.words.count("steering")


def test_its_page_has_one_field_for_every_answer(folder: Path, done: FollowedUp) -> None:
    for sheet in done.new:
        page = folder / "issued" / TASK / "pages" / f"{sheet.student.code}.html"
        fields = dict.fromkeys(re.findall(r'data-key="([^"]+)"', page.read_text(encoding="utf-8")))
        assert list(fields) == [*(ask.key for ask in sheet.asks), "note"]


def test_who_works_to_a_number_of_another_kind_gets_all_but_the_fault_to_find(tmp_path: Path) -> None:
    made = teaching_class(tmp_path / "class", {"HB00": (WAY_ROUND,), "LB01": (WAY_ROUND,)})
    done = follow_up(made, "shear-1", LATER)
    assert (dict(done.aims), done.left) == ({"HB00": (WAY_ROUND,), "LB01": (WAY_ROUND,)}, ())
    (one,) = rounds_of(done.new[0])
    assert one.fault is None
    assert distance(one.apart, one.wrong) >= distance(one.plain, one.wrong)
    assert len({v.identity for v in (one.example, one.apart, one.plain)}) == 3
    page = Page((made / "issued" / TASK / "pages" / "HB00.html").read_text(encoding="utf-8"))
    assert "An example: " in page.words
    assert "Their working" not in page.words
    hand_in_all(made, done.new, {"LB01": (WAY_ROUND,)}, LATER + timedelta(weeks=2))
    way_round = next(r for r in open_year(made).recurrences if r.key == WAY_ROUND)
    assert set(way_round.still) == {"LB01"}


def test_it_is_marked_like_a_task_and_the_year_says_what_became_of_it(folder: Path, done: FollowedUp) -> None:
    again = follow_up(folder, "shear-1", LATER)
    assert (again.new, [s.code for s in again.before]) == ((), [s.code for s in done.new])
    hand_in_all(folder, done.new, {"HB02": (FACE,)}, LATER + timedelta(weeks=2))
    found = open_year(folder)
    assert [task.follows for task in found.year.tasks] == ["", "shear-1"]
    face = next(r for r in found.recurrences if r.key == FACE)
    assert set(face.still) == {"HB02"}
    with open_class(folder).record() as record:
        assert record.verify() == ()


def test_the_mark_book_counts_no_follow_up(folder: Path, done: FollowedUp) -> None:
    hand_in_all(folder, done.new, {}, LATER + timedelta(weeks=2))
    shown = CliRunner().invoke(main, ["mark-book", str(folder)])
    assert shown.exit_code == 0, shown.output
    assert shown.output.startswith("1 task, 6 students")
    heads, *rows = csv.reader((folder / "mark-book.csv").read_text(encoding="utf-8").splitlines())
    assert not [head for head in heads if TASK in head]
    assert all(0 <= float(row[-1]) <= 1 for row in rows if row[-1] and row[0] in done.aims)
    note = openpyxl.load_workbook(folder / "mark-book.xlsx")["Mark book"]["A2"].value
    assert "Follow-ups are left out" in str(note)


def test_in_its_gradebook_the_share_is_of_the_marks_of_each_sheet(
    folder: Path, done: FollowedUp, soffice: Path, tmp_path: Path
) -> None:
    hand_in_all(folder, done.new, {}, LATER + timedelta(weeks=2))
    shown = CliRunner().invoke(main, ["return", str(folder), TASK])
    assert shown.exit_code == 0, shown.output
    book = worked_out(soffice, folder / f"gradebook-{TASK}.xlsx", "xlsx", tmp_path)
    rows = list(openpyxl.load_workbook(book, data_only=True)["Summary"].iter_rows(min_row=3, values_only=True))
    heads = [str(head) for head in rows[2]]
    assert heads[3] == "1 each their own"
    out_of = {s.student.code: sum(p.marks for v in s.variants for p in v.question.parts) for s in done.new}
    shares = {row[0]: (row[heads.index("total")], row[heads.index("share")]) for row in rows[3:]}
    assert len(set(out_of.values())) > 1, "the sheets give different marks"
    for code, most in out_of.items():
        total, share = shares[code]
        assert share == pytest.approx(float(str(total)) / float(most)), code


def test_the_command_tells_who_got_what(folder: Path, done: FollowedUp) -> None:
    shown = CliRunner().invoke(main, ["follow-up", str(folder), "shear-1"])
    assert shown.exit_code == 0, shown.output
    assert f"HB02: {FACE}" in shown.output


def test_a_sheet_of_one_misconception_has_two_pages_and_begins_with_a_full_one(
    folder: Path, done: FollowedUp, tmp_path: Path
) -> None:
    assert done.files
    pages = words_of_pdf((folder / "issued" / TASK / "sheets" / "HB02.pdf").read_bytes(), tmp_path)
    assert len(pages) == 2
    for told in ("An example", "Worked", "Their working", "What is wrong with it?", "Letter"):
        assert told in pages[0], told


def test_who_showed_nothing_gets_a_harder_question_only_where_the_teacher_wants_it(tmp_path: Path) -> None:
    made = copied(taught, tmp_path / "class")
    first = CliRunner().invoke(main, ["follow-up", str(made), "shear-1"])
    assert "farther on" not in first.output
    done = CliRunner().invoke(main, ["follow-up", str(made), "shear-1", "--extension"])
    assert done.exit_code == 0, done.output
    assert all(f"  {code}: farther on\n" in done.output for code in ("LB03", "HB04", "LB05"))
    assert "3 sheets new, 3 before" in done.output
    with open_class(made).record() as record:
        sheets = {s.student.code: s for s in record.sheets(TASK)}
        set_before = {v.question.key for s in record.sheets("shear-1") for v in s.variants}
        hardest = max(v.question.level for s in record.sheets("shear-1") for v in s.variants)
        topics = {v.question.topic for s in record.sheets("shear-1") for v in s.variants}
    for code in ("LB03", "HB04", "LB05"):
        (variant,) = sheets[code].variants
        assert variant.question.key not in set_before
        assert variant.question.topic in topics
        assert variant.question.level >= hardest
    page = Page((made / "issued" / TASK / "pages" / "LB03.html").read_text(encoding="utf-8"))
    assert "Farther on" in page.words
    again = CliRunner().invoke(main, ["follow-up", str(made), "shear-1", "--extension"])
    assert "0 sheets new, 6 before" in again.output


def test_who_did_badly_or_handed_nothing_in_gets_nothing_farther_on(tmp_path: Path) -> None:
    made = copied(taught, tmp_path / "class")
    with open_class(made).record() as record:
        sheet = next(s for s in record.sheets("shear-1") if s.student.code == "LB03")
        for ask in sheet.asks:
            if ask.line is None:
                record.moderate(sheet.code, ask.key, Decimal(0), "K. Lund", "copied", LATER)
    done = follow_up(made, "shear-1", LATER, extension=True)
    assert {student for student, aims in done.aims.items() if not aims} == {"HB04", "LB05"}
