"""A process beside the desk, in which one work is done: it can be started before there is anything to do, and loads
then what the work will need."""

import multiprocessing
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import Any

from witnessmark.desk.staying import what_stays

Do = Callable[..., None]
"""A function of a module (it is named to the other process): its first argument is the pipe to tell by."""


@dataclass(frozen=True, slots=True)
class Beside:
    """The process, and the pipe to it."""

    process: SpawnProcess
    pipe: Connection

    def begins(self, do: Do, arguments: Sequence[Any]) -> bool:
        """Let it do its work, and then end; False where it has ended before."""
        if not self.process.is_alive():
            return False
        try:
            self.pipe.send((do, tuple(arguments)))
        except OSError:
            return False
        return True

    def give_up(self) -> None:
        """End it unused."""
        self.process.terminate()
        self.pipe.close()


def started(*loads: Callable[..., Any]) -> Beside:
    """A process that loads what these functions need, and waits."""
    spawning = multiprocessing.get_context("spawn")
    ours, theirs = spawning.Pipe()
    process = spawning.Process(target=_serve, args=(theirs,))
    process.start()
    theirs.close()
    ours.send(loads)
    return Beside(process, ours)


def _serve(pipe: Connection) -> None:
    """In the other process."""
    try:
        with what_stays():
            pipe.recv()
        do, arguments = pipe.recv()
    except (EOFError, KeyboardInterrupt):  # the desk is closed
        return
    do(pipe, *arguments)
