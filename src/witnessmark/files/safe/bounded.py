"""Reading a file that may be anything: only a real file is opened, and never more of it than is wanted."""

import os
import stat
from pathlib import Path

from witnessmark.words.problems import Place, Problem

NO_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
EXPECTED = "a file that can be read"


def read_bounded(path: Path, most: int, file: str = "") -> tuple[bytes, tuple[Problem, ...]]:
    """The bytes of a file; with a problem (of `file`) where it is none, is no longer there, or has more than `most`.

    A pipe, a device, and a link to one are never opened: they can wait for ever, or give without end.
    """
    file = file or str(path)
    try:
        kind = path.stat().st_mode
        if not stat.S_ISREG(kind):
            return b"", (_no_file(kind, file),)
        with os.fdopen(os.open(path, os.O_RDONLY | NO_WAITING), "rb") as opened:
            size = os.fstat(opened.fileno()).st_size
            data = opened.read(most + 1) if size <= most else b""
    except (OSError, ValueError) as error:  # ValueError: a name with a nought in it
        return b"", (not_readable(error, file),)
    size = max(size, len(data))
    if size > most:
        remedy = "keep only what belongs there, or split it"
        return b"", (Problem("file-too-large", Place(file), f"at most {most} bytes", f"{size}", remedy),)
    return data, ()


def text_or_nothing(path: Path, most: int) -> str:
    """The text of a file in UTF-8, bytes that are none replaced; empty where it is no ordinary file or too large."""
    data, _ = read_bounded(path, most)
    return data.decode("utf-8-sig", errors="replace")


def not_readable(error: OSError | ValueError, file: str) -> Problem:
    """The problem of a file or folder that the operating system does not let us read."""
    found = getattr(error, "strerror", None) or str(error)
    remedy = "close it in other programs and look whether you may read it"
    return Problem("not-readable", Place(file), EXPECTED, found, remedy)


def _no_file(kind: int, file: str) -> Problem:
    names = ((stat.S_ISDIR, "a folder"), (stat.S_ISFIFO, "a pipe"), (stat.S_ISSOCK, "a socket"))
    found = next((name for is_kind, name in names if is_kind(kind)), "a device")
    return Problem("no-file", Place(file), EXPECTED, found, "put an ordinary file there")
