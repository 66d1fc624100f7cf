"""A question's file written in a browser, under the policy that the desk sends: the editor, its words, its problems."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from browser import MILLISECONDS, browser
from desk.conftest import KLASS
from desk.test_in_browser import served
from desk.test_writing_room import WRITE, file_in
from witnessmark.desk.app import Desk

pytestmark = pytest.mark.deep


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


@contextmanager
def writing(chrome: Browser, desk: Desk) -> Iterator[Page]:
    """The page that writes a question, with its policy in force; whatever the browser complains of fails the test."""
    context = chrome.new_context(viewport={"width": 1280, "height": 844})
    context.set_default_timeout(MILLISECONDS)
    page, complaints = context.new_page(), [""][:0]
    page.on("console", lambda said: complaints.append(said.text) if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto(desk.door.address)
    page.goto(f"{desk.door.address.partition('/?')[0]}{WRITE}")
    page.locator(".cm-content").click()
    yield page
    assert complaints == []
    context.close()


def go_behind(page: Page, line: int) -> None:
    """Put the cursor behind the last sign of a line, by keys."""
    page.keyboard.press("Control+Home")
    for _line in range(line - 1):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("End")


def test_a_question_is_written_with_its_problems_under_the_line_and_kept_by_keys_alone(
    chrome: Browser, tmp_path: Path
) -> None:
    file = file_in(tmp_path)
    with served(tmp_path) as desk, writing(chrome, desk) as page:
        before = file.read_bytes()
        go_behind(page, 4)
        page.keyboard.type("x")
        told = page.locator(".cm-told")
        told.wait_for()
        assert "found '2x'" in told.inner_text()
        assert page.locator(".cm-wrong").inner_text() == "level: 2x"
        assert page.locator("#problems tbody th").inner_text() == "4"
        page.keyboard.press("Backspace")
        told.wait_for(state="detached")
        go_behind(page, 2)
        page.keyboard.type(" by hand")
        page.get_by_text("held on this machine").wait_for()
        assert file.read_bytes() == before
        page.frame_locator("#variants").get_by_text("Punching a drain hole by hand").first.wait_for()
        with page.expect_navigation():
            page.keyboard.press("Control+s")
        assert page.locator("#state").inner_text() == "kept in the bank"
        page.go_back()
        assert page.url.endswith(("/write", "/write?kept=yes"))
    assert file.read_bytes() == before.replace(b"drain hole\n", b"drain hole by hand\n", 1)


def test_words_that_may_stand_there_are_offered_and_taken_by_keys(chrome: Browser, tmp_path: Path) -> None:
    file_in(tmp_path)
    with served(tmp_path) as desk, writing(chrome, desk) as page:
        page.keyboard.press("Control+End")
        page.keyboard.type("    carr")
        page.locator(".cm-tooltip-autocomplete li").first.wait_for()
        offered = page.locator(".cm-tooltip-autocomplete li").all_inner_texts()
        page.wait_for_timeout(150)  # the editor takes no word that came so lately that nobody can have read it
        page.keyboard.press("Enter")
        assert offered == ["carries"]
        assert page.locator(".cm-content").inner_text().rstrip().endswith("carries:")


def test_what_was_typed_outlives_the_desk_and_its_browser(chrome: Browser, tmp_path: Path) -> None:
    file = file_in(tmp_path)
    before = file.read_bytes()
    with served(tmp_path) as desk, writing(chrome, desk) as page:
        go_behind(page, 2)
        page.keyboard.type(" tomorrow")
        page.get_by_text("held on this machine").wait_for()
    with served(tmp_path) as desk, writing(chrome, desk) as page:  # another port, another browser
        assert "title: Punching a drain hole tomorrow" in page.locator(".cm-content").inner_text()
        assert "not in the bank yet" in page.locator("#state").inner_text()
    assert file.read_bytes() == before
    assert (tmp_path / KLASS / "drafts" / "drain-hole.yaml").is_file()
