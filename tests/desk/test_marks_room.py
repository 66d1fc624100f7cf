"""The rooms after deciding: marks and their history, feedback, review, a student's own page, the year."""

from collections.abc import Callable
from pathlib import Path

import pytest

from desk.conftest import KLASS, NO_METHOD
from desk.open_desk import WHO, Visitor, form_to
from jobs.small_class import LATER, TASK, sheets_of
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class

AtDesk = Callable[[Path], Visitor]
OF_TASK = f"/class/{KLASS}/task/{TASK}"


def mark_room(folder: Path, code: str = "LW01", ask: str = "1.a") -> str:
    return f"{OF_TASK}/mark/{sheets_of(folder)[code].code}/{ask}"


def test_every_mark_of_the_table_leads_to_its_room(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.look(f"{OF_TASK}/marks")
    links = [link for link in page.links if "/mark/" in link]
    with open_class(marked).record() as record:
        outcomes = record.outcomes(TASK)
    parts = sum(
        1 for sheet in sheets_of(marked).values() for ask in sheet.asks if not ask.line and sheet.code in outcomes
    )
    assert len(links) == parts
    assert at.look(links[0]).headings[0] == "One mark"


def test_a_mark_has_its_history_and_another_can_stand_in_its_place(marked: Path, at_desk: AtDesk) -> None:
    at, room = at_desk(marked), mark_room(marked)
    page = at.send(form_to(at.look(room), "/1.a"), marks="2", who=WHO, why="Right on paper")
    assert "a teacher gave 2 in the place of 0" in page.text
    assert "in the place of 0, " + WHO + ": Right on paper" in page.text
    assert "the sheet was issued" in page.text
    assert "the sheet was issued: issued" not in page.text
    back = at.send(form_to(page, "/1.a"), back="yes", who=WHO, why="Taken too soon")
    assert "the teacher's 2 was taken back; the machine's 0 stands" in back.text


def test_a_mark_changed_in_another_tab_is_not_taken_back_unseen(marked: Path, at_desk: AtDesk) -> None:
    at, room = at_desk(marked), mark_room(marked)
    at.send(form_to(at.look(room), "/1.a"), marks="2", who=WHO, why="Right on paper")
    stale = form_to(at.look(room), "/1.a")
    moderate(marked, sheets_of(marked)["LW01"].code, "1a", "1", "by the command", "P. Voss", LATER)
    assert "changed since" in at.send(stale, 422, back="yes", who=WHO, why="Back").text
    assert "changed since" in at.send(stale, 422, marks="3", who=WHO, why="More").text
    with open_class(marked).record() as record:
        assert f"{record.moderations(TASK)[sheets_of(marked)['LW01'].code]['1.a'].marks}" == "1"


def test_an_answer_that_is_not_there_is_said(marked: Path, at_desk: AtDesk) -> None:
    page = at_desk(marked).look(f"{OF_TASK}/mark/XXXX-XXXX/1.a", 422)
    assert "an answer that was marked" in page.text


def test_feedback_gradebook_and_review_are_written_and_opened(marked: Path, at_desk: AtDesk) -> None:
    at, room = at_desk(marked), f"{OF_TASK}/after"
    page = at.look(room)
    assert "3 answers still wait for you" in page.text
    done = at.send(form_to(page, "/after"), what="return")
    assert "feedback for 3 students" in done.text
    reviewed = at.send(form_to(page, "/after"), what="review")
    assert "3 of 4 came back" in reviewed.text
    links = [link for link in at.look(room).links if "/file/" in link]
    kinds = {at.get(link).headers["content-type"].split(";")[0] for link in links}
    assert {"application/pdf", "text/html"} < kinds
    assert len(links) == 5
    at.send(form_to(page, "/after"), 422, what="something else")


def test_a_students_page_has_all_that_was_set_sent_and_given(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.look(f"/class/{KLASS}/students/LW01")
    assert "Maren Tolk" in page.headings[0]
    assert NO_METHOD not in page.headings[0]
    assert "LW01.xlsx was taken in" in page.text
    assert any(link.endswith("/books/LW01.xlsx") for link in page.links)
    at.look(f"/class/{KLASS}/students/NOBODY", 422)


def test_the_year_is_reviewed_and_a_visit_prepared_and_kept(marked: Path, at_desk: AtDesk) -> None:
    at, room = at_desk(marked), f"/class/{KLASS}/year"
    done = at.send(form_to(at.look(room), "/year"), what="review")
    assert any(link.endswith("/file/year.html") for link in done.links)
    visits = next(form for form in at.look(room).forms if any(b[1] == "visits" for b in form.buttons))
    written = at.send(visits, what="visits", which="Low Wharf")
    assert any(link.endswith(".pdf") for link in written.links)
    at.send(form_to(at.look(room), "/visited"), whom="Low Wharf", who=WHO, note="Rolled the hole along a ruler")
    with open_class(marked).record() as record:
        assert {visit.student for visit in record.visits()} == {"LW01", "LW02"}


@pytest.mark.parametrize("name", ["../away", "a b", ""])
def test_a_proposed_task_has_a_name_that_can_be_a_file(marked: Path, at_desk: AtDesk, name: str) -> None:
    at = at_desk(marked)
    form = at.look(f"/class/{KLASS}/year").forms[-1]
    done = at.send(form, what="plan", name=name, minutes="30")
    assert "small letters" in done.text
    assert sorted(path.name for path in (marked / "tasks").glob("*.yaml")) == [f"{TASK}.yaml"]
