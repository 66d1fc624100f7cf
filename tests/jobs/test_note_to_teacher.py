"""A student's note to the teacher: kept as it was typed, shown wherever a teacher looks, never marked, never lost."""

import io
import json
import shutil
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from jobs.copied import issued_class
from jobs.small_class import LATER, STUDENTS, TASK, hand_in, right_answers, sheets_of
from programs import convert
from witnessmark.cli.main import main
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.jobs.listing_returns import list_returns
from witnessmark.jobs.marking import Marked, mark
from witnessmark.questions.sheet.answer_places import answer_places, note_row
from witnessmark.questions.sheet.class_table_columns import NOTE_HEADING, PAGE

WORDS = "The 7 in the drawing was smudged.\n=1+1 <b>sorry</b> & thanks"
ONE_LINE = "The 7 in the drawing was smudged. =1+1 <b>sorry</b> & thanks"


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class whose task was issued; not to be changed."""
    return issued_class(tmp_path_factory.mktemp("note") / "class")


@pytest.fixture
def folder(issued: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(issued, tmp_path / "class")
    return tmp_path / "class"


def with_note(folder: Path, code: str, words: str, name: str = "") -> Path:
    """A student's book, all of it right, with a note."""
    sheet = sheets_of(folder)[code]
    path = hand_in(folder, sheet, right_answers(sheet), name)
    book = openpyxl.load_workbook(path)
    book["Answers"][f"C{note_row(answer_places(sheet))}"] = words
    book["Answers"][f"C{note_row(answer_places(sheet))}"].data_type = "s"
    book.save(path)
    return path


def said(*command: str | Path) -> str:
    """What a command prints."""
    done = CliRunner().invoke(main, [str(part) for part in command])
    assert done.exit_code == 0, done.output
    return done.output


def written(command: str, folder: Path, file: Path, *more: str) -> str:
    """What a command writes into a file."""
    said(command, folder, file, *more)
    return file.read_text(encoding="utf-8")


def marks(done: Marked, code: str) -> list[tuple[str, str, str]]:
    """Label, verdict and marks of every answer of a student."""
    sheet = next(s for s in done.sheets.values() if s.student.code == code)
    return [(key, str(o.verdict), str(o.marks)) for key, o in done.outcomes[sheet.code].items()]


