"""One writer at a time in a folder, whoever it is and however it ends."""

import multiprocessing
import os
import re
import signal
from multiprocessing.synchronize import Event
from pathlib import Path
from threading import Thread

import pytest

from witnessmark.files.safe.in_use import LOCK, holder, in_use
from witnessmark.words.errors import ProblemsFound


def _hold(folder: str, held: Event, let_go: Event) -> None:
    """Runs in the other process."""
    with in_use(Path(folder), "witnessmark mark"):
        held.set()
        let_go.wait(60)


def test_a_second_writer_is_told_who_holds_the_folder_and_since_when(tmp_path: Path) -> None:
    context = multiprocessing.get_context("spawn")
    held, let_go = context.Event(), context.Event()
    process = context.Process(target=_hold, args=(str(tmp_path), held, let_go))
    process.start()
    try:
        assert held.wait(60)
        with pytest.raises(ProblemsFound) as caught, in_use(tmp_path, "witnessmark issue", wait=0.1):
            pass
        said = re.escape(f"{tmp_path}: [class-in-use] expected a class that no other command is writing, found ")
        since = r"since \d{4}-\d\d-\d\d \d\d:\d\d:\d\d UTC"
        held_by = rf"in use by witnessmark mark, process {process.pid}, {since} \(waited 0 s\)"
        assert re.fullmatch(rf"{said}{held_by}; wait until it is done, and try again", str(caught.value))
    finally:
        let_go.set()
        process.join(60)
    with in_use(tmp_path, "witnessmark issue", wait=0.1):
        assert holder(tmp_path).startswith("witnessmark issue, process ")


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL on this system")
def test_a_writer_that_was_killed_holds_nothing(tmp_path: Path) -> None:
    context = multiprocessing.get_context("spawn")
    held, let_go = context.Event(), context.Event()
    process = context.Process(target=_hold, args=(str(tmp_path), held, let_go))
    process.start()
    assert held.wait(60)
    assert process.pid is not None
    os.kill(process.pid, signal.SIGKILL)
    process.join(60)
    with in_use(tmp_path, "witnessmark issue", wait=0.1):
        pass


def test_a_writer_waits_until_the_other_is_done(tmp_path: Path) -> None:
    order = []

    def second() -> None:
        with in_use(tmp_path, "second", wait=60):
            order.append("second")

    with in_use(tmp_path, "first"):
        thread = Thread(target=second)
        thread.start()
        thread.join(0.3)
        order.append("first")
    thread.join(60)
    assert order == ["first", "second"]


def test_whoever_holds_a_folder_may_hold_it_once_more_and_others_wait_for_the_outer_end(tmp_path: Path) -> None:
    order: list[str] = []

    def second() -> None:
        with in_use(tmp_path, "second", wait=60):
            order.append("second")

    with in_use(tmp_path, "first"):
        with in_use(tmp_path / "." / "", "within", wait=0):
            thread = Thread(target=second)
            thread.start()
        thread.join(0.3)
        order.append("first")
    thread.join(60)
    assert order == ["first", "second"]


def test_what_is_held_is_let_go_when_its_holder_fails(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError), in_use(tmp_path, "first"):
        raise RuntimeError
    with in_use(tmp_path, "second", wait=0):
        pass
    assert (tmp_path / LOCK).read_bytes() == b""


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(ProblemsFound, match="not-writable"), in_use(tmp_path / "nowhere", "first"):
        pass
