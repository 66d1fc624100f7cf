"""One writer at a time in a folder: a lock that the operating system lets go of when its holder ends, however it ends.

The two calls are in the standard library; a package for it would empty the file, which tells who holds it.
"""

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, datetime
from pathlib import Path

from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

LOCK = ".in-use"
WAIT_SECONDS = 60.0
PAUSE_SECONDS = 0.05
PATIENCE: ContextVar[float] = ContextVar("patience", default=WAIT_SECONDS)
"""How many seconds this thread waits for a folder: less where somebody looks on."""
FAR = 1 << 30
"""Where Windows locks a byte: far behind what the file tells, so that others can read who holds it."""

_HELD: ContextVar[frozenset[Path]] = ContextVar("held", default=frozenset())
"""The folders that the act of this thread holds already: what it calls may hold them once more."""

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        os.lseek(handle, FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

    def _let_go(handle: int) -> None:
        os.lseek(handle, FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _let_go(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)


@contextmanager
def in_use(folder: Path, by: str, wait: float | None = None) -> Iterator[None]:
    """Hold a folder for one writer; `by` is what others are told. Whoever waits longer than `wait` seconds (`PATIENCE`
    where it is left out) gets ProblemsFound; whoever holds the folder already goes on. The file of the lock stays,
    empty: taking it away would let two in."""
    held, here = _HELD.get(), folder.resolve()
    if here in held:
        yield
        return
    with _locked(folder, by, PATIENCE.get() if wait is None else wait):
        token = _HELD.set(held | {here})
        try:
            yield
        finally:
            _HELD.reset(token)


@contextmanager
def _locked(folder: Path, by: str, wait: float) -> Iterator[None]:
    try:
        handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as error:
        remedy = "look whether you may write there and whether the disk is full"
        found = error.strerror or str(error)
        problem = Problem("not-writable", Place(str(folder)), "a folder that can be written", found, remedy)
        raise ProblemsFound([problem]) from error
    try:
        _wait_for(handle, folder, wait)
        _tell(handle, f"{by}, process {os.getpid()}, since {datetime.now(UTC):%Y-%m-%d %H:%M:%S} UTC")
        try:
            yield
        finally:
            _tell(handle, "")
            _let_go(handle)
    finally:
        os.close(handle)


def _wait_for(handle: int, folder: Path, wait: float) -> None:
    begun = time.monotonic()
    while True:
        try:
            _take(handle)
        except OSError:
            if time.monotonic() - begun >= wait:
                raise ProblemsFound([_held(folder, wait)]) from None
            time.sleep(PAUSE_SECONDS)
        else:
            return


def _tell(handle: int, text: str) -> None:
    os.lseek(handle, 0, os.SEEK_SET)
    os.ftruncate(handle, 0)
    os.write(handle, text.encode())


def holder(folder: Path) -> str:
    """Who holds a folder and since when, as its holder told it."""
    try:
        return (folder / LOCK).read_text(encoding="utf-8", errors="replace") or "another program"
    except OSError:
        return "another program"


def _held(folder: Path, wait: float) -> Problem:
    expected = "a class that no other command is writing"
    found = f"in use by {holder(folder)} (waited {wait:.0f} s)"
    return Problem("class-in-use", Place(str(folder)), expected, found, "wait until it is done, and try again")
