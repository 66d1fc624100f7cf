"""The room where what was issued is put right: shown first, done as it was shown, and nothing done unseen."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import openpyxl

from desk.conftest import KLASS
from desk.open_desk import WHO, Visitor, form_to
from jobs.shared_class import DID_SO, SQUARE, shared_class
from jobs.small_class import LATER, TASK, sheets_of
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class

AtDesk = Callable[[Path], Visitor]
ROOM = f"/class/{KLASS}/task/{TASK}/put-right"
KEY, SAY = "square-for-round", "Look at the rim: it is a circle."


def marks_at(folder: Path, ask: str = "1.a") -> dict[str, str]:
    """The marks that stand at an answer, by student."""
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)
    return {code: f"{found[s.code][ask].marks}" for code, s in sheets_of(folder).items() if s.code in found}


def test_a_correction_is_shown_name_by_name_and_done_only_then(marked: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(marked), marks_at(marked)
    form = form_to(at.look(ROOM), "/correct")
    page = at.send(form, label="1a", changes="full marks for all")
    assert "Nothing is changed yet" in page.text
    assert all(name in page.text for name in ("Idris Vael", "Oona Brisk", "Maren Tolk"))
    assert marks_at(marked) == before
    done = at.send(form_to(page, "/correct"), who=WHO, why="The figure lacks a length")
    assert "6 answers are marked otherwise now" in done.text  # three students, the part and a step of it
    assert set(marks_at(marked).values()) == {"3"}
    back = at.send(form_to(at.look(f"/class/{KLASS}"), "/take-back"), who=WHO, why="Too soon")
    assert marks_at(marked) == before, back.text


def test_a_correction_over_marks_that_changed_since_is_shown_again_and_not_done(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.send(form_to(at.look(ROOM), "/correct"), label="1a", changes="full marks for all")
    moderate(marked, sheets_of(marked)["LW01"].code, "1a", "2", "by the command", "P. Voss", LATER)
    before = marks_at(marked)
    again = at.send(form_to(page, "/correct"), who=WHO, why="The figure lacks a length")
    assert "changed since, new or otherwise now: LW01 Maren Tolk, 1a, 1 row as it was shown is gone" in again.text
    assert marks_at(marked) == before
    at.send(form_to(again, "/correct"), who=WHO, why="The figure lacks a length")
    assert marks_at(marked) != before


def test_a_correction_that_cannot_be_is_refused_with_its_reason(marked: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(marked), marks_at(marked)
    form = form_to(at.look(ROOM), "/correct")
    assert "one of the list" in at.send(form, 422, label="1a", changes="").text
    assert "expected" in at.send(form, label="1a", changes="answer", text="tau * nothing_known").text
    assert "expected" in at.send(form, label="1a", changes="tolerance", text="five").text
    page = at.send(form, label="1a", changes="full marks for all")
    assert "expected" in at.send(form_to(page, "/correct"), who="", why="").text
    assert marks_at(marked) == before


def test_a_method_that_the_review_found_is_named_from_a_link_of_it(tmp_path: Path, at_desk: AtDesk) -> None:
    folder = shared_class(tmp_path / "home" / KLASS)
    at = at_desk(folder)
    after = f"/class/{KLASS}/task/{TASK}/after"
    reviewed = at.send(form_to(at.look(after), "/after"), what="review")
    link = next(link for link in reviewed.links if "/put-right?" in link)
    form = form_to(at.look(link), "/accept")
    assert dict(form.fields)["formula"] == SQUARE
    shown = at.send(form, key=KEY, keeps="1", say=SAY)
    assert all(code in shown.text for code in DID_SO)
    assert {marks_at(folder)[code] for code in DID_SO} == {"0"}
    done = at.send(form_to(shown, "/accept"), who=WHO, why="four went round a square")
    assert "4 answers are marked otherwise now" in done.text
    assert {marks_at(folder)[code] for code in DID_SO} == {"1"}
    dropped = at.send(form_to(at.look(ROOM), "/drop"))
    at.send(form_to(dropped, "/drop"), who=WHO, why="no, they measured")
    assert {marks_at(folder)[code] for code in DID_SO} == {"0"}


def test_a_second_teacher_marks_a_table_and_the_agreement_is_told(marked: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(marked), marks_at(marked)
    written = at.send(form_to(at.look(ROOM), "/second"), count="4")
    link = next(link for link in written.links if "second-marks" in link)
    book = openpyxl.load_workbook(BytesIO(at.get(link).content))
    sheet = book.active
    assert sheet is not None
    filled, column = 0, 0
    codes = {one.code for one in sheets_of(marked).values()}
    for number, row in enumerate(sheet.iter_rows(values_only=True), 1):
        texts = [str(value).casefold() for value in row]
        column = texts.index("marks") + 1 if "marks" in texts else column
        if str(row[0]) in codes:
            sheet.cell(number, column, 0)
            filled += 1
    sent = BytesIO()
    book.save(sent)
    form = form_to(at.look(ROOM), "/second-marks")
    page = at.send(form, 200, [("second.xlsx", sent.getvalue())], who="P. Voss", why="yearly sample")
    assert f"{filled} answers were marked twice" in page.text
    assert marks_at(marked) == before
    assert "a table" in at.send(form, 422, who="P. Voss", why="none").text
