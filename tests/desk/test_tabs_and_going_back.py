"""Two tabs and a command at once, and the back button of the browser: no act is repeated, no page is stale unsaid."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Response

from browser import browser
from desk.conftest import KLASS
from desk.open_desk import WHO
from desk.test_in_browser import page_of, served
from desk.test_in_tray_room import given
from jobs.small_class import LATER, TASK, sheets_of
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class

OF_TASK = f"/class/{KLASS}/task/{TASK}"


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


def filled(page: Page, why: str) -> Page:
    """A page whose decision has a reason and a name."""
    page.get_by_label("Reason").first.fill(why)
    page.get_by_label("Your name").first.fill(WHO)
    return page


def decide(page: Page) -> None:
    """A mark given in the in-tray, or in the room of a mark."""
    filled(page, "The area on paper is right").get_by_role("radio").first.check()
    page.get_by_role("button", name=re.compile("Give this mark")).click()


def keep_the_list(page: Page) -> None:
    """One more student in the list."""
    field = page.get_by_label("The first line")
    field.fill(f"{field.input_value().rstrip()}\nLW09,Kim Dekker,Low Wharf\n")
    page.get_by_role("button", name="Keep the list").click()


def give_more_time(page: Page) -> None:
    """A later day for a student."""
    form = page.locator("form", has=page.locator("input[name=what][value=extended]")).first
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    form.locator("input[name=day]").fill("2027-03-12")
    form.locator("input[name=why]").fill("the yard launches")
    form.locator("input[name=who]").fill(WHO)
    form.get_by_role("button").first.click()


def take_back(page: Page) -> None:
    """The last step taken back."""
    filled(page, "Too soon").get_by_role("button", name="Take this step back").click()


def take_in_again(page: Page) -> None:
    """What lies in the folder marked once more, and the end waited for."""
    page.get_by_role("button", name="Take in and mark").click()
    page.get_by_text("This is done.").wait_for()


def correct(page: Page) -> None:
    """A correction shown, and done."""
    page.get_by_label(re.compile("What is wrong")).select_option("full marks for all")
    page.get_by_role("button", name=re.compile("[Ss]how what")).first.click()
    page.get_by_text("Here you see what would change").wait_for()
    filled(page, "The figure lacks a length").get_by_role("button", name="Correct it").click()
    page.get_by_text("This is done.").wait_for()


ACTS: dict[str, Callable[[Page], None]] = {
    f"{OF_TASK}/tray": decide,
    f"/class/{KLASS}/students": keep_the_list,
    f"/class/{KLASS}/students/LW02": give_more_time,
    f"{OF_TASK}/back": take_in_again,
    f"{OF_TASK}/put-right": correct,
    f"/class/{KLASS}": take_back,
}
"""Each kind of act, by the room in which it begins."""


def written(folder: Path) -> tuple[int, str]:
    """How many rows the journal has, and the list of students."""
    with open_class(folder).record() as record:
        rows = len(record.journal(TASK))
    return rows, (folder / "students.csv").read_text(encoding="utf-8")


@pytest.mark.deep
def test_going_back_after_each_kind_of_act_repeats_none_and_shows_what_stands(chrome: Browser, marked: Path) -> None:
    with served(marked.parent) as desk, page_of(chrome, desk) as page:
        here, sent = desk.door.address.partition("/?")[0], [""][:0]
        page.on("request", lambda request: sent.append(request.method))
        for room, act in ACTS.items():
            before = written(marked)
            page.goto(f"{here}{room}")
            act(page)
            after = written(marked)
            assert after != before or act is take_in_again, f"nothing was done in {room}"
            sent.clear()
            while page.url.partition("?")[0] != f"{here}{room}" or page.locator("main").count() == 0:
                answer: Response | None = page.go_back()
                assert answer is None or answer.status == 200, f"{page.url} after {room}"
            page.go_back()
            page.go_forward()
            assert "POST" not in sent, f"going back to {room} sent the form again"
            assert written(marked) == after
            shown = page.locator("main").inner_text()
            page.reload()
            assert page.locator("main").inner_text() == shown, f"{room} was shown as it no longer is"


@pytest.mark.deep
def test_of_two_tabs_and_a_command_one_decides_and_the_others_are_shown_what_stands(
    chrome: Browser, marked: Path
) -> None:
    tray = f"{OF_TASK}/tray?at={sheets_of(marked)['LW01'].code}+1.a"
    with served(marked.parent) as desk, page_of(chrome, desk) as first:
        here = desk.door.address.partition("/?")[0]
        second, third = first.context.new_page(), first.context.new_page()
        for tab in (first, second, third):
            tab.goto(f"{here}{tray}")
        decide(first)
        stands = given(marked)
        decide(second)
        said = second.locator(".problems").inner_text()
        assert f"one that has changed since: 0 of 3 now, by {WHO}: The area on paper is right" in said
        assert given(marked) == stands
        moderate(marked, sheets_of(marked)["LW01"].code, "1a", "2", "by the command", "P. Voss", LATER)
        decide(third)
        assert "by P. Voss: by the command" in third.locator(".problems").inner_text()
        assert given(marked)["LW01"] == ("2", "by the command")
