"""A browser for tests that look at pages: Chromium, driven by playwright, and what axe-core finds in a page.

axe-core holds a page to the Web Content Accessibility Guidelines; axe-playwright-python carries it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright

from programs import CHROMIUM_OPTIONS

MILLISECONDS = 240_000  # a guard alone: a busy machine is slow
SERIOUS = ("serious", "critical")


@contextmanager
def browser(chromium: Path) -> Iterator[Browser]:
    """Chromium, until it is not needed any more."""
    options = [option for option in CHROMIUM_OPTIONS if option != "--headless"]
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=str(chromium), args=options)
        yield opened
        opened.close()


def shut_out(page: Page) -> list[str]:
    """What axe-core finds serious or critical: the rule, and the first place that breaks it."""
    found = Axe().run(page).response["violations"]
    return [f"{v['id']}, {v['nodes'][0]['html'][:80]}" for v in found if v["impact"] in SERIOUS]


def over_the_edge(page: Page) -> int:
    """By how many pixels a page is wider than its window."""
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return max(0, int(wide))


def cut_off(page: Page) -> list[str]:
    """The first words of each table of a page that is wider than its place, so that a part of it is out of sight."""
    found = page.evaluate("""() => [...document.querySelectorAll('.across')]
        .filter(place => place.scrollWidth > place.clientWidth).map(place => place.innerText.slice(0, 60))""")
    return [str(words) for words in found]
