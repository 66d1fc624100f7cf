"""The desk as it is served, under what no teacher sends: thousands of requests, endless ones, half ones."""

import asyncio
import socket
import sys
from collections import Counter
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import httpx2
import pytest

from desk.conftest import KLASS
from desk.served_desk import SECONDS, ServedDesk, served
from jobs.small_class import TASK, contents

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="memory is read as Linux tells it")
AT_ONCE = 100
"""Connections, of which the desk serves 64."""
MOST_GROWTH = 120_000
"""Kilobytes that a desk may grow by, whatever comes: its first looks at a class take most of them."""
BUSY = 503
TWO_GIGABYTES = 2**31
BLOCK = 1_000_000
MOST_HELD = 20_000
"""Kilobytes that a desk may grow by while it throws away what comes."""
BACK = f"/class/{KLASS}/task/{TASK}/back"


@pytest.fixture(scope="module")
def desk(marked_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServedDesk]:
    """A desk of the marked class, served for all of these tests; it has loaded its rooms and read its bank, as any has
    that is open for a few seconds."""
    with served(marked_once) as opened:
        with opened.browser() as client:
            client.get(f"/class/{KLASS}/bank").raise_for_status()
        yield opened


@pytest.fixture
def cookie(desk: ServedDesk) -> str:
    """What a browser sends that has come in."""
    with desk.browser() as client:
        return "; ".join(f"{name}={value}" for name, value in client.cookies.items())


def requests_to(desk: ServedDesk, cookie: str) -> list[tuple[bytes, set[int]]]:
    """One request of each kind, as it stands on the line, with the answers that it may have."""
    own, come_in = f"Host: 127.0.0.1:{desk.port}\r\n", f"Cookie: {cookie}\r\n"
    form = "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 12\r\n"
    elsewhere = f"{form}Origin: http://witness.example\r\n"
    kinds = [
        ("GET / HTTP/1.1", own, "", {403}),
        ("GET / HTTP/1.1", "Host: witness.example\r\n", "", {421}),
        (f"GET /class/{KLASS}/students HTTP/1.1", own, "", {403}),
        ("GET /?key=guessed HTTP/1.1", own, "", {403}),
        (f"POST /class/{KLASS}/students HTTP/1.1", own + come_in + elsewhere, "list=code%0D", {403}),
        (f"POST {BACK} HTTP/1.1", own + form, "who=K.+Lund+", {403}),
        (f"GET /class/{KLASS}/file/%2e%2e/record.db HTTP/1.1", own + come_in, "", {404, 422}),
        ("GET /class/%2e%2e%2f%2e%2e/students HTTP/1.1", own + come_in, "", {404}),
        (f"GET /{'long/' * 300} HTTP/1.1", own + come_in, "", {404}),
        (f"DELETE /class/{KLASS} HTTP/1.1", own + come_in, "", {405}),
        ("GET /desk.css HTTP/1.1", own + come_in, "", {200}),
        (f"GET /class/{KLASS} HTTP/1.1", own + come_in, "", {200}),
    ]
    return [(f"{line}\r\n{heads}\r\n{body}".encode(), answers) for line, heads, body, answers in kinds]


async def asked(desk: ServedDesk, kinds: list[tuple[bytes, set[int]]], most: int) -> Counter[tuple[int, int]]:
    """So many requests in turn over many connections; how often each kind had each answer."""
    number, found = count(), Counter[tuple[int, int]]()

    async def one_by_one() -> None:
        while (n := next(number)) < most:
            kind = n % len(kinds)
            reader, writer = await asyncio.open_connection("127.0.0.1", desk.port)
            writer.write(kinds[kind][0])
            found[kind, int((await reader.readline()).split()[1])] += 1
            writer.close()

    async with asyncio.timeout(SECONDS):
        await asyncio.gather(*(one_by_one() for _connection in range(AT_ONCE)))
    return found


@pytest.mark.parametrize("many", [480, pytest.param(10_000, marks=pytest.mark.deep)])
def test_each_of_many_requests_is_answered_or_refused_and_nothing_grows_or_changes(
    marked_once: Path, desk: ServedDesk, cookie: str, many: int
) -> None:
    before, held = contents(marked_once), desk.kilobytes
    kinds = requests_to(desk, cookie)
    found = asyncio.run(asked(desk, kinds, many))
    assert sum(found.values()) == many
    assert {one for one in found if one[1] not in kinds[one[0]][1] | {BUSY}} == set()
    assert sum(n for (_kind, status), n in found.items() if status != BUSY) > len(kinds)
    assert desk.kilobytes - held < MOST_GROWTH
    assert contents(marked_once) == before
    with desk.browser() as client:
        assert client.get(f"/class/{KLASS}").status_code == 200


@pytest.mark.parametrize("sent", [64_000_000, pytest.param(TWO_GIGABYTES, marks=pytest.mark.deep)])
def test_two_gigabytes_are_refused_at_once_and_what_comes_all_the_same_is_held_nowhere(
    marked_once: Path, desk: ServedDesk, cookie: str, sent: int
) -> None:
    before, held, most = contents(marked_once), desk.kilobytes, 0
    heads = (
        f"POST {BACK} HTTP/1.1\r\nHost: 127.0.0.1:{desk.port}\r\nCookie: {cookie}\r\nOrigin: {desk.here}\r\n"
        f"Content-Type: multipart/form-data; boundary=x\r\nContent-Length: {TWO_GIGABYTES}\r\n\r\n"
        '--x\r\nContent-Disposition: form-data; name="files"; filename="a.xlsx"\r\n\r\n'
    )
    with socket.create_connection(("127.0.0.1", desk.port), SECONDS) as line:
        line.sendall(heads.encode())
        assert line.recv(65_536).startswith(b"HTTP/1.1 413 ")
        for _block in range(sent // BLOCK):
            try:
                line.sendall(b"0" * BLOCK)
            except OSError:  # a server may close it as well
                break
            most = max(most, desk.kilobytes)
    assert most - held < MOST_HELD
    assert list(desk.aside.rglob("*")) == []
    assert contents(marked_once) == before


def test_half_requests_keep_nobody_out_once_they_are_gone(desk: ServedDesk) -> None:
    half = [socket.create_connection(("127.0.0.1", desk.port), SECONDS) for _n in range(AT_ONCE)]
    for line in half:
        line.sendall(b"GET / HTTP/1.1\r\nHost: 127")
    assert httpx2.get(f"{desk.here}/", timeout=SECONDS).status_code in (403, BUSY)
    for line in half:
        line.close()
    with httpx2.Client(base_url=desk.here, timeout=SECONDS) as client:
        while client.get("/").status_code == BUSY:
            pass
        assert client.get("/").status_code == 403
