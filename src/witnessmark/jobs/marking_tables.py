"""A table of answers marked on every core, as programs ask for it."""

import gc
import multiprocessing
import os
import sys
import threading
import warnings
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from typing import Any, TypeVar, cast, overload

from witnessmark.marking import frames
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules

Result = TypeVar("Result")


@overload
def mark_table(
    question: Question, frame: frames.Table, rules: Rules | None = None, *, as_class: bool = False
) -> frames.Table: ...


@overload
def mark_table(
    question: Question, frame: frames.Partitioned, rules: Rules | None = None, *, as_class: bool = False
) -> Any: ...


def mark_table(
    question: Question, frame: frames.Table | frames.Partitioned, rules: Rules | None = None, *, as_class: bool = False
) -> Any:
    """A copy of `frame` with the outcome of every answer beside it.

    `frame` has a column for each given, in its declared unit (numbers), and one for each part or line that was answered
    (`a`, `a.A_s`; text). A column with the name of a row given (`material`) holds the names of rows, whose cells count
    as givens; where all that is drawn is there, the letters of choices are known. Added for each answer: `a.marks`,
    `a.out_of`, `a.verdict`, `a.misconceptions` (ids joined by `+`), `a.sure`. Parts whose givens are absent are not
    marked. With `as_class` the rows are the students of one class, whose wrong methods tell on answers that stay in
    doubt. An answer may be a number, true or false, or missing, as for `mark`. UnknownName (a KeyError) when no column
    is a given, none is an answer, no answer can be marked, or a row is not in its table; TypeError for a cell that is
    no answer, or no number where a given stands.

    A table in partitions (`dask.dataframe`) is marked partition by partition, with the same result; then ValueError
    for `as_class`, which needs every row at once. A large table is marked on every core where copies of this process
    can be made: on Linux, and while it has one thread.
    """
    return frames.mark_table(question, frame, rules, as_class=as_class, workers=Copies(os.cpu_count() or 1))


@dataclass(frozen=True, slots=True)
class Copies:
    """This process and copies of it, so many together: threads would wait for one another, since marking does many
    short things with arrays, and a process begun anew would first have to load what this one has."""

    count: int

    def each(self, act: Callable[[int], Result], pieces: Sequence[int]) -> list[Result]:
        """What `act` gives for every piece, a number, in order, fit to be pickled; one after the other where there is
        but one, and where a copy might not have all that it needs. What a copy was stopped at, or met an error with, is
        done here."""
        workers = min(len(pieces), self.count)
        if workers < 2 or not _can_be_copied():
            return [act(piece) for piece in pieces]
        ours, *theirs = [pieces[n::workers] for n in range(workers)]
        begun = [_begun(act, share) for share in theirs]
        found = {piece: act(piece) for piece in ours} | _told_by(begun)
        return [found[piece] if piece in found else act(piece) for piece in pieces]


def _can_be_copied() -> bool:
    alone = threading.active_count() == 1 and not multiprocessing.current_process().daemon
    return sys.platform == "linux" and alone


def _told_by(open_ends: "list[Connection[Any, Any]]") -> dict[int, Any]:
    """What copies tell of the pieces of their shares, as far as they come."""
    found: dict[int, Any] = {}
    while open_ends:
        for end in cast("list[Connection[Any, Any]]", wait(open_ends)):
            try:
                piece, result = end.recv()
                found[piece] = result
            except (EOFError, OSError):  # it has no more to tell, or was stopped; that it ends is not waited for
                open_ends.remove(end)
                end.close()
    return found


def _begun(act: Callable[[int], Any], pieces: Sequence[int]) -> "Connection[Any, Any]":
    """A copy that works these pieces, and where it tells what it has."""
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of threads, which libraries stop before a copy
        context.Process(target=_tell, args=(act, pieces, theirs), daemon=True).start()
    theirs.close()
    return ours


def _tell(act: Callable[[int], Any], pieces: Sequence[int], end: "Connection[Any, Any]") -> None:
    gc.disable()  # a collection writes to every object, and so copies the whole memory
    done: list[tuple[int, Any]] = []
    with suppress(Exception):  # the same error is met where the piece is done again
        done.extend((piece, act(piece)) for piece in pieces)
    with suppress(OSError):  # nobody listens any longer
        for one in done:  # not before: who is to listen is at work
            end.send(one)
