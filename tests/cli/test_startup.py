"""The page of help needs no library, that of a command nothing heavy, and the program starts as a module too."""

import contextlib
import gc
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from source_rules import words
from witnessmark.cli import entry
from witnessmark.cli.entry import PREPARED, load_lightly
from witnessmark.cli.main import main
from witnessmark.cli.output import Shown

SOURCE = Path(__file__).parents[2] / "src"
HEAVY = words(
    "jinja2 lark mpmath numpy openpyxl pandas pint pydantic python_calamine rapidfuzz sqlite3 sympy typst xlsxwriter"
    " yaml"
)


def started(*words: str, columns: str = "80") -> subprocess.CompletedProcess[str]:
    """The program in a process of its own that tells what it imports."""
    return subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "witnessmark", *words],
        capture_output=True, text=True, timeout=120, check=False, stdin=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(SOURCE), "COLUMNS": columns},
    )  # fmt: skip


def imported(done: subprocess.CompletedProcess[str]) -> set[str]:
    """The top-level packages that were imported."""
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    """For a start in this process: what it sets is set back."""
    monkeypatch.setenv("PYDANTIC_DISABLE_PLUGINS", "__all__")
    yield monkeypatch
    gc.enable()
    gc.unfreeze()


@pytest.mark.parametrize("columns", ["80", "200", "", "wide"])
def test_the_program_starts_as_a_module_and_its_help_imports_no_library(columns: str) -> None:
    done = started("--help", columns=columns)
    assert done.returncode == 0
    assert done.stdout == Path(PREPARED).read_text(encoding="utf-8")
    assert not imported(done) & {*HEAVY, "click", "typing", "pathlib"}


def test_help_in_a_narrow_terminal_is_wrapped_to_it() -> None:
    done = started("-h", columns="60")
    assert done.stdout.startswith("Usage: witnessmark")
    assert max(map(len, done.stdout.splitlines())) <= 60
    assert "click" in imported(done)


def test_help_is_there_where_its_prepared_page_is_not(here: pytest.MonkeyPatch) -> None:
    here.setattr(entry, "PREPARED", "no-such-page")
    here.setattr(sys, "argv", ["witnessmark", "--help"])
    here.setenv("COLUMNS", "80")
    with pytest.raises(SystemExit) as ended:
        entry.main()
    assert ended.value.code == 0


def test_garbage_is_left_while_a_command_loads_and_collected_while_it_works(
    here: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    collects: list[bool] = []

    def loads() -> None:
        load_lightly()
        collects.append(gc.isenabled())

    here.setattr(sys, "argv", ["witnessmark", "check", str(tmp_path / "nowhere")])
    here.setattr(Shown, "list_problems", lambda *_: collects.append(gc.isenabled()))
    here.setattr(entry, "load_lightly", loads)
    with contextlib.suppress(SystemExit):
        entry.main()
    assert collects == [False, True]


ALL_HELP = """
import contextlib, io, json, sys
from witnessmark.cli.main import main
told = {}
for name in sorted(main.commands):
    before = set(sys.modules)
    with contextlib.redirect_stdout(io.StringIO()) as said:
        main([name, "--help"], prog_name="witnessmark", standalone_mode=False)
    told[name] = [said.getvalue(), sorted({m.partition(".")[0] for m in set(sys.modules) - before})]
print(json.dumps([sorted({m.partition(".")[0] for m in sys.modules}), told]))
"""


@pytest.fixture(scope="module")
def helped() -> tuple[set[str], dict[str, tuple[str, list[str]]]]:
    """What one process has imported that gave the help of every command; what each said, and what it imported more."""
    done = subprocess.run(
        [sys.executable, "-c", ALL_HELP], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
    )  # fmt: skip
    everything, told = json.loads(done.stdout)
    return set(everything), told


@pytest.mark.parametrize("name", sorted(main.commands))
def test_help_of_a_command_imports_nothing_heavy(
    helped: tuple[set[str], dict[str, tuple[str, list[str]]]], name: str
) -> None:
    said, more = helped[1][name]
    assert said.startswith(f"Usage: witnessmark {name}")
    assert not set(more) & HEAVY


def test_all_help_together_imports_click_and_nothing_heavy(
    helped: tuple[set[str], dict[str, tuple[str, list[str]]]],
) -> None:
    assert "click" in helped[0]
    assert not helped[0] & HEAVY


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


def test_what_reads_books_starts_without_openpyxl() -> None:
    code = "import sys, witnessmark.files.workbooks.worker; print('openpyxl' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
    )  # fmt: skip
    assert done.stdout.strip() == "False"
