"""Commands on a class that are killed, or whose disk fails: what they must leave is as before or as after.

What is done here is done as a teacher does it: through the commands, each in a process of its own.
"""

import errno
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from jobs.interrupting import state
from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of, small_class, write_task
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import RECORD, open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.record.copies import copies_of

HERE = Path(__file__).parent
OWN = {".in-use", ".written.txt"}
"""Hidden files that belong to a class: the lock, and the list of what was written."""
ONCE, FROM_THEN_ON, DEATH = 1, 2, 3
FAULTS = {"disk-full": (FROM_THEN_ON, errno.ENOSPC), "disk-error": (ONCE, errno.EIO)}
State = tuple[list[str], dict[str, str]]


@dataclass(frozen=True)
class Ran:
    """What became of a run: what each command told (nothing where the process was killed), and seconds."""

    told: list[dict[str, Any]]
    took: float
    left: bool


class Server:
    """The process that runs commands (`crash_server.py`)."""

    def __init__(self, disk: Path | None) -> None:
        env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "OPENBLAS_NUM_THREADS": "1"}
        if disk:
            env["LD_PRELOAD"] = str(disk)
        command = [sys.executable, str(HERE / "crash_server.py")]
        self.process = subprocess.Popen(command, env=env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def run(self, commands: Sequence[Sequence[str]], **how: Any) -> Ran:
        """Commands one after the other in a new process; `kill_after` seconds, or `below`, `at`, `manner`, `error`."""
        self.ask(commands, **how)
        return self.answer()

    def ask(self, commands: Sequence[Sequence[str]], **how: Any) -> None:
        """Begin the same."""
        assert self.process.stdin is not None
        asked = {"commands": [list(c) for c in commands], "now": LATER.isoformat(), **how}
        self.process.stdin.write(json.dumps(asked) + "\n")
        self.process.stdin.flush()

    def answer(self) -> Ran:
        """What became of it, once it has ended."""
        assert self.process.stdout is not None
        return Ran(**json.loads(self.process.stdout.readline()))

    def close(self) -> None:
        """End it."""
        self.process.kill()
        self.process.communicate()


@contextmanager
def server(folder: Path, faulty: bool) -> Iterator[Server]:
    """A server for a time; with `faulty` its disk can fail."""
    disk = None
    if faulty:
        compiler = shutil.which("cc")
        if compiler is None or not sys.platform.startswith("linux"):
            pytest.skip("a failing disk is a C library for Linux, and there is no compiler")
        disk = folder / "faulty_disk.so"
        subprocess.run([compiler, "-shared", "-fPIC", "-o", disk, HERE / "faulty_disk.c", "-ldl"], check=True)
    made = Server(disk)
    try:
        yield made
    finally:
        made.close()


# The classes that commands start from, and the commands.

COMMANDS = ("issue", "mark", "moderate", "accept", "return", "remove", "counts", "undo", "restore", "review")


STAGES = {"issue": "new", "mark": "issued", "remove": "returned", "review": "returned"}
"""How far the class has come before a command; else it is marked."""


def ready_for(command: str, at: Path) -> Path:
    """A class of four with one question, as it is before this command; each stage is made once in a folder."""
    stage = STAGES.get(command, "marked")
    folder = at / stage
    if folder.is_dir():
        return folder
    if stage == "new":
        small_class(folder)
        write_task(folder, "[drain-hole]")
        return folder
    before = {"issued": "issue", "marked": "mark", "returned": "moderate"}[stage]
    shutil.copytree(ready_for(before, at), folder)
    further = {"issued": _issue_and_hand_in, "marked": _mark_two, "returned": _return}
    further[stage](folder)
    return folder


def _issue_and_hand_in(folder: Path) -> None:
    issue(folder, TASK, NOW)
    sheets = sheets_of(folder)
    for code in ("HB01", "LW01"):
        hand_in(folder, sheets[code], right_answers(sheets[code]))


def _return(folder: Path) -> None:
    return_feedback(folder, TASK, NOW)


def _mark_two(folder: Path) -> None:
    mark(folder, TASK, NOW)
    table = folder / "on-paper.csv"
    table.write_text("student,1a\nHB01,7 kN\nHB02,8 kN\n", encoding="utf-8")
    mark(folder, TASK, NOW, table)


def argv(command: str, folder: Path) -> list[str]:
    """The words of a command on this class."""
    deciding = ["--who", "K. Dekker", "--why", "seen on paper"]
    code = sheets_of(folder)["HB01"].code if command in ("moderate", "counts") else ""
    return {
        "issue": ["issue", str(folder), TASK],
        "mark": ["mark", str(folder), TASK],
        "moderate": ["moderate", str(folder), code, "1a", "--marks", "1", *deciding],
        "accept": ["accept", str(folder), TASK, "1a", "square-for-round", "--formula", "4*d*t*tau", "--keeps", "1",
                   "--say", "Roll the hole along a ruler.", "--apply", *deciding],
        "return": ["return", str(folder), TASK],
        "remove": ["remove", str(folder), "HB01", "--who", "K. Dekker", "--apply"],
        "counts": ["counts", str(folder), code, _second_return(folder, code) if command == "counts" else "", *deciding],
        "undo": ["undo", str(folder), *deciding],
        "restore": ["restore", str(folder), _first_copy(folder) if command == "restore" else ""],
        "review": ["review", str(folder), TASK],
    }[command]  # fmt: skip


def _first_copy(folder: Path) -> str:
    return copies_of(folder / RECORD)[0].name


def _second_return(folder: Path, code: str) -> str:
    with open_class(folder).record() as record:
        return str(record.all_returns(TASK, code)[1].number)


def hidden(folder: Path) -> list[str]:
    """What an interrupted command left behind, and does not belong there."""
    paths = (p for p in folder.rglob("*") if p.name not in OWN)
    parts = [p.relative_to(folder) for p in paths]
    return sorted(
        p.as_posix() for p in parts if any(x.startswith(".") for x in p.parts) or p.name.endswith(("-journal", ".part"))
    )


@dataclass(frozen=True)
class Case:
    """A command, the class before it, and its states before and after."""

    command: str
    ready: Path
    before: State
    after: State
    took: float
    calls: int

    def fresh(self, folder: Path) -> Path:
        """The class as it was, once more."""
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(self.ready, folder)
        return folder


def case(command: str, at: Path, runs: Server) -> Case:
    """A command that was done once without harm. Every trial lies at the same path, which the record may tell."""
    ready, folder = ready_for(command, at), at / "trial"
    plain = Case(command, ready, ([], {}), ([], {}), 0.0, 0)
    before = state(plain.fresh(folder))
    ran = runs.run([argv(command, folder)], below=str(folder), at=0, manner=ONCE, error=0)
    assert ran.told[0]["exit"] in (0, 1), ran.told
    assert ran.told[0]["crash"] == ""
    after = state(folder)
    assert before != after, ran.told
    return Case(command, ready, before, after, ran.took, ran.told[0]["calls"])


def as_one(found: State, wanted: State) -> str:
    """What of a state is otherwise than wanted, in a few words; empty where nothing is."""
    said = []
    if found[0] != wanted[0]:
        said.append("the record")
    said += [f"{p}" for p in sorted({*found[1], *wanted[1]}) if found[1].get(p) != wanted[1].get(p)]
    return ", ".join(said)


def what_is_wrong(this: Case, folder: Path, runs: Server) -> list[str]:
    """Everything that an interrupted command left otherwise than before or after, and what the next commands say."""
    wrong = []
    (checked,) = runs.run([["check", str(folder)]]).told
    interrupted = state(folder)
    (next_one,) = runs.run([_next(this, folder)]).told
    for what, told in (("check", checked), ("the next command", next_one)):
        if told["crash"] or "Traceback" in told["output"] or "[fault]" in told["output"]:
            wrong.append(f"{what} fell: {told['crash']} {told['output']}")
    if checked["exit"] and "record-interrupted" not in checked["output"]:
        wrong.append(f"check: {checked['output']}")
    found = _seen(this, interrupted, state(folder))
    kinds = [this.after] if this.command == "remove" else [this.before, this.after]
    differing = [as_one(found, one) for one in kinds]
    if all(differing):
        wrong.append(f"between: {' | '.join(differing)}")
    if left := hidden(folder):
        wrong.append(f"left behind: {left}")
    return wrong


def _next(this: Case, folder: Path) -> list[str]:
    """Another command: it must clear what was left. A removal is resumed by the same."""
    return argv("remove" if this.command == "remove" else "undo" if this.command == "review" else "review", folder)


def _seen(this: Case, interrupted: State, cleared: State) -> State:
    """What the command left, once the next one has cleared it: less what that one did itself."""
    if this.command == "review":
        return interrupted[0], cleared[1]
    return cleared[0], {p: d for p, d in cleared[1].items() if not p.startswith(f"review-{TASK}")}
