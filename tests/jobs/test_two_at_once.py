"""Two commands at once on one class: one waits for the other, and nothing is lost. Many times each behind `--deep`."""

import os
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from jobs.copied import issued_class
from jobs.crashing import Server, server
from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes cannot be forked on this system")
PAIRS = (
    ("mark", "mark"), ("issue", "issue"), ("return", "return"), ("remove", "return"), ("remove", "mark"),
    ("mark", "moderate"), ("mark", "return"), ("undo", "mark"),
)  # fmt: skip


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class that was issued, with two books marked and two more that came back since."""
    folder = issued_class(tmp_path_factory.mktemp("two") / "class")
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
        "remove": ["remove", str(folder), "HB01", "--who", "K. Dekker", "--apply"],
        "moderate": ["moderate", str(folder), code, "1a", "--marks", "1", "--why", "seen", "--who", "K. Dekker"],
        "undo": ["undo", str(folder), "--who", "K. Dekker", "--why", "too soon"],
    }[command]


def at_once(folder: Path, pair: tuple[str, str], both: Sequence[Server]) -> list[tuple[int, str]]:
    """Exit code and output of two commands that start together, each in a process that has imported all before."""
    code = sheets_of(folder)["LW01"].code
    for one, command in zip(both, pair, strict=True):
        one.ask([arguments(command, folder, code)])
    told = [one.answer().told[0] for one in both]
    return [(one["exit"], f"{one['output']}{one['crash']}") for one in told]


def hold(ready: Path, tmp_path: Path, pair: tuple[str, str], both: Sequence[Server], times: int) -> None:
    """Run a pair so many times, each on a class as it was; both end with a sentence, and the class is whole."""
    for n in range(times):
        folder = tmp_path / f"class-{n}"
        shutil.copytree(ready, folder)
        for exit_code, said in at_once(folder, pair, both):
            assert "Traceback" not in said, said
            assert "[fault]" not in said, said
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


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, Server]]:
    """Two processes that run commands."""
    folder = tmp_path_factory.mktemp("servers")
    with server(folder, faulty=False) as one, server(folder, faulty=False) as other:
        yield one, other


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_two_commands_at_once_lose_nothing(
    ready: Path, tmp_path: Path, pair: tuple[str, str], both: tuple[Server, Server]
) -> None:
    hold(ready, tmp_path, pair, both, 1)


@pytest.mark.deep
@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_two_commands_at_once_lose_nothing_in_a_hundred_times(
    ready: Path, tmp_path: Path, pair: tuple[str, str], both: tuple[Server, Server]
) -> None:
    hold(ready, tmp_path, pair, both, 100)
