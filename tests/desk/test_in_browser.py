"""The desk in a browser: the whole job by keyboard alone, and every room looked at, narrow and wide, light and dark."""

import re
import socket
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from threading import Thread

import openpyxl
import pytest
import uvicorn
from playwright.sync_api import Browser, Page

from browser import MILLISECONDS, browser, cut_off, over_the_edge, shut_out
from desk.conftest import KLASS
from desk.open_desk import BANKS, WHO
from jobs.small_class import TASK, hand_in, right_answers, sheets_of
from witnessmark.desk.app import Desk, opened_on
from witnessmark.desk.safety import Door
from witnessmark.desk.serving import listening
from witnessmark.jobs.desk_settings import DeskSettings, keep_settings
from witnessmark.jobs.opened import open_class

MOST_TABS = 400
NEW = "by-keys"


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


@contextmanager
def served(home: Path) -> Iterator[Desk]:
    """A desk that is really served, from a thread, its work done in processes of their own."""
    listener: socket.socket = listening(0)
    desk = opened_on(home, Door("the-secret", "the-pass", listener.getsockname()[1]))
    desk.keeping.banks.update(BANKS)
    server = uvicorn.Server(uvicorn.Config(desk.app(), log_level="error", ws="none", lifespan="off"))
    thread = Thread(target=lambda: server.run(sockets=[listener]), daemon=True)
    thread.start()
    try:
        yield desk
    finally:
        server.should_exit = True
        thread.join(30)
        desk.keeping.works.stop_all()
        listener.close()


@contextmanager
def page_of(chrome: Browser, desk: Desk, width: int = 1280, dark: bool = False) -> Iterator[Page]:
    """A page that has come in, and has asked nothing of any other place."""
    context = chrome.new_context(
        viewport={"width": width, "height": 844}, color_scheme="dark" if dark else "light", bypass_csp=True
    )
    context.set_default_timeout(MILLISECONDS)
    page, asked = context.new_page(), [""][:0]
    page.on("request", lambda request: asked.append(request.url))
    page.on("filechooser", lambda _chooser: None)  # from the start: its first asking can lose to a key
    page.goto(desk.door.address)
    yield page
    here = desk.door.address.partition("/?")[0]
    assert [url for url in asked if not url.startswith((f"{here}/", "data:"))] == []
    context.close()


NAME = """() => { const e = document.activeElement; if (!e || e === document.body) return '';
  const label = e.labels && e.labels.length ? e.labels[0].innerText : '';
  return (e.getAttribute('aria-label') || label || e.innerText || '').trim(); }"""


def reach(page: Page, name: str) -> None:
    """Press Tab until what is reached bears a name that begins so."""
    seen = []
    for _press in range(MOST_TABS):
        page.keyboard.press("Tab")
        seen.append(str(page.evaluate(NAME)))
        if seen[-1].startswith(name):
            return
    pytest.fail(f"no key leads to '{name}', only to {list(dict.fromkeys(seen))}")


def type_into(page: Page, name: str, text: str) -> None:
    """Reach a field and type over what stands in it."""
    reach(page, name)
    page.keyboard.press("Control+A")
    page.keyboard.insert_text(text)


def press(page: Page, name: str) -> None:
    """Reach a button or a link and press Enter; the page that follows is loaded."""
    reach(page, name)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def wait_for_the_end(page: Page) -> None:
    """Wait until work that goes on has ended, and go on."""
    page.get_by_text("This is done.").wait_for()
    assert page.locator(".problems").count() == 0, page.locator(".problems").inner_text()
    press(page, "Go on")


def drop(page: Page, name: str, files: Sequence[Path]) -> None:
    """Choose files in the field of this name, opened by a key."""
    reach(page, name)
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Enter")
    chooser.value.set_files([str(file) for file in files])


