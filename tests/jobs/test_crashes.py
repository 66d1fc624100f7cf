"""Killed at any instant, on a full disk and on one with an error, a command leaves the class as before or as after.

Then `check` finds nothing wrong, the next command has cleared what was left, and what a person sees is a sentence.
"""

import random
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from jobs.crashing import COMMANDS, DEATH, FAULTS, Case, Ran, Server, argv, case, server, what_is_wrong

SENTENCE = re.compile(r"^\S.*\[[a-z-]+\] expected .*, found .", re.MULTILINE)
KILLS = 100
"""Of each command, at instants drawn anew each time: 1,000 in all."""
pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="needs fork, sessions and LD_PRELOAD")


@pytest.fixture(scope="module")
def runs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """Where commands run on a disk that can fail."""
    with server(tmp_path_factory.mktemp("server"), faulty=True) as made:
        yield made


def seen_by_a_person(ran: Ran) -> list[str]:
    """What is wrong with what a command told, if it could."""
    wrong = ["a process went on"] if ran.left else []
    for told in ran.told:
        said = told["output"]
        if told["crash"] or "Traceback" in said or "[fault]" in said:
            wrong.append(f"fell: {told['crash']} {said}")
        if told["exit"] and not SENTENCE.search(said):
            wrong.append(f"no sentence: {said!r}")
    return wrong


def failed(this: Case, folder: Path, runs: Server, kind: str, at: int) -> list[str]:
    """What is wrong after the disk failed in this way at this call that changes something."""
    manner, error = (DEATH, 0) if kind == "killed" else FAULTS[kind]
    words = argv(this.command, this.fresh(folder))
    ran = runs.run([words], below=str(folder), at=at, manner=manner, error=error)
    return [f"{kind} {at}: {one}" for one in seen_by_a_person(ran) + what_is_wrong(this, folder, runs)]


def killed(this: Case, folder: Path, runs: Server, after: float) -> list[str]:
    """What is wrong after it was killed so many seconds after it began."""
    words = argv(this.command, this.fresh(folder))
    ran = runs.run([words], kill_after=after)
    return [f"after {after:.3f} s: {one}" for one in seen_by_a_person(ran) + what_is_wrong(this, folder, runs)]


@pytest.mark.parametrize("command", ["mark", "return", "remove"])
def test_a_command_that_is_stopped_leaves_the_class_as_before_or_as_after(
    command: str, runs: Server, tmp_path: Path
) -> None:
    this, chance = case(command, tmp_path, runs), random.Random(command)
    wrong: list[str] = []
    for kind in ("killed", *FAULTS):
        wrong += failed(this, tmp_path / "trial", runs, kind, chance.randrange(1, this.calls + 1))
    assert this.calls > 20
    assert wrong == []


@pytest.mark.deep
@pytest.mark.parametrize("kind", ["killed", *FAULTS])
@pytest.mark.parametrize("command", COMMANDS)
def test_at_each_call_that_changes_something_on_the_disk(command: str, kind: str, runs: Server, tmp_path: Path) -> None:
    this = case(command, tmp_path, runs)
    wrong = [one for at in range(1, this.calls + 1) for one in failed(this, tmp_path / "trial", runs, kind, at)]
    assert wrong == []


@pytest.mark.deep
@pytest.mark.parametrize("command", COMMANDS)
def test_killed_at_instants_of_chance(command: str, runs: Server, tmp_path: Path) -> None:
    this = case(command, tmp_path, runs)
    instants = (random.uniform(0, this.took) for _ in range(KILLS))
    assert [one for after in instants for one in killed(this, tmp_path / "trial", runs, after)] == []
