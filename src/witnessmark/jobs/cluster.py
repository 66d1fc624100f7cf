"""The one door to a cluster: the workers of a Dask scheduler make documents and mark, wherever they are.

What is sent there: sheets, which carry codes, names and numbers, what was typed, and what was marked. Nothing else
leaves the machine.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from witnessmark.jobs.crew import ON_THEIR_WAY, Crew, Hands, ended_early
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

PLACE = Place("--scheduler")
SECONDS_TO_ANSWER = 10


def of_cluster(address: str) -> Crew:
    """The crew of a scheduler (`tcp://HOST:8786`). Raises ProblemsFound, before anything is done, where there is no
    such scheduler or the extra `witnessmark[cluster]` is not installed; and where a worker ended again and again."""

    @contextmanager
    def hands(_count: int) -> Iterator[Hands]:
        distributed = _library()
        try:
            client = distributed.Client(address, timeout=SECONDS_TO_ANSWER, set_as_default=False)
        except (OSError, ValueError) as error:
            raise ProblemsFound([_no_answer(address, error)]) from error
        try:
            with client.get_executor() as executor:
                yield Hands(executor, max(1, ON_THEIR_WAY * sum(client.nthreads().values())))
        except distributed.KilledWorker as error:
            raise ProblemsFound([ended_early(str(error))]) from error
        finally:
            client.close()

    return hands


def _library() -> Any:
    """Dask distributed, which has no types of its own."""
    try:
        import distributed
    except ModuleNotFoundError as error:
        expected, remedy = "the extra for clusters", "pip install 'witnessmark[cluster]'"
        raise ProblemsFound([Problem("no-cluster", PLACE, expected, "it is not installed", remedy)]) from error
    return distributed


def _no_answer(address: str, error: Exception) -> Problem:
    found = " ".join(str(error).split()) or type(error).__name__
    remedy = "look whether it runs there: dask scheduler"
    return Problem("no-scheduler", PLACE, f"a Dask scheduler that answers at {address}", found, remedy)
