"""Work in a process of its own, and the desk as it is really served: stopped, killed, started again."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import httpx2
import pytest

from desk.conftest import KLASS
from desk.open_desk import HERE, browser, opened_desk
from desk.served_desk import SECONDS, served
from jobs.small_class import NOW, TASK, contents, sheets_of, small_class
from witnessmark.desk.acts.issuing import issue_sheets, print_all
from witnessmark.desk.works import MOST_AT_ONCE, Done, Work, Works
from witnessmark.jobs.printing import Wanted
from witnessmark.words.errors import ProblemsFound


def ended(work: Work) -> Done | None:
    """What came of a work once its process has ended."""
    assert work.process is not None
    work.process.join(SECONDS)
    assert work.follower is not None
    work.follower.join(SECONDS)
    return work.result


def test_work_is_done_in_another_process_and_tells_what_came_of_it(issued: Path) -> None:
    works = Works()
    work = works.begin("Sheets", KLASS, print_all, issued, TASK, Wanted(("HB01",)), False)
    assert work.process is not None
    assert work.process.pid != os.getpid()
    done = ended(work)
    assert done is not None
    assert done.told == ("1 sheet in one file",)
    assert done.files[0].read_bytes().startswith(b"%PDF")
    missing = ended(works.begin("Sheets", KLASS, print_all, issued, "no-task", Wanted(), False))
    assert missing is not None
    assert [problem.code for problem in missing.problems] == ["not-issued"]


def test_work_that_is_stopped_leaves_a_class_as_it_was_or_as_it_is_after(tmp_path: Path) -> None:
    folder, works = small_class(tmp_path / KLASS), Works()
    before = contents(folder)
    work = works.begin("Issuing", KLASS, issue_sheets, folder, TASK, NOW)
    works.stop(work.number)
    assert not work.goes_on
    assert work.process is not None
    assert not work.process.is_alive()
    assert contents(folder) == before or len(sheets_of(folder)) == 4
    again = ended(works.begin("Issuing", KLASS, issue_sheets, folder, TASK, NOW))
    assert again is not None
    assert not again.problems
    assert len(sheets_of(folder)) == 4


def test_a_process_made_ready_does_the_next_work_and_one_that_died_meanwhile_is_not_waited_for(issued: Path) -> None:
    works = Works()
    works.make_ready(print_all)
    ready = works._ready
    assert ready is not None
    works.make_ready(print_all)
    assert works._ready is ready
    work = works.begin("Sheets", KLASS, print_all, issued, TASK, Wanted(("HB01",)), False)
    assert work.process is ready.process
    assert ended(work) == ended(works.begin("Sheets", KLASS, print_all, issued, TASK, Wanted(("HB01",)), False))
    works.make_ready(print_all)
    assert works._ready is not None
    works._ready.process.kill()
    works._ready.process.join(SECONDS)
    done = ended(works.begin("Sheets", KLASS, print_all, issued, TASK, Wanted(("HB01",)), False))
    assert done is not None
    assert done.told == ("1 sheet in one file",)


def test_a_desk_that_is_closed_leaves_no_process_that_waits_for_work() -> None:
    works = Works()
    works.make_ready(print_all)
    assert works._ready is not None
    process = works._ready.process
    works.stop_all()
    process.join(SECONDS)
    assert not process.is_alive()


def test_whoever_looks_again_has_the_answer_when_the_work_has_ended(issued: Path) -> None:
    work = Works().begin("Sheets", KLASS, print_all, issued, TASK, Wanted(("HB01",)), False)
    work.wait(SECONDS)
    assert work.result is not None
    assert work.result.told == ("1 sheet in one file",)


def test_the_page_of_a_work_that_goes_on_looks_again_and_waits_only_where_nothing_else_is_done_than_was_shown(
    issued: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = opened_desk(issued.parent)
    work = Work(1, "Issuing", KLASS, doing="sheets", done=3, total=200)
    desk.keeping.works._kept[1] = work
    waited: list[str] = []
    monkeypatch.setattr(Work, "wait", lambda one, seconds: waited.append(f"{one.doing} {seconds:g} s"))
    client = browser(desk)
    client.get(desk.door.address)
    room = f"/class/{KLASS}/work/1"
    page = client.get(room).text
    assert f'content="1; url={room}?again=sheets"' in page
    assert "sheets: 3 of 200" in page
    client.get(f"{room}?again=files")
    assert waited == []
    client.get(f"{room}?again=sheets")
    assert waited == ["sheets 1 s"]
    work.result = Done(("200 sheets issued",))
    assert "refresh" not in client.get(f"{room}?again=sheets").text


def test_the_first_rooms_are_loaded_without_the_others() -> None:
    names = "import sys, witnessmark.desk.app; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", names], capture_output=True, text=True, check=True).stdout.split()
    assert "witnessmark.desk.rooms.classes" in loaded
    assert "witnessmark.desk.rooms.others" not in loaded
    assert "witnessmark.marking.marker" not in loaded


def test_no_more_work_begins_than_the_machine_can_bear() -> None:
    works = Works()
    for number in range(1, MOST_AT_ONCE + 1):
        works._kept[number] = Work(number, "Issuing", KLASS)
    with pytest.raises(ProblemsFound, match="wait until it is done"):
        works.begin("Issuing", KLASS, issue_sheets, Path(), TASK, NOW)
    assert len(works._kept) == MOST_AT_ONCE


def test_the_served_desk_lets_in_by_its_address_alone_and_outlives_being_killed(issued: Path) -> None:
    room = f"/class/{KLASS}/students"
    with served(issued) as desk:
        here, address = desk.here, desk.address
        assert here.startswith("http://127.0.0.1:")
        assert httpx2.get(f"{here}{room}", timeout=SECONDS).status_code == 403
        with httpx2.Client(base_url=here, timeout=SECONDS, follow_redirects=True) as client:
            assert client.get(address).url.path == f"/class/{KLASS}"
            typed = {"list": "code,name,group\nB1,Kim,West\n", "seal": ""}
            assert client.post(room, data=typed, headers={"Origin": HERE}).status_code == 403
            assert "list" in client.post(room, data=typed, headers={"Origin": here}).text
        desk.process.send_signal(signal.SIGKILL)
    with served(issued) as second:
        assert second.address != address
        assert httpx2.get(f"{second.here}{room}", timeout=SECONDS).status_code == 403
        with second.browser() as client:
            assert "Maren Tolk" in client.get(room).text
