"""Somebody who has the README and nothing else: from a fresh copy to the first class with marks, by its own words.

The list of the README is read here, and each of its points is done as it says; a point that nobody does, or that says
something else now, fails. What the one command needs is laid ready in `.venv`, so that nothing is fetched.
"""

import os
import re
import shutil
import subprocess
import sys
import sysconfig
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import openpyxl
import pytest
from playwright.sync_api import Browser, Page, expect

from browser import MILLISECONDS, browser
from desk.open_desk import WHO
from desk.served_desk import SECONDS
from jobs.small_class import right_answers, sheets_of
from witnessmark.questions.sheet.answer_places import answer_cells

REPOSITORY = Path(__file__).parents[2]
README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
COMMAND = re.compile(r"^(bash scripts/desk) ", re.MULTILINE)
POINT = re.compile(r"^\d\. (\*.+)$", re.MULTILINE)
CODES = ("A1", "A2")


@dataclass
class Novice:
    """Somebody at a browser, with the folder that they keep files in and the class folder on this machine."""

    page: Page
    files: Path
    classes: Path
    books: list[Path] = field(default_factory=list)

    def press(self, name: str) -> None:
        """A button, or a link, by its words."""
        self.page.get_by_role("button", name=name).or_(self.page.get_by_role("link", name=name)).first.click()

    def room(self, name: str) -> None:
        """Another room, by the name in the row of rooms."""
        self.page.get_by_role("navigation").get_by_role("link", name=name).click()

    def wait(self) -> None:
        """Until what goes on is done; then on."""
        self.page.get_by_text("This is done.").wait_for()
        expect(self.page.locator(".problems")).to_have_count(0)
        self.press("Go on")

    def kept(self, name: str) -> Path:
        """A file behind a link, kept."""
        with self.page.expect_download() as download:
            self.page.get_by_role("link", name=name).last.click()
        path = self.files / download.value.suggested_filename
        download.value.save_as(path)
        return path


def classes(novice: Novice) -> None:
    novice.page.get_by_label("What it is called").fill("First apprentices")
    novice.press("Start the class")


def students(novice: Novice) -> None:
    lines = [f"{code},{name},Quay Lane" for code, name in zip(CODES, ("Kim Dekker", "Ola Brand"), strict=True)]
    novice.page.get_by_label("The first line").fill("\n".join(["code,name,group", *lines]))
    novice.press("Keep the list")


def set_a_task(novice: Novice) -> None:
    novice.room("Set a task")
    novice.page.get_by_label("Words in it").fill("drain hole")
    novice.press("Show these")
    novice.page.get_by_role("checkbox").first.check()
    novice.press("Put what is ticked on the sheet")
    novice.page.get_by_label("Title").fill("Punching")
    novice.press("Write the task")
    novice.press("Issue 2 sheets")
    novice.wait()


def sheets(novice: Novice) -> None:
    novice.room("Sheets")
    novice.press("All in one file to print")
    novice.page.get_by_text("This is done.").wait_for()
    expect(novice.page.get_by_role("link", name=re.compile("^Open"))).to_have_count(1)
    novice.press("Go on")
    for row in novice.page.locator("tbody tr").all():
        with novice.page.expect_download() as download:
            row.get_by_role("link", name="answer book").click()
        novice.books.append(novice.files / download.value.suggested_filename)
        download.value.save_as(novice.books[-1])


def taking_in(novice: Novice) -> None:
    (folder,) = [path.parent for path in novice.classes.glob("*/class.yaml")]
    for book, sheet in zip(novice.books, sheets_of(folder, "punching").values(), strict=True):
        filled = openpyxl.load_workbook(book)
        cells = answer_cells(sheet)
        asks = {ask.key: at for ask, at in zip(sheet.asks, cells.values(), strict=True)}
        for key, text in {**right_answers(sheet), "1.a": "123456 kN"}.items():
            filled.worksheets[0][asks[key][0]] = text
        filled.save(book)
    novice.room("Taking in")
    novice.page.get_by_label("Answer books").set_input_files(novice.books)
    novice.press("Take in and mark")
    novice.page.get_by_text("This is done.").wait_for()
    expect(novice.page.locator("main")).to_contain_text("2 of 2 sheets are marked")


def in_tray(novice: Novice) -> None:
    novice.room("In-tray")
    novice.page.get_by_role("radio").nth(1).check()
    novice.page.get_by_label("Reason").fill("The area on paper is right")
    novice.page.get_by_label("Your name").fill(WHO)
    expect(novice.page.get_by_role("checkbox")).to_be_checked()  # the same for the other, which is alike
    novice.press("Give this mark")
    expect(novice.page.locator("main")).to_contain_text("Nothing waits")


