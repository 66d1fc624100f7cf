"""The process that reads workbooks, one after the other: what a file does to it, it does to nothing else.

It says READY, then takes a length (8 bytes, big-endian) and the bytes of a workbook, and answers with a length and what
`packed` packs, until its input ends. It opens no file and no connection; it may use MOST_MEMORY and MOST_SECONDS.
"""

import os
import signal
import sys
from typing import Any, BinaryIO

from witnessmark.files.workbooks.archive import too_large
from witnessmark.files.workbooks.cells import workbook_of
from witnessmark.files.workbooks.limits import LENGTH, MOST_MEMORY, MOST_SECONDS, READY, too_much_work
from witnessmark.files.workbooks.packed import packed
from witnessmark.files.workbooks.pages import TooMuch

try:
    import resource
except ImportError:  # Windows has none: there the limits on what a book may hold stand alone
    resource: Any = None  # type: ignore[no-redef]


def main() -> None:
    """Serve until the input ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who stops the command ends the input too
    source, answers = sys.stdin.buffer, _own_output()
    _limit("RLIMIT_AS", MOST_MEMORY)
    _limit("RLIMIT_CORE", 0)
    answers.write(READY)
    answers.flush()
    while (head := source.read(LENGTH)) and len(head) == LENGTH:
        _limit("RLIMIT_CPU", _seconds_used() + MOST_SECONDS)
        answer = answered(source.read(int.from_bytes(head, "big")))
        answers.write(len(answer).to_bytes(LENGTH, "big") + answer)
        answers.flush()


def answered(data: bytes) -> bytes:
    """What is read from the bytes of one workbook, packed."""
    try:
        return packed(*workbook_of(data, ""))
    except TooMuch as much:
        return packed(None, (too_large("", much.expected, much.found),))
    except (MemoryError, RecursionError):
        return packed(None, (too_much_work(),))


def _own_output() -> BinaryIO:
    """The way for answers; whatever else a library prints goes nowhere."""
    answers = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    return answers


def _limit(name: str, most: int) -> None:
    what = getattr(resource, name, None)
    if what is None:
        return
    try:
        resource.setrlimit(what, (most, resource.getrlimit(what)[1]))
    except (OSError, ValueError):
        return  # a system that does not know this limit, or has set a lower one


def _seconds_used() -> int:
    used = os.times()
    return int(used.user + used.system)
