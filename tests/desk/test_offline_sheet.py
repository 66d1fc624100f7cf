"""A student's page: filled in without a network on a telephone, its file and its message marked like an answer book."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from browser import MILLISECONDS, browser, over_the_edge, shut_out
from jobs.small_class import BANK_FOLDER, LATER, TASK, right_answers, sheets_of
from searching import every
from witnessmark.documents.page.blocks import Document
from witnessmark.documents.sheet.offline import offline_page
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.bank.folder import load_bank
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.answer_text import answer_text
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Layout, Sheet, Student, Task

BANK = load_bank(BANK_FOLDER)
FIELD = re.compile(r'data-key="([^"]+)"')


@pytest.fixture(scope="module")
def chrome(chromium: Path) -> Iterator[Browser]:
    """Chromium, kept for the tests of this module."""
    with browser(chromium) as opened:
        yield opened


def page_on_paper(chrome: Browser, file: Path, scripts: bool = True, width: int = 390) -> Page:
    """The page as a student opens it on a telephone without a network."""
    context = chrome.new_context(viewport={"width": width, "height": 844}, java_script_enabled=scripts, offline=True)
    context.set_default_timeout(MILLISECONDS)
    page = context.new_page()
    page.goto(file.resolve().as_uri())
    return page


def page_of(folder: Path, code: str) -> Path:
    return folder / "issued" / TASK / "pages" / f"{code}.html"


def fill(page: Page, answers: dict[str, str]) -> None:
    """Type number and unit into their own fields, and tick what is ticked."""
    for key, text in answers.items():
        unit = page.locator(f'[data-unit="{key}"]')
        ticks = page.locator(f'input[type=radio][data-key="{key}"]')
        if ticks.count():
            page.locator(f'input[type=radio][data-key="{key}"][value="{text}"]').check()
        elif unit.count() and " " in text:
            number, _, of = text.partition(" ")
            page.locator(f'[data-key="{key}"]').fill(number)
            unit.fill(of)
        else:
            page.locator(f'[data-key="{key}"]').fill(text)


def not_full(folder: Path, sheet: Sheet) -> list[str]:
    """The parts of a sheet that have less than full marks."""
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)[sheet.code]
    return [a.label for a in sheet.asks if not a.line and found[a.key].marks != found[a.key].out_of]


def test_a_page_filled_in_on_a_telephone_is_marked_to_full_marks(chrome: Browser, issued: Path) -> None:
    sheets = sheets_of(issued)
    page, sheet = page_on_paper(chrome, page_of(issued, "LW01")), sheets["LW01"]
    answers = dict(right_answers(sheet))
    fill(page, answers)
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the answer file").click()
    assert download.value.suggested_filename == f"answers-{sheet.code}.txt"
    saved = download.value.path().read_text(encoding="utf-8")
    in_order = [(ask.key, answers[ask.key]) for ask in sheet.asks if ask.key in answers]
    assert saved == answer_text(sheet.code, in_order)
    (issued / "returned" / TASK / "sent.txt").write_text(saved, encoding="utf-8")
    other = answer_text(sheets["HB01"].code, list(right_answers(sheets["HB01"]).items()))
    message = f"Hello\n> {other}\nIdris".replace("\n", "\r\n> ")
    (issued / "returned" / TASK / "message.txt").write_text(message, encoding="utf-8")
    done = mark(issued, TASK, LATER)
    assert done.problems == ()
    assert done.taken_in == 2
    assert (not_full(issued, sheets["LW01"]), not_full(issued, sheets["HB01"])) == ([], [])


def test_a_page_looks_at_the_form_alone_and_keeps_what_was_typed(chrome: Browser, issued: Path) -> None:
    page, asked = page_on_paper(chrome, page_of(issued, "LW01")), [""][:0]
    page.on("request", lambda request: asked.append(request.url))
    told, number, unit = (
        page.locator('[id="told-1.a"]'),
        page.locator('[data-key="1.a"]'),
        page.locator('[data-unit="1.a"]'),
    )
    number.fill("a lot")
    assert "number belongs here" in told.inner_text()
    number.fill("0.000123")
    assert "unit is missing" in told.inner_text()
    unit.fill("kN")
    assert told.inner_text() == ""
    page.reload()
    assert (number.input_value(), unit.input_value()) == ("0.000123", "kN")
    assert shut_out(page) == []
    assert over_the_edge(page) == 0
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    page.get_by_role("button", name="Show it as a message").click()
    assert page.locator(".message textarea").input_value().startswith("witness mark answers ")
    page.goto(page_of(issued, "LW02").resolve().as_uri())
    assert page.locator('[data-key="1.a"]').input_value() == ""


def test_without_scripts_a_page_is_a_sheet_of_paper(chrome: Browser, issued: Path) -> None:
    page = page_on_paper(chrome, page_of(issued, "LW01"), scripts=False)
    assert "this is a paper sheet" in page.locator("noscript").inner_text()
    assert not page.locator(".send").is_visible()
    assert page.locator('[data-unit="1.a"]').get_attribute("placeholder") == "kN"


def test_a_text_that_was_changed_on_the_way_is_not_taken_in(issued: Path) -> None:
    sheet, folder = sheets_of(issued)["LW01"], issued / "returned" / TASK
    text = answer_text(sheet.code, list(right_answers(sheet).items()))
    (folder / "changed.txt").write_text(text.replace("yes", "no").replace("1.a = ", "1.a = 9"), encoding="utf-8")
    (folder / "other.txt").write_text("see you on Monday", encoding="utf-8")
    stranger = sheet_code("another", "LW01", 1)
    (folder / "stranger.txt").write_text(answer_text(stranger, [("1.a", "1 kN")]), encoding="utf-8")
    done = mark(issued, TASK, LATER)
    found = {Path(problem.place.file).name: problem.code for problem in done.problems}
    assert found == {"changed.txt": "not-whole", "other.txt": "unsupported-type", "stranger.txt": "unknown-sheet"}
    assert done.taken_in == 0


@pytest.mark.parametrize("key", every(sorted(BANK), 20))
def test_every_answer_of_a_question_has_one_field(key: str) -> None:
    variant = BANK[key].draw("a page")
    for layout in (Layout.COMPACT, Layout.ROOMY):
        task = Task("one", "One question", (key,), layout=layout)
        sheet = Sheet(sheet_code("one", "A1", 1), task, Student("A1", "", ""), (variant,))
        document: Document = sheet_document(sheet, {})
        fields = dict.fromkeys(FIELD.findall(offline_page(document, sheet)))
        assert list(fields) == [*(ask.key for ask in sheet.asks), "note"]
