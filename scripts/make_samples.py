"""Make `exports/sample-*` anew from the demo: one sample of each document, and pictures, of the desk too.

Run `python scripts/make_samples.py` after a change that shows on a page. The documents are the same bytes at every run.
The pictures need LibreOffice, Chromium and poppler; without one of them the old picture stays, and is named.
"""

import shutil
import subprocess
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from threading import Thread

import uvicorn

from witnessmark.desk.app import Desk
from witnessmark.desk.keeping import Keeping
from witnessmark.desk.safety import Door
from witnessmark.desk.serving import listening
from witnessmark.desk.visit import address
from witnessmark.jobs.demonstrating import TASK, demo
from witnessmark.jobs.overlooking import overlook

EXPORTS = Path(__file__).parents[1] / "exports"
STUDENT = "HB03"  # two misconceptions, a comma for a point, and lines of the working filled in
LARGEST = 150_000  # bytes: what a repository should carry of what can be made again
CHROMIUM_OPTIONS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--hide-scrollbars", "--disable-sync",
    "--disable-background-networking", "--disable-component-update", "--disable-dev-shm-usage",
)  # fmt: skip
SMALLER = "--force-device-scale-factor=0.8"
Picture = Callable[[Path, Path], None]
"""Draws the demo's class folder (first) as the PNG file (second)."""


def documents(made: Path) -> dict[str, Path]:
    """Where the demo has put each document, by the name of its sample."""
    issued = made / "issued" / TASK
    return {
        "sample-sheet.pdf": issued / "sheets" / f"{STUDENT}.pdf",
        "sample-sheet.html": issued / "pages" / f"{STUDENT}.html",
        "sample-answer-book.xlsx": issued / "books" / f"{STUDENT}.xlsx",
        "sample-class-table.xlsx": issued / "class-table.xlsx",
        "sample-feedback.pdf": made / "feedback" / TASK / f"{STUDENT}.pdf",
        "sample-gradebook.xlsx": made / f"gradebook-{TASK}.xlsx",
        "sample-review.html": made / f"review-{TASK}.html",
        "sample-review.json": made / f"review-{TASK}.json",
    }


def run(*command: str | Path) -> None:
    """Run a program that draws; FileNotFoundError where it is missing."""
    subprocess.run([str(c) for c in command], check=True, capture_output=True, timeout=180, stdin=subprocess.DEVNULL)


def draw_pdf(pdf: Path, picture: Path, *options: str) -> None:
    """The first page of a PDF file as a PNG file."""
    run("pdftoppm", "-png", "-singlefile", "-r", "72", *options, pdf, picture.with_suffix(""))


def draw_sheet(made: Path, picture: Path) -> None:
    """The first page of a sheet."""
    draw_pdf(documents(made)["sample-sheet.pdf"], picture)


def draw_feedback(made: Path, picture: Path) -> None:
    """The first page of the feedback."""
    draw_pdf(documents(made)["sample-feedback.pdf"], picture)


def draw_gradebook(made: Path, picture: Path) -> None:
    """The first page of the gradebook, as LibreOffice prints it, without the empty foot of the paper."""
    profile, gradebook = (made / "profile").resolve().as_uri(), documents(made)["sample-gradebook.xlsx"]
    run("soffice", f"-env:UserInstallation={profile}", "--headless", "--convert-to", "pdf", "--outdir", made, gradebook)
    draw_pdf(made / f"gradebook-{TASK}.pdf", picture, "-x", "30", "-y", "40", "-W", "780", "-H", "350")


def draw_review(made: Path, picture: Path) -> None:
    """The upper part of the review page."""
    page = documents(made)["sample-review.html"].resolve().as_uri()
    profile = f"--user-data-dir={(made / 'browser').resolve()}"
    run("chromium", *CHROMIUM_OPTIONS, profile, "--window-size=820,935", f"--screenshot={picture}", page)


def draw_room(made: Path, picture: Path, *room: str, height: int) -> None:
    """The upper part of a room of the desk, served for this one look."""
    with closing(listening(0)) as listener:
        door = Door("picture", "let in", listener.getsockname()[1], address("class", made.name, *room))
        desk = Desk(Keeping(made.parent), door)
        server = uvicorn.Server(uvicorn.Config(desk.app(), log_level="error", ws="none", lifespan="off"))
        thread = Thread(target=lambda: server.run(sockets=[listener]), daemon=True)
        thread.start()
        try:
            profile = f"--user-data-dir={(made.parent / 'browser-of-desk').resolve()}"
            size, drawn = f"--window-size=1000,{height}", f"--screenshot={picture}"
            run("chromium", *CHROMIUM_OPTIONS, profile, size, SMALLER, drawn, door.address)
        finally:
            server.should_exit = True
            thread.join(30)


def draw_desk(made: Path, picture: Path) -> None:
    """The room of a class."""
    draw_room(made, picture, height=620)


def draw_in_tray(made: Path, picture: Path) -> None:
    """The in-tray of the task of the demo that leaves most to its teacher."""
    waiting = max(overlook(made).tasks, key=lambda task: task.waiting).key
    draw_room(made, picture, "task", waiting, "tray", height=1590)  # all of it: the field that waits for a key scrolls


PICTURES: dict[str, Picture] = {
    "sample-desk.png": draw_desk,
    "sample-in-tray.png": draw_in_tray,
    "sample-sheet.png": draw_sheet,
    "sample-feedback.png": draw_feedback,
    "sample-gradebook.png": draw_gradebook,
    "sample-review.png": draw_review,
}


def main() -> None:
    """Make every sample; exit code 1 when one has grown too large."""
    with tempfile.TemporaryDirectory() as temporary:
        made = Path(temporary) / "class"
        demo(made)
        for name, source in documents(made).items():
            shutil.copyfile(source, EXPORTS / name)
        for name, draw in PICTURES.items():
            try:
                draw(made, EXPORTS / name)
            except FileNotFoundError as missing:
                print(f"{name} stays as it was: {missing.filename} is not installed")
    large = [name for name in (*documents(EXPORTS), *PICTURES) if (EXPORTS / name).stat().st_size > LARGEST]
    print("\n".join(f"{p.stat().st_size:7} bytes  {p.name}" for p in sorted(EXPORTS.glob("sample-*"))))
    if large:
        raise SystemExit(f"over {LARGEST} bytes: {', '.join(large)}")


if __name__ == "__main__":
    main()
