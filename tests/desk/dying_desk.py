"""The desk as its command opens it, which is killed in the middle of an act: the first argument says of which.

Works are done in processes that read this file as well, so that they meet the same end; there the desk goes first.
"""

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable
from typing import Any

import witnessmark.desk.rooms.in_tray
from witnessmark.cli.main import main
from witnessmark.files.safe.atomic import Stage
from witnessmark.record import moderation, outcomes

DIES_IN: dict[str, tuple[Any, str, int]] = {
    "files-half-put": (Stage, "add", 2),
    "marks-half-stored": (outcomes, "store_outcomes", 1),
    "mark-half-given": (moderation, "store_moderation", 2),
    "mark-given-untold": (witnessmark.desk.rooms.in_tray, "decide", 1),
}
"""Where each comes to its end: after so many calls of this function."""


def dying(act: Callable[..., Any], calls: int) -> Callable[..., Any]:
    """The same, and after so many calls no process is left."""
    left = calls

    def act_and_die(*given: Any, **named: Any) -> Any:
        nonlocal left
        found, left = act(*given, **named), left - 1
        if not left:
            if multiprocessing.parent_process() is not None:
                os.kill(os.getppid(), signal.SIGKILL)
            os.kill(os.getpid(), signal.SIGKILL)
        return found

    return act_and_die


where, name, times = DIES_IN[sys.argv[1]]
setattr(where, name, dying(getattr(where, name), times))

if __name__ == "__main__":
    main(["desk", *sys.argv[2:]])