@pytest.mark.deep
def test_the_whole_job_is_done_by_keyboard_from_an_empty_folder_to_the_visit(chrome: Browser, tmp_path: Path) -> None:
    home, folder = tmp_path / "home", tmp_path / "home" / NEW
    home.mkdir()
    with served(home) as desk, page_of(chrome, desk) as page:
        type_into(page, "What it is called", "By keys")
        type_into(page, "Name of its folder", NEW)
        press(page, "Start the class")
        type_into(page, "The first line", "code,name,group\nA1,Kim Dekker,Quay Lane\nA2,Ola Brand,Quay Lane\n")
        press(page, "Keep the list")
        press(page, "4")
        type_into(page, "Words in it", "drain hole")
        press(page, "Show these")
        reach(page, "Punching a drain hole")
        page.keyboard.press("Space")
        press(page, "Put what is ticked")
        type_into(page, "Title", "Punching")
        press(page, "Write the task")
        press(page, "Issue 2 sheets")
        wait_for_the_end(page)
        sheets = sheets_of(folder, "punching")
        books = [hand_in(folder, sheet, {**right_answers(sheet), "1.a": "123456 kN"}, task="punching")
                 for sheet in sheets.values()]  # fmt: skip
        away = [book.rename(tmp_path / f"{code}.xlsx") for code, book in zip(sheets, books, strict=True)]
        press(page, "b")
        drop(page, "Answer books", away)
        press(page, "Take in and mark")
        wait_for_the_end(page)
        press(page, "c")
        page.keyboard.press("ArrowRight")
        type_into(page, "Reason", "The area on paper is right")
        type_into(page, "Your name", WHO)
        with page.expect_navigation():
            page.keyboard.press("Enter")
        assert "Nothing waits" in page.locator("main").inner_text()
        press(page, "e")
        press(page, "Write feedback")
        wait_for_the_end(page)
        reach(page, "Gradebook")
        with page.expect_download() as download:
            page.keyboard.press("Enter")
        book = openpyxl.load_workbook(BytesIO(download.value.path().read_bytes()))
        press(page, "5")
        press(page, "Write the pages of the visit")
        wait_for_the_end(page)
    assert book.sheetnames
    with open_class(folder).record() as record:
        given = {code: f"{by_ask['1.a'].marks}" for code, by_ask in record.moderations("punching").items()}
    assert given == {sheet.code: "0.5" for sheet in sheets.values()}
    assert (folder / "visits" / "Quay-Lane.pdf").read_bytes().startswith(b"%PDF")
    assert sorted(path.name for path in (folder / "feedback" / "punching").iterdir()) == ["A1.pdf", "A2.pdf"]


def rooms_of(folder: Path) -> list[str]:
    code, of_task = sheets_of(folder)["LW01"].code, f"/class/{KLASS}/task/{TASK}"
    of_class = [f"/class/{KLASS}{way}" for way in ("", "/students", "/students/LW01", "/bank?topic=shear",
                "/bank/drain-hole", "/bank/drain-hole/write", "/set?question=drain-hole&topic=shear",
                "/year")]  # fmt: skip
    of_tasks = [
        f"{of_task}{way}" for way in ("", "/back", "/tray", "/marks", f"/mark/{code}/1.a", "/after", "/put-right")
    ]
    return ["/", "/settings", *of_class, *of_tasks]


LOOKS = [
    pytest.param(390, False, "en", id="narrow and light"),
    pytest.param(1280, True, "en", id="wide and dark", marks=pytest.mark.deep),
    pytest.param(390, True, "de", id="narrow, dark and German", marks=pytest.mark.deep),
    pytest.param(1920, False, "de", id="very wide and German", marks=pytest.mark.deep),
]
BEGINS = {"en": r"Here (you|are|stand)", "de": "Hier "}


@pytest.mark.parametrize(("width", "dark", "language"), LOOKS)
def test_no_room_runs_over_its_edge_or_shuts_somebody_out(
    chrome: Browser, marked: Path, width: int, dark: bool, language: str
) -> None:
    keep_settings(marked.parent, DeskSettings(language))
    with served(marked.parent) as desk, page_of(chrome, desk, width, dark) as page:
        here, faults = desk.door.address.partition("/?")[0], [""][:0]
        for room in rooms_of(marked):
            page.goto(f"{here}{room}")
            over = over_the_edge(page)
            faults += [f"{room} runs over by {over} px"] if over > 0 else []
            faults += [f"{room} has a table that is cut off: {words}" for words in cut_off(page)]
            faults += [f"{room}: {fault}" for fault in shut_out(page)]
            first = page.locator(".lead").inner_text()
            faults += [] if re.match(BEGINS[language], first) else [f"{room} does not say what can be done here"]
        assert faults == []
