"""Reads a workbook in a process of its own, with limits of time and memory; a new one takes over where it dies."""

import atexit
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Lock, Thread
from typing import IO

import witnessmark
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.workbooks.archive import LARGEST_FILE, broken
from witnessmark.files.workbooks.limits import LENGTH, MOST_WAIT, READY, too_much_work
from witnessmark.files.workbooks.packed import unpacked
from witnessmark.files.workbooks.pages import WorkbookCells
from witnessmark.words.problems import Problem

# openpyxl looks for numpy, and starts in half the time where there is none.
WORK = "import sys; sys.modules['numpy'] = None; from witnessmark.files.workbooks.worker import main; main()"
LARGEST_ANSWER = 60_000_000
SECONDS_TO_START = 60
Read = tuple[WorkbookCells | None, tuple[Problem, ...]]


def read_workbook(path: Path, file: str = "") -> Read:
    """The cells of a workbook; None with one problem (of `file`) when it cannot be read, whatever it holds."""
    file = file or str(path)
    data, problems = read_bounded(path, LARGEST_FILE, file)
    return (None, problems) if problems else workbook_from(data, file)


def workbook_from(data: bytes, file: str) -> Read:
    """The same of bytes that were read already."""
    answer = _READER.ask(data)
    try:
        return unpacked(answer, file) if answer else (None, (too_much_work(file),))
    except (LookupError, ValueError, TypeError):
        return None, (broken(file),)


def start_reading() -> None:
    """Start the process that will read, if it does not run yet, without waiting for it."""
    _READER.start()


class _Reader:
    """The one worker of this process."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._ready = False
        self._one_at_a_time = Lock()

    def start(self) -> None:
        with self._one_at_a_time:
            self._started()

    def ask(self, data: bytes) -> bytes:
        """The worker's answer; empty where it took too long or died."""
        with self._one_at_a_time:
            process = self._started()
            answer = b""
            if self._ready or _within(SECONDS_TO_START, lambda: _is_ready(process)):
                self._ready = True
                answer = _within(MOST_WAIT, lambda: _exchanged(process, data))
            if not answer:
                self._end()
            return answer

    def close(self) -> None:
        with self._one_at_a_time:
            self._end()

    def _started(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self._end()
            # -P: nothing that lies in the working folder is imported.
            command = [sys.executable, "-P", "-c", WORK]
            paths = os.pathsep.join([str(Path(witnessmark.__file__).parents[1]), *filter(None, sys.path)])
            self._process = subprocess.Popen(  # noqa: S603 - our own Python and our own module
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                env={**os.environ, "PYTHONPATH": paths},
            )  # fmt: skip
        return self._process

    def _end(self) -> None:
        process, self._process, self._ready = self._process, None, False
        if process is not None:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                _close(pipe)


def _within(seconds: float, act: Callable[[], bytes]) -> bytes:
    """What an act gives within so many seconds, else nothing; its thread ends when the worker's pipes do."""
    answers: SimpleQueue[bytes] = SimpleQueue()
    Thread(target=lambda: answers.put(act()), daemon=True).start()
    try:
        return answers.get(timeout=seconds)
    except Empty:
        return b""


def _is_ready(process: subprocess.Popen[bytes]) -> bytes:
    said = process.stdout.read(len(READY)) if process.stdout else b""
    return said if said == READY else b""


def _exchanged(process: subprocess.Popen[bytes], data: bytes) -> bytes:
    if process.stdin is None or process.stdout is None:
        return b""
    try:
        process.stdin.write(len(data).to_bytes(LENGTH, "big") + data)
        process.stdin.flush()
        size = int.from_bytes(process.stdout.read(LENGTH), "big")
        answer = process.stdout.read(size) if size <= LARGEST_ANSWER else b""
    except (OSError, ValueError):  # a pipe that broke, or was closed meanwhile
        return b""
    return answer if len(answer) == size else b""


def _close(pipe: IO[bytes] | None) -> None:
    if pipe is not None:
        try:
            pipe.close()
        except OSError:
            return  # what it still held has nobody to read it


_READER = _Reader()
atexit.register(_READER.close)
