"""The pages for people in a browser: nobody is shut out of them, and none runs over the edge, wide or narrow."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from browser import MILLISECONDS, browser, over_the_edge, shut_out
from jobs.small_class import LATER
from jobs.teaching_class import EDGE, FACE, teaching_class
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.page.html import html_of
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.jobs.figures import figures_of
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.reviewing import review
from witnessmark.jobs.reviewing_year import review_of_year
from witnessmark.jobs.visiting import visits

TASK = "shear-1"
PAGES = ("sheet", "feedback", "review", "year", "visits", "follow-up")


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Every page that is written for a class of which one student has two misconceptions and others have one."""
    folder = teaching_class(tmp_path_factory.mktemp("pages") / "class", {"HB00": (FACE, EDGE), "LB01": (FACE,)})
    opened = open_class(folder)
    with opened.record() as record:
        sheet = next(s for s in record.sheets(TASK) if s.student.code == "HB00")
        outcomes = record.outcomes(TASK)[sheet.code]
    made = {name: folder / f"{name}.html" for name in ("sheet", "feedback")}
    asked = sheet_document(sheet, figures_of(sheet, opened.bank().figures_path))
    made["sheet"].write_text(html_of(asked), encoding="utf-8")
    made["feedback"].write_text(html_of(feedback_document(sheet, outcomes)), encoding="utf-8")
    follow_up(folder, TASK, LATER)
    files = (review(folder, TASK).page, *review_of_year(folder).files, *visits(folder, "2027-02-01").files)
    of_review, year, of_visits = (file for file in files if file.suffix == ".html")
    aimed = folder / "issued" / f"{TASK}-follow-up" / "pages" / "HB00.html"
    return made | {"review": of_review, "year": year, "visits": of_visits, "follow-up": aimed}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_shuts_nobody_out_and_keeps_within_the_window(
    chrome: Browser, pages: dict[str, Path], name: str
) -> None:
    page = chrome.new_page(viewport={"width": 1280, "height": 844}, bypass_csp=True)
    page.set_default_timeout(MILLISECONDS)
    page.goto(pages[name].as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    assert over_the_edge(page) == 0
    page.set_viewport_size({"width": 390, "height": 844})
    assert over_the_edge(page) == 0
    assert shut_out(page) == []
    page.close()


def test_a_page_that_shuts_somebody_out_or_is_too_wide_is_told(chrome: Browser) -> None:
    page = chrome.new_page(viewport={"width": 390, "height": 844})
    wide = "<h1 style='width: 500px'>A</h1>"
    page.set_content(f"<!doctype html><html lang='en'><title>A</title><main>{wide}<img src='x'></main></html>")
    assert [fault.partition(",")[0] for fault in shut_out(page)] == ["image-alt"]
    assert over_the_edge(page) > 0
    page.close()
