"""Work in a process of its own, and the desk as it is really served: stopped, killed, started again."""

import os
import signal
from pathlib import Path

import httpx2
import pytest

from desk.conftest import KLASS
from desk.open_desk import HERE
from desk.served_desk import SECONDS, served
from jobs.small_class import NOW, TASK, contents, sheets_of, small_class
from witnessmark.desk.acts import issue_sheets, print_all
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
