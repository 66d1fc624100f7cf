"""A gradebook is filled in, read back, shown, applied; what cannot be is refused by its cell."""

import shutil
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jobs.moderation_books import Typed, cell_of, fill
from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of, small_class, write_task
from programs import convert, worked_out
from witnessmark.cli.main import main
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback

pytestmark = pytest.mark.usefixtures("a_second_apart")

D = Decimal
BOOK = f"gradebook-{TASK}.xlsx"
HAND = "2d"
WHO = ("--who", "K. Lund")
OWN, WHY, SAY = "your mark", "your reason", "for the student"


@pytest.fixture(scope="module")
def returned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class with two marked apprentices, one part marked by hand, and its gradebook; not to be changed."""
    folder = small_class(tmp_path_factory.mktemp("file") / "class")
    write_task(folder, "[drain-hole, copper-rivets]")
    issue(folder, TASK, NOW)
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]) | {"1.a": "2 kN"})
    hand_in(folder, sheets["LW01"], right_answers(sheets["LW01"]))
    mark(folder, TASK, LATER)
    return_feedback(folder, TASK, LATER)
    return folder


@pytest.fixture
def folder(returned: Path, tmp_path: Path) -> Path:
    """That class, to be changed."""
    shutil.copytree(returned, tmp_path / "class")
    return tmp_path / "class"


def run(*arguments: str | Path) -> Result:
    """One command."""
    return CliRunner().invoke(main, [str(a) for a in arguments])


def standing(folder: Path, student: str, key: str) -> Decimal:
    """The mark that stands."""
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)
    return found[sheets_of(folder)[student].code][key].marks


def told(text: str, folder: Path) -> str:
    return text.replace(str(folder), "CLASS")


def test_what_a_gradebook_would_change_is_shown_with_names_and_nothing_is_written(folder: Path) -> None:
    fill(folder / BOOK, {("HB01", "1a"): {OWN: "1½", WHY: "area right on paper", SAY: "Check the last line"}})
    before = (folder / "record.db").read_bytes()
    done = run("moderate", folder, folder / BOOK)
    assert done.exit_code == 0, done.output
    assert (
        '  HB01     Idris Vael, 1a: 0 -> 1.5 of 3: area right on paper; the student reads: "Check the last line"'
        in (done.output)
    )
    assert "nothing is written without --apply" in done.output
    assert (folder / "record.db").read_bytes() == before


def test_it_is_given_as_one_step_told_as_stale_and_taken_back_as_one(folder: Path) -> None:
    fill(folder / BOOK, {
        ("HB01", "1a"): {OWN: 1.5, WHY: "area right on paper", SAY: "Check the last line"},
        ("LW01", "1b"): {OWN: 0.5, WHY: "=not shown"},
    })  # fmt: skip
    done = run("moderate", folder, folder / BOOK, "--apply", *WHO)
    assert done.exit_code == 0, done.output
    assert (standing(folder, "HB01", "1.a"), standing(folder, "LW01", "1.b")) == (D("1.5"), D("0.5"))
    for name in (f"feedback/{TASK}/HB01.pdf", f"feedback/{TASK}/LW01.pdf", BOOK):
        assert f"  CLASS/{name}" in told(done.output, folder)
    again = run("moderate", folder, folder / BOOK, "--apply", *WHO)
    assert (again.exit_code, "no marks given" in again.output) == (0, True)
    back = run("undo", folder, "--why", "the wrong class", *WHO)
    assert "Taken back: moderate" in back.output
    assert f"  CLASS/{BOOK}" in told(back.output, folder)
    assert (standing(folder, "HB01", "1.a"), standing(folder, "LW01", "1.b")) == (D(0), D(2))


def test_a_cell_that_cannot_be_is_refused_by_its_place_and_the_others_are_given(folder: Path) -> None:
    book = fill(folder / BOOK, {
        ("HB01", "1a"): {OWN: 4, WHY: "more than there is"},
        ("HB01", "1b"): {OWN: "0.3", WHY: "no such step"},
        ("HB01", "1c"): {OWN: 0},
        ("HB01", "2a"): {WHY: "words alone"},
        ("LW01", "1a"): {OWN: "½", WHY: "as agreed"},
        ("LW01", "1b"): {"marks": 0},
    })  # fmt: skip
    done = run("moderate", folder, book, "--apply", *WHO)
    assert done.exit_code == 1
    refused = {
        ("HB01", "1a", OWN): "[marks-out-of-range] expected whole or half marks from 0 to 3 for 1a, found '4'",
        ("HB01", "1b", OWN): "[marks-out-of-range]",
        ("HB01", "1c", WHY): "[no-reason]",
        ("HB01", "2a", OWN): "[no-mark]",
        ("LW01", "1b", OWN): "[typed-over] expected 2 under 'marks', as it was written, found '0'",
    }
    for where, what in refused.items():
        assert f"{book}!{cell_of(book, *where)[0]}: {what}" in done.output
    assert (standing(folder, "LW01", "1.a"), standing(folder, "HB01", "1.a")) == (D("0.5"), D(0))
    assert "5 cells refused" in done.output


def test_a_mark_that_changed_since_is_refused_and_an_untouched_row_is_not_asked_about(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    assert run("moderate", folder, code, "1a", "--marks", "2", "--why", "seen", *WHO).exit_code == 0
    assert run("moderate", folder, code, "1b", "--marks", "1", "--why", "seen", *WHO).exit_code == 0
    book = fill(folder / BOOK, {("HB01", "1a"): {OWN: 1, WHY: "too much"}})
    done = run("moderate", folder, book, "--apply", *WHO)
    assert done.exit_code == 1
    place = cell_of(book, "HB01", "1a", OWN)[0]
    assert f"{place}: [stale] expected an answer as it was when the gradebook was written (0), found one that has" in (
        done.output
    )
    assert done.output.count("[") == 1
    assert standing(folder, "HB01", "1.a") == D(2)


def test_rows_of_another_task_an_unknown_sheet_or_answer_are_refused(folder: Path) -> None:
    write_task(folder, "[drain-hole]", key="shear-2")
    issue(folder, "shear-2", NOW)
    other = sheets_of(folder, "shear-2")["HB01"].code
    book = fill(folder / BOOK, {
        ("HB01", "1a"): {"sheet code": other, OWN: 1, WHY: "x"},
        ("HB01", "1b"): {"sheet code": "no code", OWN: 1, WHY: "x"},
        ("HB01", "1c"): {"part": "9z", OWN: 1, WHY: "x"},
    })  # fmt: skip
    done = run("moderate", folder, book, "--apply", "--task", TASK, *WHO)
    assert done.exit_code == 1
    assert "[wrong-sheet-code]" in done.output
    assert "[no-answer]" in done.output
    assert "[unknown-sheet]" in done.output
    untold = run("moderate", folder, book)
    assert "[other-task]" in untold.output


def test_a_workbook_without_the_pages_of_marks_is_told(folder: Path) -> None:
    done = run("moderate", folder, folder / "issued" / TASK / "books" / "HB01.xlsx")
    assert done.exit_code == 1
    assert "[no-marks-page] expected a page with the headings part, your mark and " in done.stderr
    assert "take the gradebook of the class" in done.stderr


def test_a_mark_beside_no_label_is_told_by_its_cell(folder: Path) -> None:
    book = fill(folder / BOOK, {("HB01", "1a"): {OWN: 1, WHY: "seen", "part": None}})
    done = run("moderate", folder, book)
    assert done.exit_code == 1
    assert "[no-answer] expected the label of an answer under 'part', found none; the row was not read" in done.stderr


def test_parts_marked_by_hand_have_a_page_with_their_criteria(folder: Path) -> None:
    page = f"Hand {HAND}"
    _, shown = cell_of(folder / BOOK, "HB01", HAND, OWN)
    assert shown == f"type it on the page {page}"
    with open_class(folder).record() as record:
        part = next(a.part for a in record.sheets(TASK)[0].asks if a.label == HAND)
    heads = [f"{name} ({marks:f})" for name, marks in part.criteria]  # type: ignore[union-attr]
    full = dict(zip(heads, (float(marks) for _, marks in part.criteria), strict=True))  # type: ignore[union-attr]
    half = full | {heads[0]: "½"}
    book = fill(folder / BOOK, {("HB01", HAND): half, ("LW01", HAND): {heads[0]: 9}}, page)
    done = run("moderate", folder, book, "--apply", *WHO)
    assert done.exit_code == 1
    most = part.marks
    first = part.criteria[0][1]  # type: ignore[union-attr]
    assert standing(folder, "HB01", f"2.{HAND[1]}") == most - first + D("0.5")
    assert f"{cell_of(book, 'LW01', HAND, heads[0], page)[0]}: [marks-out-of-range]" in done.output
    fresh = return_feedback(folder, TASK, LATER + timedelta(days=2)).gradebook
    assert cell_of(fresh, "HB01", HAND, heads[0], page)[1] == 0.5
    assert run("moderate", folder, fresh).exit_code == 0


def test_halves_typed_as_they_are_printed_count_in_the_sum_of_the_criteria(
    folder: Path, tmp_path: Path, soffice: Path
) -> None:
    with open_class(folder).record() as record:
        part = next(a.part for a in record.sheets(TASK)[0].asks if a.label == HAND)
    heads = [f"{name} ({marks:f})" for name, marks in part.criteria]  # type: ignore[union-attr]
    typed: Typed = {("HB01", HAND): {heads[0]: "1½", heads[1]: "½"}, ("LW01", HAND): {heads[0]: "½", heads[1]: 1.5}}
    book = fill(folder / BOOK, typed, f"Hand {HAND}")
    worked = worked_out(soffice, book, "xlsx", tmp_path / "again")
    assert [cell_of(worked, who, HAND, OWN, f"Hand {HAND}")[1] for who in ("HB01", "LW01")] == [2, 2]


def test_a_student_code_and_a_label_name_an_answer(folder: Path) -> None:
    done = run("moderate", folder, "hb01", "1a", "--marks", "1½", "--why", "seen", "--say", "Well drawn", *WHO)
    assert done.exit_code == 0, done.output
    assert standing(folder, "HB01", "1.a") == D("1.5")
    write_task(folder, "[drain-hole]", key="shear-2")
    issue(folder, "shear-2", NOW)
    several = run("moderate", folder, "HB01", "1a", "--marks", "1", "--why", "seen", *WHO)
    assert "[several-sheets]" in several.output
    one = run("moderate", folder, "HB01", "1a", "--marks", "1", "--why", "seen", "--task", TASK, *WHO)
    assert one.exit_code == 0, one.output
    wrong = run("moderate", folder, sheets_of(folder)["HB01"].code, "1a", "--marks", "1", "--why", "x", "--task",
                "shear-2", *WHO)  # fmt: skip
    assert "[other-task]" in wrong.output


def test_a_gradebook_that_was_typed_into_stays_until_it_was_read(folder: Path) -> None:
    book = fill(folder / BOOK, {("HB01", "1a"): {OWN: 1, WHY: "seen"}})
    typed = book.read_bytes()
    kept = run("return", folder, TASK)
    assert book.read_bytes() == typed
    assert f"kept, since you typed into it, CLASS/{BOOK}: fresh as CLASS/gradebook-{TASK} (2).xlsx" in told(
        kept.output, folder
    )
    assert kept.output.index("still wait for you") < kept.output.index("feedback sheet")
    run("moderate", folder, book, "--apply", *WHO)
    run("return", folder, TASK)
    assert book.read_bytes() != typed
    assert cell_of(book, "HB01", "1a", OWN)[1] == 1


def test_a_mark_that_is_emptied_is_taken_back(folder: Path) -> None:
    run("moderate", folder, "HB01", "1a", "--marks", "1", "--why", "seen", *WHO)
    run("return", folder, TASK)
    book = fill(folder / BOOK, {("HB01", "1a"): {OWN: None, WHY: "seen again"}})
    done = run("moderate", folder, book, "--apply", *WHO)
    assert "1 -> 0 of 3 (your mark is taken back): seen again" in done.output
    assert standing(folder, "HB01", "1.a") == D(0)


def test_a_gradebook_saved_by_libreoffice_is_read_back_as_it_was_typed(
    returned: Path, tmp_path: Path, soffice: Path
) -> None:
    """As xlsx and as ods; what nobody touched is no change."""
    for suffix in ("xlsx", "ods"):
        folder = tmp_path / f"class-{suffix}"
        shutil.copytree(returned, folder)
        (tmp_path / f"{suffix}-saved").mkdir(exist_ok=True)
        untouched = convert(soffice, folder / BOOK, suffix, tmp_path / f"{suffix}-saved")
        assert "no marks would be given" in run("moderate", folder, untouched).output
        typed = {OWN: "1½", WHY: "=area right\non paper", SAY: "Two lines\nfor you"}
        fill(folder / BOOK, {("HB01", "1a"): typed, ("LW01", "1b"): {OWN: 0.5, WHY: "not shown"}})
        saved = convert(soffice, folder / BOOK, suffix, tmp_path / f"{suffix}-saved")
        done = run("moderate", folder, saved, "--apply", *WHO)
        assert done.exit_code == 0, done.output
        with open_class(folder).record() as record:
            mine = record.moderations(TASK)[sheets_of(folder)["HB01"].code]["1.a"]
        assert (mine.marks, mine.why, mine.say) == (D("1.5"), "=area right\non paper", "Two lines\nfor you")
        assert standing(folder, "LW01", "1.b") == D("0.5")
        assert "no marks given" in run("moderate", folder, saved, "--apply", *WHO).output