def return_and_review(novice: Novice) -> None:
    novice.room("Return and review")
    novice.press("Write feedback and gradebook")
    novice.wait()
    assert openpyxl.load_workbook(novice.kept("Gradebook")).worksheets
    novice.press("Write the review")
    novice.wait()
    expect(novice.page.get_by_role("link", name="Open the review")).to_have_count(1)


STEPS: dict[str, Callable[[Novice], None]] = {
    "*Classes*: type what the class is called, and start it.": classes,
    "*Students*: a line for each, with a code, a name and a yard; keep the list.": students,
    "*Set a task*: tick questions, put them on the sheet, give it a title, write the task, and issue it.": set_a_task,
    "*Sheets*: print all in one file, or send each student the page to fill in (it works without a network, on a"
    " telephone too) or the answer book.": sheets,
    "*Taking in*: drop what came back on the field: answer books, answer files, a zip of them. An answer that came as a"
    " message is copied in whole.": taking_in,
    "*In-tray*: give a mark with a reason to what waits; the same for all that is alike.": in_tray,
    "*Return and review*: write feedback and gradebook, and look at what recurs.": return_and_review,
}
"""What is done for each point, by its own words."""


def test_the_readme_says_what_the_novice_does_in_this_order() -> None:
    assert POINT.findall(README.partition("## Two more commands")[0]) == list(STEPS)
    assert COMMAND.search(README), "the README does not begin with the command that opens the desk"


def fresh_copy(into: Path) -> Path:
    """What git holds of the repository, with what the command needs laid ready beside it."""
    listed = subprocess.run(["git", "-C", REPOSITORY, "ls-files", "-z"], capture_output=True, text=True, check=True)
    for name in filter(None, listed.stdout.split("\0")):
        if (REPOSITORY / name).is_file() and not name.startswith(("tests/", "exports/")):
            (into / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(REPOSITORY / name, into / name)
    environment = into / ".venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", environment], check=True, timeout=SECONDS)
    packages = Path(sysconfig.get_path("purelib", vars={"base": str(environment), "platbase": str(environment)}))
    (packages / "laid-ready.pth").write_text(f"{into / 'src'}\n{sysconfig.get_path('purelib')}\n", encoding="utf-8")
    command = environment / "bin" / "witnessmark"
    run = "from witnessmark.cli.main import main\nif __name__ == '__main__':\n    main()\n"
    command.write_text(f"#!{environment / 'bin' / 'python'}\n{run}", encoding="utf-8")
    command.chmod(0o755)
    stamp = f"""
        repository={into}; cd {into}; . scripts/lib/say.sh; . scripts/lib/environment.sh
        printf '%s %s\\n' "$RUN_LOCK" "$(fingerprint_of .venv/bin/python "$RUN_LOCK")" > .venv/installed-from
    """
    subprocess.run(["bash", "-euc", stamp], check=True, timeout=SECONDS)
    return into


@contextmanager
def opened_by_the_command(copy: Path) -> Iterator[str]:
    """The one command run in a copy; the address that it opens in the browser."""
    told = copy.parent / "opened"
    opener = copy.parent / "a-browser"
    opener.write_text(f'#!/bin/sh\nprintf %s "$1" > "{told}.part" && mv "{told}.part" "{told}"\n', encoding="utf-8")
    opener.chmod(0o755)
    found = COMMAND.search(README)
    assert found is not None
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    process = subprocess.Popen(found[1].split(), cwd=copy, env={**environment, "BROWSER": str(opener)})
    try:
        while not told.exists():
            assert process.poll() is None, "the command ended"
            time.sleep(0.1)
        yield told.read_text(encoding="utf-8")
    finally:
        process.terminate()
        process.wait(SECONDS)


@pytest.mark.deep
def test_somebody_with_the_readme_alone_comes_to_a_marked_class(chromium: Path, tmp_path: Path) -> None:
    copy, files = fresh_copy(tmp_path / "copy"), tmp_path / "files"
    files.mkdir()
    with opened_by_the_command(copy) as address, browser(chromium) as opened:
        at: Browser = opened
        context = at.new_context(accept_downloads=True)
        context.set_default_timeout(MILLISECONDS)
        expect.set_options(timeout=MILLISECONDS)
        novice = Novice(context.new_page(), files, copy / "classes")
        novice.page.goto(address)
        for words, act in STEPS.items():
            assert act is not None, words
            act(novice)
        context.close()
