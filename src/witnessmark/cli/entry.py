"""Where the program starts: the page of help is shown as it was prepared, all else is for the commands.

Click takes four times as long to load as Python takes to start, and the page is the same every time.
"""

import gc
import os
import sys

PREPARED = os.path.join(os.path.dirname(__file__), "help.txt")  # noqa: PTH118, PTH120 - pathlib loads as long as Python
WIDTH = 80
"""Columns that the page was prepared for (`scripts/write_commands.py`); a narrower terminal has it wrapped anew."""


def main() -> None:
    """Do what was typed."""
    if sys.argv[1:] in (["--help"], ["-h"]) and _columns() >= WIDTH and _said():
        return
    load_lightly()
    from witnessmark.cli.main import main as commands

    commands(prog_name="witnessmark")


def load_lightly() -> None:
    """Let what is loaded from here on load in five sixths of the time.

    What is loaded stays: nothing is gained by looking through it for garbage (`output.run` looks again). Packages that
    offer pydantic a plugin, for which it searches all that is installed, have no say here.
    """
    gc.disable()
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


def _said() -> bool:
    """Whether the prepared page was there and has been shown."""
    try:
        with open(PREPARED, encoding="utf-8") as file:  # noqa: PTH123 - as above
            page = file.read()
        sys.stdout.write(page)
        sys.stdout.flush()
    except BrokenPipeError:  # whoever read it has gone
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        sys.exit(1)
    except OSError:
        return False
    return True


def _columns() -> int:
    """How wide the terminal is; 80 where there is none."""
    try:
        return int(os.environ.get("COLUMNS", "")) or WIDTH
    except ValueError:
        pass
    try:
        return os.get_terminal_size(1).columns or WIDTH
    except OSError:
        return WIDTH
