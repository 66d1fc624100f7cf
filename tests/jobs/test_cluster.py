"""A cluster makes documents and marks: two processes over loopback, one of which is killed in the middle."""

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from distributed import LocalCluster

from jobs.small_class import (
    LATER,
    NOW,
    TASK,
    contents,
    hand_in,
    record_lines,
    right_answers,
    sheets_of,
    small_class,
)
from witnessmark.cli.main import main
from witnessmark.jobs import cluster as door
from witnessmark.jobs.cluster import of_cluster
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.words.errors import ProblemsFound

pytestmark = pytest.mark.filterwarnings("ignore")  # what a killed worker leaves behind is not ours to tidy


@pytest.fixture(scope="module")
def cluster() -> Iterator[LocalCluster]:
    """Two workers, a process each, which answer on this machine alone."""
    with LocalCluster(  # type: ignore[no-untyped-call] # Dask has no types there
        n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None, silence_logs=50
    ) as started:
        yield started


def test_a_worker_killed_in_the_middle_leaves_the_result_whole_and_equal(tmp_path: Path, cluster: LocalCluster) -> None:
    here, there = small_class(tmp_path / "here"), small_class(tmp_path / "there")
    killed: list[int] = []

    def kill_one(_what: str, done: int, _total: int) -> None:
        if not killed:
            killed.append(cluster.workers[0].pid)
            os.kill(killed[0], signal.SIGKILL)

    issue(here, TASK, NOW)
    issue(there, TASK, NOW, kill_one, crew=of_cluster(cluster.scheduler_address))
    assert killed
    assert contents(there / "issued") == contents(here / "issued")
    assert record_lines(there) == record_lines(here)


def refusal(address: str, folder: Path) -> str:
    """The problem of issuing by a scheduler that is of no use; the class is as it was."""
    small_class(folder)
    with pytest.raises(ProblemsFound) as raised:
        issue(folder, TASK, NOW, crew=of_cluster(address))
    assert not list((folder / "issued").rglob("*.*"))
    (problem,) = raised.value.problems
    return str(problem)


def test_without_the_extra_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert "pip install 'witnessmark[cluster]'" in refusal("tcp://127.0.0.1:9", tmp_path / "class")


def test_a_scheduler_that_does_not_answer_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(door, "SECONDS_TO_ANSWER", 1)
    assert "a Dask scheduler that answers at tcp://127.0.0.1:9" in refusal("tcp://127.0.0.1:9", tmp_path / "class")


def handed_in(folder: Path) -> Path:
    """A class whose apprentices have handed in: two all right, one with a wrong method, one with an odd entry."""
    issue(small_class(folder), TASK, NOW)
    for code, sheet in sheets_of(folder).items():
        answers = right_answers(sheet)
        if code == "HB02":
            answers["1.a"] = f"{float(answers['1.a'].split()[0]) / 2:.4g} kN"
        if code == "LW01":
            answers["1.a"] = "about right"
        hand_in(folder, sheet, answers)
    return folder


def test_marking_on_a_cluster_is_marking_here(tmp_path: Path, cluster: LocalCluster) -> None:
    here, there = handed_in(tmp_path / "here"), handed_in(tmp_path / "there")
    one = mark(here, TASK, LATER)
    other = mark(there, TASK, LATER, crew=of_cluster(cluster.scheduler_address))
    assert other.outcomes == one.outcomes
    assert {str(o.verdict) for by_ask in one.outcomes.values() for o in by_ask.values()} >= {"right", "unreadable"}
    assert [line.replace(str(there), str(here)) for line in record_lines(there)] == record_lines(here)


def test_marking_without_a_scheduler_that_answers_leaves_the_class_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = handed_in(tmp_path / "class")
    before = record_lines(folder)
    monkeypatch.setattr(door, "SECONDS_TO_ANSWER", 1)
    done = CliRunner().invoke(main, ["mark", str(folder), TASK, "--scheduler", "tcp://127.0.0.1:9"])
    assert done.exit_code == 1
    assert "a Dask scheduler that answers at tcp://127.0.0.1:9" in done.stderr
    assert record_lines(folder) == before
