"""The package run as a module is the command."""

import subprocess
import sys
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    """`python -m witnessmark` with these arguments."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "witnessmark", *arguments], env={"PYTHONPATH": str(SOURCE)},
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


@pytest.mark.parametrize(("argument", "code"), [("--help", 0), ("no-such-command", 2)])
def test_the_module_calls_itself_by_the_name_of_the_command(argument: str, code: int) -> None:
    done = run(argument)
    assert done.returncode == code
    assert (done.stdout or done.stderr).startswith("Usage: witnessmark ")
