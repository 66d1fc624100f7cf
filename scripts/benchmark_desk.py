"""The desk against its floors: the first page, a decision in the in-tray, 200 books marked by the page.

Run with `python scripts/benchmark_desk.py [STUDENTS]` (200 by default) when nothing else runs. The floors are measured
in the same run: Python doing nothing, a server of one empty answer, and the command `mark` on the same books. The page
is driven as a browser does it: it looks again as often as the page says. Modules are compiled before, as an installer
leaves them, whatever PYTHONDONTWRITEBYTECODE says: the first of the runs compiles them, and does not count. Exit code 1
where a limit is missed.
"""

import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from html import unescape
from pathlib import Path

import httpx2

from benchmark_class import NOW, handed_in, prepared
from witnessmark.jobs.crew import every_core
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark

TASK, RUNS, STEPS = "big", 3, 15
FIRST_PAGE_SECONDS, STEP_SECONDS, MARKING_RATIO = 1.0, 0.1, 1.3
SECONDS = 600
SECONDS_TO_READ = 3.0
"""How long somebody reads the first answer before they decide: the desk reads ahead meanwhile."""
EMPTY = """
import sys, uvicorn
from starlette.applications import Starlette
from starlette.responses import Response
from starlette.routing import Route
from witnessmark.desk.serving import listening
async def empty(request):
    return Response()
listener = listening(0)
print('{"address": "http://127.0.0.1:%d/"}' % listener.getsockname()[1], flush=True)
app = Starlette(routes=[Route("/", empty, methods=["GET", "POST"])])
uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none", lifespan="off")).run(sockets=[listener])
"""
EMPTY_SERVER = (sys.executable, "-c", EMPTY)
HIDDEN = re.compile(r'<input type="hidden" name="(\w+)" value="([^"]*)"')
AGAIN = re.compile(r'http-equiv="refresh" content="(\d+); url=([^"]+)"')


def desk_on(folder: Path) -> tuple[str, ...]:
    """The command that opens the desk of a class."""
    return sys.executable, "-m", "witnessmark", "desk", str(folder), "--no-browser", "--json"


def seconds(act: Callable[[], object]) -> float:
    """Seconds of the clock that something takes."""
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


