"""A process that has imported every command, and forks a child for each that it is asked to run: one that is killed
after a time, or whose disk fails at a call (`faulty_disk.c`). Requests and answers are lines of JSON."""

import contextlib
import ctypes
import json
import os
import select
import signal
import sys
import time
from datetime import datetime
from typing import Any

from click.testing import CliRunner

import bank_fixture  # noqa: F401 - the bank is read before the fork, so that no child has to
import witnessmark.cli.shared
from witnessmark.cli.main import main
from witnessmark.jobs import (  # noqa: F401 - imported before the fork, so that no child has to
    accepting,
    checking,
    counting,
    issuing,
    marking,
    moderating,
    removing,
    restoring,
    returning,
    reviewing,
    undoing,
    verifying,
)  # fmt: skip

KILLED = -1
PATIENCE = 120.0
SET_CHILD_SUBREAPER = 36
"""linux/prctl.h."""
DISK = ctypes.CDLL(None) if os.environ.pop("LD_PRELOAD", "") else None


def child(asked: dict[str, Any], answers: int) -> None:
    """Run the commands of a request one after the other, and tell what each printed."""
    os.setsid()
    now = datetime.fromisoformat(asked["now"])
    witnessmark.cli.shared.now = lambda: now
    told = []
    for argv in asked["commands"]:
        if DISK and asked.get("manner"):
            DISK.disk_fails(asked["below"].encode(), ctypes.c_long(asked["at"]), asked["manner"], asked["error"])
        done = CliRunner().invoke(main, argv)
        calls = 0
        if DISK:
            calls = DISK.disk_calls()
            DISK.disk_fails(b"", ctypes.c_long(0), 0, 0)
        crash = repr(done.exception) if done.exception and not isinstance(done.exception, SystemExit) else ""
        told.append({"exit": done.exit_code, "output": done.output, "crash": crash, "calls": calls})
    with os.fdopen(answers, "wb") as pipe:
        pipe.write(json.dumps(told).encode())
    os._exit(0)


def served(asked: dict[str, Any]) -> dict[str, Any]:
    """What became of a request: the answers of its commands (none when it was killed), the time, who is left over."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(reading)
        child(asked, writing)
    os.close(writing)
    begun = time.monotonic()
    limit = asked["kill_after"] if asked.get("kill_after") is not None else PATIENCE
    told = b""
    if select.select([reading], [], [], limit)[0]:
        with os.fdopen(reading, "rb") as pipe:
            told = pipe.read()
    else:
        os.kill(pid, signal.SIGKILL)
        os.close(reading)
    os.waitpid(pid, 0)
    took = time.monotonic() - begun
    return {"told": json.loads(told) if told else [], "took": took, "left": left_over(pid)}


def left_over(session: int) -> bool:
    """True where another process of the child's session goes on after a generous while."""
    for _ in range(1000):
        _buried()
        try:
            os.killpg(session, 0)
        except ProcessLookupError:
            return False
        time.sleep(0.01)
    return True


def _buried() -> None:
    """Take note of processes that ended after their parent was killed: they are ours now, and count until we have."""
    with contextlib.suppress(ChildProcessError):
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass


if __name__ == "__main__":
    if sys.platform.startswith("linux"):
        ctypes.CDLL(None).prctl(SET_CHILD_SUBREAPER, 1, 0, 0, 0)
    for line in sys.stdin:
        sys.stdout.write(json.dumps(served(json.loads(line))) + "\n")
        sys.stdout.flush()
