"""What is arranged for one student at the desk: as the commands do it, refused where it is stale, and taken back."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from desk.conftest import KLASS
from desk.open_desk import WHO, Visitor, form_to
from desk.page_reader import Form, Reader
from jobs.small_class import LATER, TASK, sheets_of
from witnessmark.jobs.arranging import extend
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.arranged import Arranged

AtDesk = Callable[[Path], Visitor]
ROOM = f"/class/{KLASS}/students/LW02"
DAY = date(2027, 3, 12)


def arranged(folder: Path) -> Arranged:
    with open_class(folder).record() as record:
        return record.arranged()


def form_for(page: Reader, what: str) -> Form:
    """The form that arranges one thing."""
    return next(form for form in page.forms if ("what", what) in form.fields)


def test_more_time_is_given_and_taken_back(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.send(form_for(at.look(ROOM), "extended"), day=DAY.isoformat(), who=WHO, why="the yard launches")
    assert "the yard launches" in page.text
    assert arranged(marked).is_extended(TASK, "LW02")
    at.send(form_for(page, "extended"), drop="yes", who=WHO, why="launched early")
    assert not arranged(marked).is_extended(TASK, "LW02")


def test_an_excuse_a_day_a_group_and_leaving_are_arranged(marked: Path, at_desk: AtDesk) -> None:
    at, sheet = at_desk(marked), sheets_of(marked)["LW02"].code

    def send(what: str, **typed: str) -> None:
        at.send(form_for(at.look(ROOM), what), named={"who": WHO, "why": "ill", **typed})

    send("excused")
    send("received", sheet=sheet, day=DAY.isoformat())
    send("group", group="Heron Boats")
    send("left", day=DAY.isoformat())
    stands = arranged(marked)
    assert stands.excuse(TASK, "LW02") == "absent"
    assert (stands.received(TASK, "LW02", sheet), stands.left("LW02")) == (DAY, DAY)
    assert stands.group("LW02", "") == "Heron Boats"


def test_an_arrangement_over_one_that_came_in_between_is_refused(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    form = form_for(at.look(ROOM), "extended")
    extend(marked, TASK, "LW02", DAY, Decision("P. Voss", "by the command", LATER))
    assert "arranged since" in at.send(form, 422, day="2027-04-01", who=WHO, why="more").text
    with open_class(marked).record() as record:
        assert record.arranged().due(TASK, "LW02", "", 1, None) == DAY


@pytest.mark.parametrize("typed", [
    {"what": "extended", "day": "soon"}, {"what": "extended", "day": ""}, {"what": "group", "group": " "},
    {"what": "excused", "as": "lazy"}, {"what": "anything"}, {"what": "left", "day": "2027-03-12", "why": ""},
])  # fmt: skip
def test_what_cannot_be_arranged_is_refused_and_nothing_is_kept(
    marked: Path, at_desk: AtDesk, typed: dict[str, str]
) -> None:
    at = at_desk(marked)
    named = {"who": WHO, "why": "ill", **typed}
    page = at.send(form_for(at.look(ROOM), "extended"), 422, named=named)
    assert "expected" in page.text
    assert arranged(marked).all == ()


def test_a_task_is_set_again_for_those_ticked(marked: Path, at_desk: AtDesk) -> None:
    at, of_task = at_desk(marked), f"/class/{KLASS}/task/{TASK}"
    form = form_to(at.look(of_task), "/again")
    assert "nobody" in at.send(form, 422, who=WHO, why="ill").text
    page = at.send(form, student=["LW02"], due="2027-04-01", who=WHO, why="was ill")
    assert "1 further sheet on fresh numbers" in page.text
    with open_class(marked).record() as record:
        assert [(s.student.code, s.attempt) for s in record.sheets(TASK) if s.attempt > 1] == [("LW02", 2)]
    for room in (of_task, ROOM):
        links = " ".join(at.look(room).links)
        for file in (f"{folder}/LW02{which}" for folder in ("sheets", "pages") for which in (".", ".attempt-2.")):
            assert file in links, f"{file} in {room}"


def test_a_student_is_removed_after_all_that_goes_was_listed(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    listed = at.send(form_to(at.look(f"/class/{KLASS}/students/LW01"), "/remove"))
    assert "issued/shear-1/sheets/LW01.pdf" in listed.text
    assert "LW01" in sheets_of(marked)
    done = at.send(form_to(listed, "/remove"), who=WHO)
    assert "LW01 is taken out of the class" in done.text
    assert "LW01" not in sheets_of(marked)
    assert "LW01" not in (marked / "students.csv").read_text(encoding="utf-8")
