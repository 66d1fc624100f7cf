"""Two hundred books dropped at once: stopped and gone on with, one broken, one that would replace a fuller one."""

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from browser import browser
from desk.conftest import KLASS
from desk.open_desk import WHO
from desk.test_in_browser import page_of, served
from jobs.small_class import (
    LATER,
    NOW,
    TASK,
    hand_in,
    right_answers,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from witnessmark.desk.app import Desk
from witnessmark.jobs.crew import every_core
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class

MANY = 200
FULLER, BROKEN = "S001", "S200"
GOES_ON = re.compile(rf"files read: \d+ of {MANY + 1}")


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


def class_of_many(folder: Path) -> Path:
    """A class of two hundred with one question, issued."""
    small_class(folder)
    write_students(folder, [(f"S{n:03}", f"Apprentice {n}", f"Yard {n % 7}") for n in range(1, MANY + 1)])
    write_task(folder, "[drain-hole]")
    issue(folder, TASK, NOW, crew=every_core)
    return folder


def books_sent(folder: Path, into: Path) -> list[Path]:
    """A book of everybody: one is broken, and one holds less than what came before, and something else."""
    into.mkdir()
    for code, sheet in sheets_of(folder).items():
        answers = {"1.a": "12 kN"} if code == FULLER else right_answers(sheet)
        hand_in(folder, sheet, answers).rename(into / f"sent by {code}.xlsx")
    broken = into / f"sent by {BROKEN}.xlsx"
    broken.rename(into.parent / broken.name)
    broken.write_bytes((into.parent / broken.name).read_bytes()[:2_000])
    return sorted(into.iterdir())


def drop_on(page: Page, field: str, files: Sequence[Path]) -> None:
    """Drag files from elsewhere onto a field and let them go there, as the browser itself hands them on."""
    box = page.get_by_label(field).bounding_box()
    assert box is not None
    at = {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}
    dragged = {"items": [], "files": [str(file) for file in files], "dragOperationsMask": 1}
    devtools = page.context.new_cdp_session(page)
    for kind in ("dragEnter", "dragOver", "drop"):
        devtools.send("Input.dispatchDragEvent", {"type": kind, **at, "data": dragged})
    page.wait_for_function(f"document.querySelector('input[type=file]').files.length === {len(files)}")


def count_of(folder: Path) -> tuple[int, int]:
    """How many returns the record holds, and how many sheets are marked."""
    with open_class(folder).record() as record:
        return len(record.all_returns(TASK)), len(record.outcomes(TASK))


def first_answer(folder: Path, code: str) -> str:
    """The entry at 1a that counts."""
    sheet = sheets_of(folder)[code].code
    with open_class(folder).record() as record:
        (counts,) = record.returns(TASK, sheet)
    return dict(counts.entries)["1.a"].raw


def take_in(page: Page, desk: Desk, files: Sequence[Path]) -> None:
    """Go to the room, drop the files, and begin."""
    page.goto(f"{desk.door.address.partition('/?')[0]}/class/{KLASS}/task/{TASK}/back")
    if files:
        drop_on(page, "Answer books", files)
    page.get_by_role("button", name="Take in and mark").click()


@pytest.mark.deep
def test_two_hundred_books_dropped_at_once_are_marked_and_nothing_is_replaced_unseen(
    chrome: Browser, tmp_path: Path
) -> None:
    folder = class_of_many(tmp_path / "home" / KLASS)
    sheet = sheets_of(folder)[FULLER]
    hand_in(folder, sheet, right_answers(sheet), "the first.xlsx")
    mark(folder, TASK, LATER)
    fuller, books = first_answer(folder, FULLER), books_sent(folder, tmp_path / "books")
    with served(folder.parent) as desk, page_of(chrome, desk) as page:
        take_in(page, desk, books)
        page.get_by_text(GOES_ON).wait_for()
        page.get_by_role("button", name="Stop it").click()
        page.get_by_text("This was stopped.").wait_for()
        assert count_of(folder) == (1, 1)
        page.get_by_role("link", name="Go on").click()
        page.goto(f"{desk.door.address.partition('/?')[0]}/class/{KLASS}/task/{TASK}/back")
        assert page.get_by_role("heading", name=f"{MANY} files are not taken in").count() == 1
        take_in(page, desk, [])
        page.get_by_text("This is done.").wait_for()
        said = page.locator("main").inner_text()
        assert f"{MANY - 1} of {MANY} sheets are marked" in said
        assert "1 entry differs from the one that counts" in said
        assert f"sent by {BROKEN}.xlsx" in page.locator(".problems").inner_text()
        page.get_by_role("link", name="Go on").click()
        both = page.locator("form.pair").inner_text()
        assert fuller in both
        assert "12 kN" in both
        assert "(1 entry)" in both
        assert first_answer(folder, FULLER) == fuller
        page.locator("form.pair").get_by_label("Reason").fill("The first holds more")
        page.locator("form.pair").get_by_label("Your name").fill(WHO)
        page.get_by_role("button", name="Keep what counts now").click()
        assert page.locator("form.pair").count() == 0
        (folder / "returned" / TASK / f"sent by {BROKEN}.xlsx").unlink()
        take_in(page, desk, [tmp_path / f"sent by {BROKEN}.xlsx"])
        page.get_by_text("This is done.").wait_for()
        assert f"{MANY} of {MANY} sheets are marked" in page.locator("main").inner_text()
    assert count_of(folder) == (MANY + 1, MANY)
    assert first_answer(folder, FULLER) == fuller
