"""Who makes the documents of a job and marks: this process, processes on every core, or those of a cluster.

A job is given a crew and hands out batches of work; it knows nothing of where they are done. What comes back comes in
order, and only a few batches are on their way at a time, so that memory does not grow with the class.
"""

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from itertools import accumulate, islice
from math import ceil
from multiprocessing.connection import wait
from threading import Thread
from typing import TypeVar

from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

T = TypeVar("T")
R = TypeVar("R")
FEW = 16
"""Below so many documents the other processes would take longer to start than to help."""
LARGEST_BATCH = 12
BATCHES = 16
ON_THEIR_WAY = 3
"""Batches for each process, so that none waits for work."""


@dataclass(frozen=True, slots=True)
class Hands:
    """An executor that does work, and how many batches of it may be on their way; None does it here."""

    executor: Executor | None = None
    at_once: int = 1

    def each(self, work: Callable[[Sequence[T]], R], things: Sequence[T]) -> Iterator[tuple[int, R]]:
        """How many things are done, and what `work` (a function of a module) gives of a batch, in order, as it comes.

        Other processes begin at once. What it raises ends all. Raises ProblemsFound where a process that worked ended
        before its work did.
        """
        batches = list(self._batches(things))
        done = accumulate(map(len, batches))
        if self.executor is None:
            return zip(done, map(work, batches), strict=True)
        waiting = iter(batches)
        with _told():
            going = deque(self.executor.submit(work, batch) for batch in islice(waiting, self.at_once))
        return zip(done, self._coming(self.executor, work, going, waiting), strict=True)

    def _batches(self, things: Sequence[T]) -> Iterator[Sequence[T]]:
        """Things in batches. Towards the end they grow smaller, so that no process waits long for the last of another
        (guided self-scheduling: Polychronopoulos and Kuck, IEEE Transactions on Computers C-36, 1987; from memory)."""
        largest, start = max(1, min(LARGEST_BATCH, len(things) // BATCHES)), 0
        while start < len(things):
            size = min(largest, ceil((len(things) - start) / (2 * self._processes))) if self.executor else largest
            yield things[start : start + size]
            start += size

    @property
    def _processes(self) -> int:
        return max(1, self.at_once // ON_THEIR_WAY)

    def _coming(
        self, executor: Executor, work: Callable[[Sequence[T]], R], going: deque[Future[R]],
        waiting: Iterator[Sequence[T]],
    ) -> Iterator[R]:  # fmt: skip
        """What comes of the batches that are going, one that is waiting sent for each that came."""
        try:
            while going:
                with _told():
                    come = going.popleft().result()
                yield come
                with _told():
                    going.extend(executor.submit(work, batch) for batch in islice(waiting, 1))
        finally:
            for future in going:
                future.cancel()

    def get_ready(self, work: Callable[..., object]) -> None:
        """Let other processes begin now, and load what `work` needs, while things to do are still gathered here."""
        if self.executor is not None:
            with _told():
                for _ in range(self._processes):
                    self.executor.submit(_nothing, work)

    def done(self, work: Callable[[Sequence[T]], R], things: Sequence[T]) -> Iterator[R]:
        """The same without the count, for who has nobody to tell."""
        return (result for _, result in self.each(work, things))


def _nothing(_work: Callable[..., object]) -> None:
    """What is named is loaded with it."""


@contextmanager
def _told() -> Iterator[None]:
    """Makes a process that ended before its work did a problem."""
    try:
        yield
    except BrokenExecutor as error:
        raise ProblemsFound([ended_early(str(error))]) from error


Crew = Callable[[int], AbstractContextManager[Hands]]
"""Told how much there is to do, gives hands for the time of a job."""


@contextmanager
def one_hand(_count: int) -> Iterator[Hands]:
    """All is done here, one thing after the other."""
    yield Hands()


@contextmanager
def every_core(count: int, cores: int | None = None) -> Iterator[Hands]:
    """A process for each core of this machine; none for a few documents, and none where there is one core."""
    cores = cores or os.cpu_count() or 1
    if cores < 2 or count < FEW:
        yield Hands()
        return
    # spawned, since typst has threads of its own, which a forked process would wait for without end
    pool = ProcessPoolExecutor(cores, multiprocessing.get_context("spawn"), _begin)
    try:
        yield Hands(pool, ON_THEIR_WAY * cores)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def ended_early(said: str) -> Problem:
    """The problem of a process that was ended from outside, or ran out of memory."""
    expected, remedy = "every document made", "look whether there is memory enough, and try again; nothing was changed"
    return Problem("worker-ended", Place("a process that made documents"), expected, f"it ended early: {said}", remedy)


def _begin() -> None:
    """In the other process: who stops the job stops it in one place; and nobody works on for a job that is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_the_job, daemon=True).start()


def _end_with_the_job() -> None:
    job = multiprocessing.parent_process()
    if job is not None:
        wait([job.sentinel])
        os._exit(1)
