"""Classes that many tests begin with: made once by each process that runs tests, and copied for whoever asks."""

import shutil
from collections.abc import Callable
from pathlib import Path

from jobs.small_class import NOW, TASK, small_class
from witnessmark.jobs.issuing import issue


def copied(build: Callable[[Path], object], folder: Path) -> Path:
    """A class of one's own at `folder`, as `build` (a function of a module) makes it.

    What was made lies beside the folders of the tests, as deep as theirs, for a class names its bank by the way there.
    """
    made = folder.parents[1] / f"made by {build.__module__}.{build.__qualname__}" / "class"
    whole = made.with_name("whole")
    if not whole.exists():
        shutil.rmtree(made, ignore_errors=True)
        build(made)
        whole.touch()
    shutil.copytree(made, folder)
    return folder


def issued_class(folder: Path) -> Path:
    """A small class of which the task was issued, to be changed."""
    return copied(_issued, folder)


def _issued(folder: Path) -> None:
    issue(small_class(folder), TASK, NOW)
