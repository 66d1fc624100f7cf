"""A cluster makes the documents of a job: two processes over loopback, one of which is killed in the middle."""

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from jobs.small_class import NOW, TASK, contents, record_lines, small_class
from witnessmark.jobs import cluster as door
from witnessmark.jobs.cluster import of_cluster
from witnessmark.jobs.issuing import issue
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
