"""The jobs `return` and `review`: feedback for all who handed in, the gradebook, the review; `remove` takes one out."""

import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from jobs.copied import issued_class
from jobs.small_class import (
    LATER,
    NOW,
    STUDENTS,
    TASK,
    contents,
    hand_in,
    record_lines,
    right_answers,
    sheets_of,
    small_class,
)
from witnessmark.files.class_folder.students_csv import read_students
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.removing import remove
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.words.errors import ProblemsFound


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class with three returned books, marked; not to be changed."""
    folder = issued_class(tmp_path_factory.mktemp("return") / "class")
    sheets = sheets_of(folder)
    face = sheets["HB02"].variants[0].slips["a"]["face-area-for-sheared-edge"].to("kilonewton").magnitude
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    hand_in(folder, sheets["HB02"], right_answers(sheets["HB02"]) | {"1.a": f"{face:.4g} kN"})
    hand_in(folder, sheets["LW01"], right_answers(sheets["LW01"]) | {"1.a": "87.654 kN", "2.a": "see over"})
    mark(folder, TASK, NOW)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def cells_of(book: Path) -> list[object]:
    """Every value of a workbook."""
    pages = openpyxl.load_workbook(book).worksheets
    return [cell.value for page in pages for row in page.iter_rows() for cell in row if cell.value is not None]


def test_feedback_is_written_for_those_who_handed_in_and_the_gradebook_for_all(folder: Path) -> None:
    done = return_feedback(folder, TASK, LATER)
    assert sorted(p.name for p in done.feedback.iterdir()) == ["HB01.pdf", "HB02.pdf", "LW01.pdf"]
    assert all(p.read_bytes().startswith(b"%PDF") for p in done.feedback.iterdir())
    values = cells_of(done.gradebook)
    assert {code for code, _, _ in STUDENTS} <= set(map(str, values))


def test_returning_twice_writes_the_same_bytes(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    before = contents(folder)
    return_feedback(folder, TASK, LATER)
    assert contents(folder) == before


def test_a_moderated_mark_shows_in_the_gradebook_and_in_the_feedback(folder: Path) -> None:
    before = return_feedback(folder, TASK, LATER)
    book, page = before.gradebook.read_bytes(), (before.feedback / "LW01.pdf").read_bytes()
    moderate(folder, sheets_of(folder)["LW01"].code, "1a", "2.5", "working shown", "K. Dekker", LATER)
    after = return_feedback(folder, TASK, LATER)
    assert (after.feedback / "LW01.pdf").read_bytes() != page
    assert after.gradebook.read_bytes() != book
    assert "K. Dekker" in " ".join(map(str, cells_of(after.gradebook)))


@pytest.mark.parametrize("job", [return_feedback, lambda folder, task, now: review(folder, task)])
def test_before_anything_was_issued_that_is_said(tmp_path: Path, job: object) -> None:
    assert callable(job)
    with pytest.raises(ProblemsFound) as raised:
        job(small_class(tmp_path / "new"), TASK, NOW)
    (problem,) = raised.value.problems
    assert problem.code in ("not-marked", "not-issued")
    assert problem.remedy.startswith("witnessmark ")
    assert not (tmp_path / "new" / "feedback").exists()


def test_before_anything_was_marked_there_is_no_feedback(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "new")
    issue(folder, TASK, NOW)
    with pytest.raises(ProblemsFound) as raised:
        return_feedback(folder, TASK, LATER)
    assert [p.code for p in raised.value.problems] == ["not-marked"]
    assert review(folder, TASK).review.returned == 0


def test_the_review_counts_what_recurs_what_was_hard_and_what_waits(folder: Path) -> None:
    found = review(folder, TASK)
    data = json.loads(found.data.read_text(encoding="utf-8"))
    assert (found.review.issued, found.review.returned, found.review.outstanding) == (4, 3, ("LW02",))
    (recurrence,) = [r for r in found.review.recurrences if r.misconception.key == "face-area-for-sheared-edge"]
    assert recurrence.students == ("HB02",)
    assert recurrence.share == pytest.approx(1 / 3)
    assert {(item.student, item.label) for item in found.review.in_tray} >= {("LW01", "1a"), ("LW01", "2a")}
    by_label = {f.label: f for f in found.review.facilities}
    assert by_label["1b"].facility == 1
    assert 0 < (by_label["1a"].facility or 0) < 1
    assert data["returned"] == 3
    assert [row["misconception"]["key"] for row in data["recurrences"]] == [
        r.misconception.key for r in found.review.recurrences
    ]
    assert {row["out_of"] for row in data["facilities"]} <= {"0.5", "1", "1.5", "2", "3"}
    assert "<html" in found.page.read_text(encoding="utf-8")


def test_the_review_shows_the_teachers_mark_where_there_is_one(folder: Path) -> None:
    before = {f.label: f.facility for f in review(folder, TASK).review.facilities}["1a"]
    moderate(folder, sheets_of(folder)["LW01"].code, "1a", "3", "all shown", "K. Dekker", LATER)
    after = {f.label: f.facility for f in review(folder, TASK).review.facilities}["1a"]
    assert before is not None
    assert after == pytest.approx((2 * before + 1) / 3), "it waited, and was left out before"


# remove


def test_all_of_one_students_data_is_removed_and_nothing_of_the_others(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    review(folder, TASK)
    before = contents(folder)
    done = remove(folder, "HB02", "K. Dekker", LATER)
    after = contents(folder)
    gone = {p for p in before if "HB02" in p}
    assert gone
    assert not gone & after.keys()
    assert {p for p in before if "HB01" in p or "LW0" in p} <= after.keys()
    assert (done.student, done.sheets) == ("HB02", 1)
    assert "HB02" not in (folder / "students.csv").read_text(encoding="utf-8")
    assert "Oona" not in "".join(record_lines(folder)) + (folder / "students.csv").read_text(encoding="utf-8")
    assert b"Oona" not in (folder / "record.db").read_bytes()
    assert set(sheets_of(folder)) == {"HB01", "LW01", "LW02"}


LISTS = {
    "commas": b"code,name,group\nHB01,Idris Vael,Heron\nHB02,Oona Brisk,Heron\nLW01,Maren Tolk,Low\n",
    "semicolons, code last": b"name;group;code\r\nIdris;Heron;HB01\r\nOona Brisk;Heron;HB02\r\nMaren;Low;LW01\r\n",
    "quotes over two lines": (
        b"\xef\xbb\xbfcode,name,group\r\nHB01,Idris Vael,Heron\r\n"
        b'HB02,"Brisk, Oona\r\nthe second",Heron\r\nLW01,Maren Tolk,Low\r\n'
    ),
    "tabs in UTF-16 with remarks": (
        "code\tname\tgroup\nHB01\tIdris\tHeron\n# a remark\n\nHB02\tOona\tHeron\n# another\nLW01\tMaren\tLow"
    ).encode("utf-16"),
}


@pytest.mark.parametrize("data", LISTS.values(), ids=LISTS)
def test_the_line_of_the_student_goes_from_the_list_however_it_is_written(folder: Path, data: bytes) -> None:
    file = folder / "students.csv"
    file.write_bytes(data)
    remove(folder, "HB02", "K. Dekker", LATER)
    students, problems = read_students(file.read_bytes(), "students.csv")
    assert ([s.code for s in students], problems) == (["HB01", "LW01"], ())
    text = file.read_bytes().decode("utf-16" if data[:1] in b"\xff\xfe" else "utf-8-sig")
    assert "Oona" not in text
    assert "the second" not in text
    assert text.count("#") == data.decode("utf-16" if data[:1] in b"\xff\xfe" else "utf-8-sig").count("#")


def test_a_student_who_is_only_on_the_list_is_removed_too_and_an_unknown_one_is_told(folder: Path) -> None:
    (folder / "students.csv").write_text("code,name,group\nHB01,A,\nZZ09,New Comer,\n", encoding="utf-8")
    assert remove(folder, "ZZ09", "K. Dekker", LATER).sheets == 0
    assert "New Comer" not in (folder / "students.csv").read_text(encoding="utf-8")
    with pytest.raises(ProblemsFound) as raised:
        remove(folder, "QQ99", "K. Dekker", LATER)
    assert [p.code for p in raised.value.problems] == ["no-student"]


def test_who_removed_stays_in_the_journal_without_the_student(folder: Path) -> None:
    remove(folder, "HB02", "K. Dekker", LATER)
    with open_class(folder).record() as record:
        rows = record.journal()
    assert any(row.who == "K. Dekker" for row in rows)
    assert not any("HB02" in str(row) for row in rows)
    assert all(o.marks <= o.out_of for by in mark(folder, TASK, LATER).outcomes.values() for o in by.values())
