"""Two commands at once on one class: one waits for the other, and nothing is lost. Many times each behind `--deep`."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of, small_class
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class

ROOT = Path(__file__).parents[2]
# A process that imports first, says that it is ready, waits for the other to be, and then runs one command.
COMMAND = """
import sys
from click.testing import CliRunner
from witnessmark.cli.main import main
from witnessmark.jobs import issuing, marking, moderating, removing, returning, reviewing, undoing
print("ready", flush=True)
sys.stdin.readline()
done = CliRunner().invoke(main, sys.argv[1:])
print(done.output)
if done.exception and not isinstance(done.exception, SystemExit):
    raise done.exception
sys.exit(done.exit_code)
"""
PAIRS = (
    ("mark", "mark"), ("issue", "issue"), ("return", "return"), ("remove", "return"), ("remove", "mark"),
    ("mark", "moderate"), ("mark", "return"), ("undo", "mark"),
)  # fmt: skip


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class that was issued, with two books marked and two more that came back since."""
    folder = small_class(tmp_path_factory.mktemp("two") / "class")
    issue(folder, TASK, NOW)
    sheets = sheets_of(folder)
    for code in ("HB01", "LW01"):
        hand_in(folder, sheets[code], right_answers(sheets[code]))
    mark(folder, TASK, NOW)
    for code in ("HB02", "LW02"):
        hand_in(folder, sheets[code], right_answers(sheets[code]))
    return folder


def arguments(command: str, folder: Path, code: str) -> list[str]:
    """The command line of a command."""
    return {
        "mark": ["mark", str(folder), TASK],
        "issue": ["issue", str(folder), TASK],
        "return": ["return", str(folder), TASK],
        "remove": ["remove", str(folder), "HB01", "--who", "K. Dekker"],
        "moderate": ["moderate", str(folder), code, "1a", "--marks", "1", "--why", "seen", "--who", "K. Dekker"],
        "undo": ["undo", str(folder), "--who", "K. Dekker", "--why", "too soon"],
    }[command]


def at_once(folder: Path, pair: tuple[str, str]) -> list[tuple[int, str]]:
    """Exit code and output of two commands that start together."""
    code = sheets_of(folder)["LW01"].code
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    both = [
        subprocess.Popen(
            [sys.executable, "-c", COMMAND, *arguments(command, folder, code)], env=env, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for command in pair
    ]  # fmt: skip
    for process in both:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in both:
        assert process.stdin is not None
        process.stdin.write("\n")
        process.stdin.flush()
    told = [process.communicate(timeout=300) for process in both]
    return [(process.returncode, "".join(said)) for process, said in zip(both, told, strict=True)]


def hold(ready: Path, tmp_path: Path, pair: tuple[str, str], times: int) -> None:
    """Run a pair so many times, each on a class as it was; both end with a sentence, and the class is whole."""
    for n in range(times):
        folder = tmp_path / f"class-{n}"
        shutil.copytree(ready, folder)
        for exit_code, said in at_once(folder, pair):
            assert "Traceback" not in said, said
            assert exit_code == 0 or "nothing-to-undo" in said, said
        with open_class(folder).record() as record:
            assert record.verify() == ()
            standing = record.proposals(TASK)
            returns = {r.sheet_code for r in record.returns(TASK)}
            assert set(standing) == returns  # what came in is marked, and what is marked came in
        if "remove" in pair:
            kept = [p for p in folder.rglob("*") if p.is_file() and b"Idris" in p.read_bytes()]
            assert kept == []
            assert not list(folder.rglob("HB01.*"))
        assert not list(folder.rglob(".together-*"))
        mark(folder, TASK, LATER)
        with open_class(folder).record() as record:
            if "undo" not in pair and "mark" in pair:
                assert {code: set(asks) for code, asks in standing.items()} == {
                    code: set(asks) for code, asks in record.proposals(TASK).items()
                }
        shutil.rmtree(folder)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_two_commands_at_once_lose_nothing(ready: Path, tmp_path: Path, pair: tuple[str, str]) -> None:
    hold(ready, tmp_path, pair, 1)


@pytest.mark.deep
@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_two_commands_at_once_lose_nothing_in_a_hundred_times(
    ready: Path, tmp_path: Path, pair: tuple[str, str]
) -> None:
    hold(ready, tmp_path, pair, 100)
