"""A desk for tests: its own port and secret, work done at once, and a browser that has come in by the first address."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path

import httpx2
from starlette.testclient import TestClient

from desk.page_reader import Form, Reader
from jobs.small_class import LATER
from witnessmark.desk.app import Desk
from witnessmark.desk.keeping import Keeping, Seal
from witnessmark.desk.safety import Door
from witnessmark.desk.works import Works
from witnessmark.questions.bank import Bank

PORT = 45871
HERE = f"http://127.0.0.1:{PORT}"
WHO = "K. Lund"
File = tuple[str, bytes]
NOTHING: Mapping[str, str] = {}
BANKS: dict[Path, tuple[Seal, Bank]] = {}
"""What desks of one test run have read: the bank is the same, and takes a second."""


def ticking(start: datetime = LATER) -> Callable[[], datetime]:
    """A clock that moves on by a second whenever it is asked."""
    seconds = count()
    return lambda: start + timedelta(seconds=next(seconds))


def opened_desk(home: Path, only: str = "", most_bytes: int = 20_000_000) -> Desk:
    """A desk on a folder, that nobody has come into yet."""
    door = Door("the-secret", "the-pass", PORT, most_bytes=most_bytes)
    return Desk(Keeping(home, only, Works(at_once=True), ticking(), BANKS), door)


def browser(desk: Desk) -> TestClient:
    """A browser without the secret."""
    return TestClient(desk.app(), base_url=HERE, headers={"Origin": HERE})


@dataclass
class Visitor:
    """Somebody at the desk."""

    client: TestClient

    def look(self, address: str, status: int = 200) -> Reader:
        """The page at an address."""
        return self._read(self.client.get(address), status)

    def get(self, address: str) -> httpx2.Response:
        """The answer itself."""
        return self.client.get(address)

    def send(
        self, form: Form, status: int = 200, files: Sequence[File] = (), field: str = "files",
        named: Mapping[str, str] = NOTHING, **typed: str | list[str],
    ) -> Reader:  # fmt: skip
        """The page shown after a form was sent; `named` is typed into fields whose names are no words of Python."""
        sent = [(field, (name, data)) for name, data in files]
        return self._read(self.client.post(form.action, data=form.data(**named, **typed), files=sent or None), status)

    def _read(self, answer: httpx2.Response, status: int) -> Reader:
        assert answer.status_code == status, answer.text
        return Reader(answer.text)


def visitor(home: Path, only: str = "") -> Visitor:
    """Somebody who came in by the first address."""
    desk = opened_desk(home, only)
    client = browser(desk)
    assert client.get(desk.door.address).status_code == 200
    return Visitor(client)


def form_to(page: Reader, end: str) -> Form:
    """The form of a page that is sent to an address with this end."""
    found = [form for form in page.forms if form.action.endswith(end)]
    assert found, f"no form to {end} among {[form.action for form in page.forms]}"
    return found[0]
