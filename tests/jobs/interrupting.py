"""Jobs in a process of their own that is killed at one of its steps on the disk, with no chance to tidy up.

Steps are what Python tells before it opens, renames, removes or makes anything below the class folder; the process
kills itself there, so that every run can be repeated.
"""

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jobs.small_class import LATER, TASK, contents, record_lines
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.removing import remove
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review

STEPS = frozenset({"open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "shutil.rmtree"})
JOBS: dict[str, Callable[[Path], object]] = {
    "issue": lambda folder: issue(folder, TASK, LATER),
    "mark": lambda folder: mark(folder, TASK, LATER),
    "return": lambda folder: return_feedback(folder, TASK, LATER),
    "review": lambda folder: review(folder, TASK),
}
# These change files one by one, and are finished by a second call.
RESUMED: dict[str, Callable[[Path], object]] = {
    "remove": lambda folder: remove(folder, "HB02", "K. Dekker", LATER),
}


def _work(job: str, folder: str, stop_at: int, counted: str) -> None:
    """Runs in the other process: the job, killed at a step (0: never); the number of steps is written to a file."""
    steps = 0

    def step(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal steps
        if event in STEPS and arguments and str(arguments[0]).startswith(folder):
            steps += 1
            if steps == stop_at:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(step)
    (JOBS | RESUMED)[job](Path(folder))
    stop_at = -1
    Path(counted).write_text(str(steps), encoding="utf-8")


def run(job: str, folder: Path, stop_at: int = 0) -> int:
    """Do a job in another process; the number of its steps, or 0 when it was killed at one of them."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__])
    counted = folder.with_name(f"{folder.name}.steps")
    counted.unlink(missing_ok=True)
    process = context.Process(target=_work, args=(job, str(folder), stop_at, str(counted)))
    with pytest.MonkeyPatch.context() as patch:  # the server that imports all this once finds it by this path
        patch.setenv("PYTHONPATH", os.pathsep.join(sys.path))
        process.start()
    process.join(120)
    assert process.exitcode in (0, -signal.SIGKILL), (job, stop_at, process.exitcode)
    return int(counted.read_text(encoding="utf-8")) if process.exitcode == 0 else 0


def written(folder: Path) -> dict[str, str]:
    """The files that a person sees: those that are staged beside them are hidden."""
    found = contents(folder, without=["record.db", "record.db-journal"])
    return {path: digest for path, digest in found.items() if not any(p.startswith(".") for p in path.split("/"))}


def state(folder: Path) -> tuple[list[str], dict[str, str]]:
    """What the record holds (wherever the folder lies), and the files that a person sees."""
    return [line.replace(folder.as_posix(), "CLASS") for line in record_lines(folder)], written(folder)