@contextmanager
def served(command: Sequence[str]) -> Iterator[tuple[httpx2.Client, httpx2.Response, float]]:
    """A server for a time: a browser at it, the first page, and in how many seconds of its start that came."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    try:
        with httpx2.Client(timeout=SECONDS, follow_redirects=True) as client:
            address = _first_address(process)
            page = client.get(address).raise_for_status()
            took = time.perf_counter() - start
            client.headers["Origin"] = address.partition("/?")[0].rstrip("/")
            client.base_url = client.headers["Origin"]
            yield client, page, took
    finally:
        process.terminate()
        process.communicate()


def _first_address(process: subprocess.Popen[str]) -> str:
    said = ""
    assert process.stdout is not None
    for line in process.stdout:
        said += line
        if line.rstrip().endswith("}"):
            return str(json.loads(said)["address"])
    raise SystemExit(f"the server ended before it told its address: {said}")


def first_page(folder: Path) -> bool:
    """How long after its start the desk shows a class; True within the limit."""
    nothing: list[float] = []
    empty: list[float] = []
    desk: list[float] = []
    for _run in range(RUNS + 1):  # the first fills the caches of the disk
        nothing.append(seconds(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True)))
        for command, times in ((EMPTY_SERVER, empty), (desk_on(folder), desk)):
            with served(command) as (_client, _page, took):
                times.append(took)
    floor, start, first = (statistics.median(times[1:]) for times in (nothing, empty, desk))
    print(f"first page after {first:.2f} s (limit {FIRST_PAGE_SECONDS:g}); an empty server's after {start:.2f} s, "
          f"ratio {first / start:.2f}; Python doing nothing {floor:.3f} s, ratio {first / floor:.1f}")  # fmt: skip
    return first <= FIRST_PAGE_SECONDS


def in_tray_step(folder: Path) -> bool:
    """How long a decision takes until the next answer is shown, once the first was read; True within the limit."""
    with served(EMPTY_SERVER) as (client, _page, _took):
        floor = statistics.median(seconds(lambda: (client.post("/"), client.get("/"))) for _step in range(100))
    room = f"/class/{folder.name}/task/{TASK}/tray"
    steps: list[float] = []
    with served(desk_on(folder)) as (client, _page, _took):
        page = client.get(room)
        time.sleep(SECONDS_TO_READ)
        for _step in range(STEPS):
            typed = dict(re.findall(HIDDEN, unescape(page.text))) | {"marks": "1", "why": "seen", "who": "K. Lantern"}
            start = time.perf_counter()
            page = client.post(room, data=typed).raise_for_status()
            steps.append(time.perf_counter() - start)
    step, slowest = statistics.median(steps), max(steps)
    print(f"in-tray step {step * 1000:.0f} ms, slowest {slowest * 1000:.0f} ms (limit {STEP_SECONDS * 1000:.0f} ms); "
          f"an empty answer to both requests {floor * 1000:.1f} ms, ratio {step / floor:.0f}")  # fmt: skip
    return step <= STEP_SECONDS


def by_page(client: httpx2.Client, room: str, books: Sequence[Path]) -> None:
    """Drop the books on the field of the room, which is open, and look again as the page says, until it is done."""
    files = [("files", (book.name, book.read_bytes())) for book in books]
    page = client.post(room, data={"who": "K. Lantern"}, files=files).raise_for_status()
    while again := AGAIN.search(page.text):
        time.sleep(float(again[1]))
        page = client.get(unescape(again[2])).raise_for_status()
    if f"{len(books)} of {len(books)} sheets are marked" not in page.text:
        raise SystemExit(f"the page did not mark them all:\n{page.text}")


def marking(issued: Path, books: Sequence[Path], at: Path) -> bool:
    """How long the page takes for the books against the command, each on a fresh class in turn; True within the
    limit."""
    page: list[float] = []
    command: list[float] = []
    for run in range(RUNS + 1):  # the first fills the caches of the disk
        one, two = (Path(shutil.copytree(issued, at / f"{name}-{run}")) for name in ("page", "command"))
        with served(desk_on(one)) as (client, _page, _took):
            room = f"/class/{one.name}/task/{TASK}/back"
            client.get(room).raise_for_status()
            page.append(seconds(lambda client=client, room=room: by_page(client, room, books)))  # type: ignore[misc]
        command.append(seconds(lambda folder=two: by_command(folder, books)))  # type: ignore[misc]
    page, command = page[1:], command[1:]
    ratio = statistics.median(page) / statistics.median(command)
    print(f"{len(books)} books by the page {_told(page)}, by the command {_told(command)}; "
          f"ratio {ratio:.2f} (limit {MARKING_RATIO:g})")  # fmt: skip
    return ratio <= MARKING_RATIO


def by_command(folder: Path, books: Sequence[Path]) -> None:
    """Copy the books into the class and mark them."""
    for book in books:
        shutil.copy(book, folder / "returned" / TASK / book.name)
    command = [sys.executable, "-m", "witnessmark", "mark", str(folder), TASK]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if f"{len(books)} of {len(books)}" not in done.stdout:
        raise SystemExit(f"the command did not mark them all:\n{done.stdout}{done.stderr}")


def _told(times: Sequence[float]) -> str:
    return f"{statistics.median(times):.1f} s ({min(times):.1f} to {max(times):.1f})"


def main() -> int:
    """The whole run; 1 where a limit is missed."""
    students = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    os.environ.setdefault("PYTHONPATH", str(Path(__file__).parents[1] / "src"))
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as temporary:
        at = Path(temporary)
        os.environ["PYTHONPYCACHEPREFIX"] = str(at / "compiled")
        issued = at / "issued"
        prepared(issued, students)
        issue(issued, TASK, NOW, crew=every_core)
        marked = Path(shutil.copytree(issued, at / "marked"))
        handed_in(marked)
        books = sorted((marked / "returned" / TASK).glob("*.xlsx"))
        well = [marking(issued, books, at)]
        mark(marked, TASK, NOW)
        well += [first_page(marked), in_tray_step(marked)]
    return int(not all(well))


if __name__ == "__main__":
    raise SystemExit(main())
