"""The desk killed in the middle of an act and opened again: nothing is lost, nothing is done twice, and it says so."""

import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import httpx2
import pytest

from desk.conftest import KLASS, UNREADABLE
from desk.open_desk import WHO, File, form_to, visitor
from desk.page_reader import Form, Reader
from desk.served_desk import served
from desk.test_in_tray_room import given, place
from desk.test_taking_in_room import BACK, book
from jobs.small_class import TASK
from witnessmark.jobs.opened import open_class
from witnessmark.record.rows import Event

FILES_HALF_PUT, MARKS_HALF_STORED = "files-half-put", "marks-half-stored"
MARK_HALF_GIVEN, MARK_GIVEN_UNTOLD = "mark-half-given", "mark-given-untold"
DYING = Path(__file__).with_name("dying_desk.py")


def until_it_dies(folder: Path, where: str, room: str, files: Sequence[File] = (), **typed: str) -> Form:
    """The form of a room (whatever it asks for) sent to a desk that is killed in the act; gives the form as it was
    sent."""
    with served(folder.parent, (sys.executable, str(DYING), where)) as desk, desk.browser() as client:
        form = form_to(Reader(client.get(room).text), room.partition("?")[0])
        data = form.data(who=WHO, **typed)
        sent = [("files", one) for one in files]
        with pytest.raises(httpx2.TransportError):
            look_on(client, client.post(form.action, data=data, files=sent or None))
    return Form(form.action, form.method, [(name, text) for name, several in data.items() for text in several])


def look_on(client: httpx2.Client, page: httpx2.Response) -> NoReturn:
    """Look at work that goes on in a process of its own, until that ends the desk."""
    while "http-equiv" in page.text:
        time.sleep(0.1)
        page = client.get(page.url)
    raise AssertionError(f"the desk outlived what was to end it: {page.text}")


def returns(folder: Path) -> list[str]:
    """The file of every return that the record holds."""
    with open_class(folder).record() as record:
        return sorted(Path(one.handed_in.file).name for one in record.all_returns(TASK))


def left_behind(folder: Path) -> list[str]:
    """Files that are still on their way."""
    return [path.name for path in folder.rglob(".*") if path.name not in (".in-use", ".written.txt")]


NOT_YET = [
    pytest.param(FILES_HALF_PUT, 0, id=FILES_HALF_PUT, marks=pytest.mark.deep),
    pytest.param(MARKS_HALF_STORED, 2, id=MARKS_HALF_STORED, marks=pytest.mark.deep),
]


@pytest.mark.parametrize(("where", "lie_there"), NOT_YET)
def test_books_of_a_taking_in_that_was_cut_off_are_named_and_taken_in_once(
    issued: Path, where: str, lie_there: int
) -> None:
    files = [book(issued, "HB01"), book(issued, "LW01")]
    until_it_dies(issued, where, BACK, files)
    at = visitor(issued.parent)
    back = at.look(BACK)
    assert ("2 files are not taken in" in back.text) is (lie_there == 2)
    assert returns(issued) == []
    done = at.send(form_to(back, "/back"), files=files, who=WHO)
    assert "2 of 4 sheets are marked" in done.text
    assert returns(issued) == sorted(name for name, _data in files)
    assert "not taken in" not in at.look(BACK).text
    assert len([p for p in (issued / "returned" / TASK).iterdir() if p.is_file()]) == 2
    assert left_behind(issued) == []


def moderated(folder: Path) -> int:
    """How often a teacher's mark was given, as the journal tells."""
    with open_class(folder).record() as record:
        return sum(row.event is Event.MODERATED for row in record.journal(TASK))


def test_a_decision_that_was_cut_off_stands_for_none_and_is_given_once_when_it_is_sent_again(marked: Path) -> None:
    form = until_it_dies(marked, MARK_HALF_GIVEN, place(marked, "HB01"), marks="0.5", why="The drawing came by post")
    assert given(marked) == {}
    at = visitor(marked.parent)
    assert UNREADABLE in at.look(place(marked, "HB01")).text
    at.send(form)
    assert set(given(marked)) == {"HB01", "HB02"}
    assert moderated(marked) == 2


@pytest.mark.deep
def test_a_decision_whose_answer_was_cut_off_stands_and_is_refused_when_it_is_sent_again(marked: Path) -> None:
    form = until_it_dies(marked, MARK_GIVEN_UNTOLD, place(marked, "HB01"), marks="0.5", why="The drawing came by post")
    assert set(given(marked)) == {"HB01", "HB02"}
    page = visitor(marked.parent).send(form, 422)
    assert f"one that has changed since: 0.5 of 3 now, by {WHO}: The drawing came by post" in page.text
    assert moderated(marked) == 2


def test_the_work_of_a_desk_that_was_closed_is_told_to_be_over(marked: Path) -> None:
    page = visitor(marked.parent).look(f"/class/{KLASS}/work/1", 422)
    assert "what was done stands in the class; look there" in page.text
