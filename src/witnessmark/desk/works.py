"""Work that takes longer than a page may: in a process of its own, with its progress, and an end on request.

A job that is stopped leaves the class as it was before or as it is after, so a process may be ended at any instant.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path
from threading import Event, Lock, Thread
from typing import Any

from witnessmark.desk.beside import Beside, started
from witnessmark.desk.words import _, speak, speech
from witnessmark.jobs.desk_settings import DeskSettings
from witnessmark.jobs.opened import Progress
from witnessmark.words.errors import ProblemsFound, WitnessMarkError
from witnessmark.words.faults import fault
from witnessmark.words.problems import Place, Problem

MOST_AT_ONCE = 2
MOST_KEPT = 50
GRACE_SECONDS = 5.0


Fields = tuple[tuple[str, str], ...]
"""Names and what is sent under them."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows to look at, under their headings."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A link or a form that leads on: its words, the address below the class, what is asked or sent; `with_why` where
    a reason belongs to it."""

    words: str
    address: tuple[str, ...]
    fields: Fields = ()
    with_why: bool = True


@dataclass(frozen=True, slots=True)
class Done:
    """What came of a work: sentences, the problems to look at, files to open (inside the class folder), where to go on,
    as words of an address below the class; rows to look at, links that lead on from it, and, where it was only shown
    yet, the form that does it."""

    told: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    files: tuple[Path, ...] = ()
    onward: tuple[str, ...] = ()
    table: Table | None = None
    ways: tuple[Way, ...] = ()
    confirm: Way | None = None


Act = Callable[..., Done]
"""A function of a module (it is named to the other process): its first argument is told the progress."""


@dataclass(slots=True)
class Work:
    """One work as it goes on: what it is, for which class (and task, where it is of one), how far it is, and in the end
    what came of it."""

    number: int
    title: str
    klass: str
    task: str = ""
    doing: str = ""
    done: int = 0
    total: int = 0
    result: Done | None = None
    is_stopped: bool = False
    process: SpawnProcess | None = None
    follower: Thread | None = None
    has_ended: Event = field(default_factory=Event)

    @property
    def goes_on(self) -> bool:
        """True until it has ended, well or not."""
        return self.result is None and not self.is_stopped

    def wait(self, seconds: float) -> None:
        """Return when it has ended, or after so many seconds."""
        if self.goes_on:
            self.has_ended.wait(seconds)


@dataclass(slots=True)
class Works:
    """All works of this desk. `at_once` does each before it is answered, in this process, for tests."""

    at_once: bool = False
    _kept: dict[int, Work] = field(default_factory=dict)
    _ready: Beside | None = None
    _lock: Lock = field(default_factory=Lock)

    def begin(self, title: str, klass: str, act: Act, *arguments: Any) -> Work:
        """Begin a work; raises ProblemsFound where others go on already."""
        with self._lock:
            going = [work for work in self._kept.values() if work.goes_on]
            if len(going) >= MOST_AT_ONCE:
                expected, found = _("work that can begin"), _("{title}, which goes on").format(title=going[0].title)
                remedy = _("wait until it is done, or stop it")
                raise ProblemsFound([Problem("busy", Place(title), expected, found, remedy)])
            work = Work(max(self._kept, default=0) + 1, title, klass)
            self._kept[work.number] = work
            for old in [n for n, one in self._kept.items() if not one.goes_on][:-MOST_KEPT]:
                del self._kept[old]
        if self.at_once:
            work.result = ended(act, lambda *told: None, arguments)
        else:
            self._start(work, act, arguments)
        return work

    def make_ready(self, act: Act) -> None:
        """Start the process that such a work will need, where it is to be expected, so that it begins sooner."""
        with self._lock:
            goes_on = any(work.goes_on for work in self._kept.values())
            is_there = self._ready is not None and self._ready.process.is_alive()
            if not (self.at_once or goes_on or is_there):
                self._ready = started(_do, act)

    def _start(self, work: Work, act: Act, arguments: Sequence[Any]) -> None:
        with self._lock:
            beside, self._ready = self._ready, None
        what = (act, arguments, speech())
        if beside is None or not beside.begins(_do, what):
            beside = started(_do, act)
            beside.begins(_do, what)
        work.process = beside.process
        work.follower = Thread(target=_follow, args=(work, beside.pipe), daemon=True)
        work.follower.start()

    def find(self, number: int) -> Work | None:
        """A work by its number."""
        return self._kept.get(number)

    def stop(self, number: int) -> None:
        """End a work that goes on."""
        work = self._kept.get(number)
        if work is not None and work.goes_on and work.process is not None:
            work.is_stopped = True
            work.has_ended.set()
            work.process.terminate()
            work.process.join(GRACE_SECONDS)
            if work.process.is_alive():
                work.process.kill()

    def stop_all(self) -> None:
        """End everything that goes on."""
        for number in list(self._kept):
            self.stop(number)
        with self._lock:
            if self._ready is not None:
                self._ready.give_up()


def ended(act: Act, progress: Progress, arguments: Sequence[Any]) -> Done:
    """What came of a work; what stopped it is among its problems."""
    try:
        return act(progress, *arguments)
    except ProblemsFound as error:
        return Done(problems=error.problems)
    except WitnessMarkError as error:
        return Done((str(error),))
    except Exception as error:  # noqa: BLE001 - a fault of one work is told, and the desk goes on
        return Done(
            problems=(fault(error, Place(act.__name__)).problem(_("no fault of the program"), _("please report it")),)
        )


def _do(pipe: Connection, act: Act, arguments: Sequence[Any], wanted: DeskSettings) -> None:
    """In the other process: do it, and tell what comes of it."""

    def progress(what: str, done: int, total: int) -> None:
        pipe.send((what, done, total))

    speak(wanted)
    pipe.send(ended(act, progress, arguments))
    pipe.close()


def _follow(work: Work, pipe: Connection) -> None:
    """Take over what a work tells, until it has ended."""
    try:
        while work.result is None:
            told = pipe.recv()
            if isinstance(told, Done):
                work.result = told
            else:
                work.doing, work.done, work.total = told
    except (EOFError, OSError):
        if not work.is_stopped:
            ended_early = Problem("ended", Place(work.title), _("work to its end"), _("a process that ended before"))
            work.result = Done(problems=(ended_early,))
    finally:
        work.has_ended.set()
        pipe.close()
        if work.process is not None:
            work.process.join(GRACE_SECONDS)
