"""The in-tray: one answer at a time, with what its mark rests on; a decision for all alike; none over another's."""

from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread

import pytest

from desk.conftest import KLASS, NO_METHOD, UNREADABLE
from desk.open_desk import WHO, Visitor, form_to
from jobs.small_class import LATER, NOW, TASK, contents, hand_in, sheets_of, small_class, write_students, write_task
from witnessmark.desk import app
from witnessmark.documents.gradebook.data import criteria_of
from witnessmark.files.safe.in_use import in_use
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.questions.model.parts import HandPart

AtDesk = Callable[[Path], Visitor]
TRAY = f"/class/{KLASS}/task/{TASK}/tray"


def given(folder: Path) -> dict[str, tuple[str, str]]:
    """The teacher's marks of 1a: mark and reason by student."""
    students = {sheet.code: code for code, sheet in sheets_of(folder).items()}
    with open_class(folder).record() as record:
        marks = record.moderations(TASK)
    return {students[code]: (f"{m['1.a'].marks}", m["1.a"].why) for code, m in marks.items() if "1.a" in m}


def place(folder: Path, code: str) -> str:
    return f"{TRAY}?at={sheets_of(folder)[code].code}+1.a"


def test_what_is_shown_is_what_a_decision_rests_on(marked: Path, at_desk: AtDesk) -> None:
    page = at_desk(marked).look(place(marked, "LW01"))
    sheet = sheets_of(marked)["LW01"]
    assert NO_METHOD in page.text
    assert "Why it waits" in page.text
    assert "no known method gives this number" in page.text
    assert sheet.code in page.text
    assert "is accepted" in page.text
    assert ("img", "alt") in page.tags


def test_a_mark_is_given_with_a_reason_and_the_next_is_shown(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    form = form_to(at.look(place(marked, "LW01")), "/tray")
    page = at.send(form, marks="1.5", who=WHO, why="The area on paper is right", say="Look at the edge once more")
    assert given(marked) == {"LW01": ("1.5", "The area on paper is right")}
    assert UNREADABLE in page.text
    assert page.forms[-1].data()["who"] == [WHO]


def test_one_decision_serves_all_that_are_alike_and_only_those(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.look(place(marked, "HB01"))
    assert "The same for 1 other that is alike" in page.text
    at.send(form_to(page, "/tray"), marks="0.5", who=WHO, why="The drawing came by post")
    assert given(marked) == dict.fromkeys(("HB01", "HB02"), ("0.5", "The drawing came by post"))


def test_who_is_unticked_is_left_for_later(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    at.send(form_to(at.look(place(marked, "HB01")), "/tray"), marks="0.5", who=WHO, why="Drawing", also=[])
    assert set(given(marked)) == {"HB01"}


def test_a_decision_while_something_else_writes_is_told_so_and_keeps_what_was_typed(
    marked: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(app, "PATIENCE_SECONDS", 0.1)
    at, begun, over = at_desk(marked), Event(), Event()
    form = form_to(at.look(place(marked, "LW01")), "/tray")

    def mark_meanwhile() -> None:
        with in_use(marked, "witnessmark mark"):
            begun.set()
            over.wait()

    other = Thread(target=mark_meanwhile)
    other.start()
    begun.wait()
    page = at.send(form, 422, marks="0.5", who=WHO, why="The area on paper is right")
    over.set()
    other.join()
    assert "in use by witnessmark mark" in page.text
    assert "wait until it is done, and try again" in page.text
    assert given(marked) == {}
    at.send(form_to(page, "/tray"))
    assert given(marked) == {"LW01": ("0.5", "The area on paper is right")}


def test_a_decision_over_one_made_meanwhile_is_shown_and_changes_nothing(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    form = form_to(at.look(place(marked, "LW01")), "/tray")
    moderate(marked, sheets_of(marked)["LW01"].code, "1a", "2", "by the command", "P. Voss", LATER)
    page = at.send(form, 422, marks="0.5", who=WHO, why="From the first tab")
    assert "2 of 3 now, by P. Voss: by the command" in page.text
    assert given(marked)["LW01"] == ("2", "by the command")


def test_of_several_alike_those_decided_meanwhile_stay(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    form = form_to(at.look(place(marked, "HB01")), "/tray")
    moderate(marked, sheets_of(marked)["HB02"].code, "1a", "2", "by the command", "P. Voss", LATER)
    page = at.send(form, 422, marks="0.5", who=WHO, why="Drawing")
    assert "1a of HB02" in page.text
    assert given(marked)["HB02"] == ("2", "by the command")


def test_a_mark_that_cannot_be_or_has_no_reason_is_refused_with_all_that_was_typed(
    marked: Path, at_desk: AtDesk
) -> None:
    at, before = at_desk(marked), contents(marked)
    form = form_to(at.look(place(marked, "LW01")), "/tray")
    for typed in ({"marks": "9", "why": "Too much"}, {"marks": "0.3", "why": "Odd"}, {"marks": "1", "why": " "}):
        page = at.send(form, 422, who=WHO, say="Kept", named=typed)
        assert page.forms[-1].data()["say"] == ["Kept"]
        assert NO_METHOD in page.text
    assert contents(marked) == before


def test_an_empty_tray_says_what_comes_next(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    while (page := at.look(TRAY)).forms:
        at.send(form_to(page, "/tray"), marks="1", who=WHO, why="Seen on paper")
    assert "Nothing waits" in page.text
    assert set(given(marked)) == {"HB01", "HB02", "LW01"}


def test_a_part_marked_by_hand_is_given_criterion_by_criterion(tmp_path: Path, at_desk: AtDesk) -> None:
    folder = small_class(tmp_path / KLASS)
    write_students(folder, [("A1", "Kim Dekker", "Quay Lane")])
    write_task(folder, "[copper-rivets]")
    issue(folder, TASK, NOW)
    (sheet,) = sheets_of(folder).values()
    ask = next(ask for ask in sheet.asks if isinstance(ask.part, HandPart))
    hand_in(folder, sheet, {ask.key: "a sketch on the back"})
    mark(folder, TASK, LATER)
    at, room = at_desk(folder), f"{TRAY}?at={sheet.code}+{ask.key}"
    form = form_to(at.look(room), "/tray")
    most = [marks for _words, marks in criteria_of(ask)]
    assert [name for name, _value in form.fields].count("criterion") == len(most)
    refused = at.send(form, 422, who=WHO, why="", criterion=["99", *["0"] * (len(most) - 1)])
    assert "whole or half marks from 0 to" in refused.text
    at.send(form, who=WHO, why="Seen on paper", criterion=[f"{marks}" for marks in most])
    with open_class(folder).record() as record:
        given = record.moderations(TASK)[sheet.code][ask.key]
    assert (given.marks, given.criteria) == (sum(most), tuple(most))
