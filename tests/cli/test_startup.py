"""Nothing heavy is imported for help, and the program starts as a module too."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from source_rules import words
from witnessmark.cli.main import main

SOURCE = Path(__file__).parents[2] / "src"
HEAVY = words(
    "jinja2 lark mpmath numpy openpyxl pandas pint pydantic python_calamine rapidfuzz sqlite3 sympy typst xlsxwriter"
    " yaml"
)


def started(*words: str) -> subprocess.CompletedProcess[str]:
    """The program in a process of its own that tells what it imports."""
    return subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "witnessmark", *words],
        capture_output=True, text=True, timeout=120, check=False, stdin=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
    )  # fmt: skip


def imported(done: subprocess.CompletedProcess[str]) -> set[str]:
    """The top-level packages that were imported."""
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


@pytest.mark.parametrize("words", [["--help"], *([name, "--help"] for name in sorted(main.commands))], ids=" ".join)
def test_help_imports_nothing_heavy(words: list[str]) -> None:
    done = started(*words)
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: witnessmark")
    found = imported(done)
    assert "click" in found
    assert not found & HEAVY


def test_a_command_that_runs_does_import_what_it_needs(tmp_path: Path) -> None:
    done = started("issue", str(tmp_path / "nowhere"), "task")
    assert done.returncode == 1
    assert imported(done) & HEAVY


def test_importing_the_package_imports_nothing_heavy() -> None:
    code = "import sys, witnessmark; print(*sorted({m.partition('.')[0] for m in sys.modules}))"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
    )  # fmt: skip
    assert not set(done.stdout.split()) & HEAVY