def test_a_note_changes_no_mark_and_makes_nothing_wait(folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    shutil.copytree(folder, other)
    sheet = sheets_of(other)["HB01"]
    hand_in(other, sheet, right_answers(sheet))
    with_note(folder, "HB01", "1.25 kN")
    plain, noted = mark(other, TASK, LATER), mark(folder, TASK, LATER)
    assert marks(plain, "HB01") == marks(noted, "HB01")
    assert noted.problems == () == plain.problems
    assert noted.in_tray == plain.in_tray
    assert [note.words for note in noted.words] == ["1.25 kN"]


def test_the_teacher_meets_a_note_in_every_place_where_answers_are_looked_at(folder: Path) -> None:
    with_note(folder, "HB01", WORDS)
    code = sheets_of(folder)["HB01"].code
    told = said("mark", folder, TASK)
    assert f"Written to you:\n  HB01, {code}: {ONE_LINE}\n" in told
    assert f"wrote to you   {ONE_LINE}\n" in said("explain", folder, code, "1a")
    assert json.loads(said("explain", folder, code, "1a", "--json"))["notes"] == [WORDS]
    assert f"the student wrote: {ONE_LINE}\n" in said("history", folder, "HB01")
    assert "the student wrote" not in said("history", folder, "HB01", "1a")
    assert f"wrote: {ONE_LINE}\n" in said("returns", folder, TASK)
    said("review", folder, TASK)
    page = (folder / f"review-{TASK}.html").read_text(encoding="utf-8")
    assert "What students wrote to you" in page
    assert "&lt;b&gt;sorry&lt;/b&gt; &amp; thanks" in page
    data = json.loads((folder / f"review-{TASK}.json").read_text(encoding="utf-8"))
    assert data["notes"] == [{"sheet_code": code, "student": "HB01", "words": WORDS}]
    said("return", folder, TASK)
    rows = list(openpyxl.load_workbook(folder / f"gradebook-{TASK}.xlsx")["Notes"].values)
    assert rows[1][0] == "HB01"
    assert rows[1][4] == WORDS
    assert len(rows) == 2


@pytest.mark.parametrize("suffix", [".ods", ".xlsx"])
def test_a_note_comes_back_from_another_program_as_it_was_typed(
    folder: Path, soffice: Path, tmp_path: Path, suffix: str
) -> None:
    book = with_note(folder, "HB01", WORDS)
    saved = convert(soffice, book, suffix, tmp_path)
    book.unlink()
    shutil.copy(saved, book.with_suffix(suffix))
    done = mark(folder, TASK, LATER)
    assert [(n.words, n.entry.note) for n in done.words] == [(WORDS, "")]
    assert done.problems == ()


def test_a_second_note_stands_beside_the_first_and_no_answer_waits_for_it(folder: Path) -> None:
    with_note(folder, "HB01", "first")
    mark(folder, TASK, LATER)
    with_note(folder, "HB01", "second", "again.xlsx")
    done = mark(folder, TASK, LATER)
    assert [note.words for note in done.words] == ["first", "second"]
    assert done.differences == ()
    assert done.added == 0
    with_note(folder, "HB01", "first", "HB01.xlsx")
    assert [note.words for note in mark(folder, TASK, LATER).words] == ["first", "second"]


def test_a_row_of_a_class_table_with_nothing_but_a_note_hands_nothing_in(folder: Path, tmp_path: Path) -> None:
    table = folder / "issued" / TASK / "class-table.xlsx"
    book = openpyxl.load_workbook(table)
    page = book[PAGE]
    headings = {str(cell.value): number for number, cell in enumerate(page[1], 1)}
    assert list(headings)[-1] == NOTE_HEADING
    page.cell(3, headings[NOTE_HEADING]).value = "ill since Monday"
    page.cell(4, headings[NOTE_HEADING]).value = "by telephone"
    page.cell(4, headings["1a"]).value = "1 kN"
    filled = tmp_path / "filled.xlsx"
    book.save(filled)
    done = mark(folder, TASK, LATER, filled)
    by_student = {sheet.student.code: code for code, sheet in done.sheets.items()}
    first, second = STUDENTS[0][0], STUDENTS[1][0]
    assert {(n.sheet, n.words) for n in done.words} == {
        (by_student[first], "ill since Monday"), (by_student[second], "by telephone"),
    }  # fmt: skip
    assert by_student[first] not in done.outcomes
    assert by_student[second] in done.outcomes
    assert list_returns(folder, TASK, LATER).states[first].value == "not returned"
    assert done.problems == ()


def test_a_book_that_has_no_place_for_a_note_is_taken_in_without_a_word(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    path = hand_in(folder, sheet, right_answers(sheet))
    book = openpyxl.load_workbook(path)
    book["Answers"].unmerge_cells(f"C{note_row(answer_places(sheet))}:E{note_row(answer_places(sheet))}")
    book["Answers"].delete_rows(note_row(answer_places(sheet)))
    del book.defined_names["note_to_teacher"]
    book.save(path)
    done = mark(folder, TASK, LATER)
    assert done.problems == ()
    assert done.words == ()
    assert sheet.code in done.outcomes


def test_a_note_is_found_when_rows_moved_and_when_its_label_is_gone(folder: Path) -> None:
    sheets = sheets_of(folder)
    for code, change in (("HB01", "moved"), ("HB02", "unlabelled")):
        book = openpyxl.load_workbook(io.BytesIO(answer_book(sheets[code], {"note": (change, "")})))
        page, row = book["Answers"], note_row(answer_places(sheets[code]))
        if change == "moved":
            page.unmerge_cells(f"C{row}:E{row}")
            page.move_range(f"A{row}:E{row}", rows=3)
        else:
            page[f"A{row}"] = None
        path = folder / "returned" / TASK / f"{code}.xlsx"
        path.parent.mkdir(parents=True, exist_ok=True)
        book.save(path)
    done = mark(folder, TASK, LATER)
    assert [note.words for note in done.words] == ["moved", "unlabelled"]


def test_a_note_goes_with_its_student_and_stays_where_another_is_named(folder: Path, tmp_path: Path) -> None:
    with_note(folder, "HB01", "Oona Brisk helped me")
    with_note(folder, "HB02", "I helped Idris")
    mark(folder, TASK, LATER)
    exported = written("export", folder, tmp_path / "hb02.jsonl", "--student", "HB02")
    assert "I helped Idris" in exported
    assert "helped me" not in exported
    told = said("remove", folder, "HB02", "--apply", "--who", "Teacher")
    assert f"what HB01 wrote with {TASK} names the student; it stays" in told
    left = written("export", folder, tmp_path / "all.jsonl")
    assert "I helped Idris" not in left
    assert "Oona Brisk helped me" in left
