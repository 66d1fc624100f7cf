"""Who makes documents: in order, few at a time, and all or nothing, wherever the work is done."""

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from contextlib import contextmanager
from itertools import accumulate
from pathlib import Path

import pytest

from jobs.small_class import LATER, NOW, TASK, contents, small_class, write_students
from witnessmark.jobs.crew import BATCHES, FEW, LARGEST_BATCH, ON_THEIR_WAY, Crew, Hands, every_core
from witnessmark.jobs.issuing import issue
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

MANY = tuple((f"HB{n:02}", f"Apprentice {n}", "Heron Boats") for n in range(1, FEW + 1))


def class_of_many(folder: Path) -> Path:
    """A class that is large enough for several processes."""
    small_class(folder)
    write_students(folder, MANY)
    return folder


def doubled(numbers: Sequence[int]) -> list[int]:
    return [2 * n for n in numbers]


def killed_at_seven(numbers: Sequence[int]) -> list[int]:
    if 7 in numbers:
        os.kill(os.getpid(), signal.SIGKILL)
    return list(numbers)


def refused(numbers: Sequence[int]) -> list[int]:
    raise ProblemsFound([Problem("odd", Place("here", 3, 1), "even numbers", f"{numbers[0]}", "type others")])


class Counting(Executor):
    """Does the work at once, and counts how much of it was never asked for."""

    def __init__(self) -> None:
        self.begun = 0

    def submit(self, work, /, *arguments, **named):  # type: ignore[no-untyped-def] # as the standard library says
        self.begun += 1
        future: Future[object] = Future()
        future.set_result(work(*arguments, **named))
        return future


def test_results_come_in_order_with_how_many_things_are_done() -> None:
    with ThreadPoolExecutor(3) as executor:
        found = list(Hands(executor, 4).each(doubled, range(100)))
    assert [n for _, several in found for n in several] == [2 * n for n in range(100)]
    assert [done for done, _ in found][-1] == 100
    assert all(len(several) < 10 for _, several in found), "a class this size is not parted finely enough"


@pytest.mark.parametrize("count", [0, 1, 30, 101])
def test_each_thing_is_done_once_and_counted_with_its_batch(count: int) -> None:
    with ThreadPoolExecutor(2) as executor:
        shared = list(Hands(executor, 2 * ON_THEIR_WAY).each(doubled, range(count)))
    assert all(len(several) <= max(1, count // BATCHES) for _, several in shared)
    for found in (shared, list(Hands().each(doubled, range(count)))):
        assert [n for _, several in found for n in several] == [2 * n for n in range(count)]
        assert [done for done, _ in found] == list(accumulate(len(several) for _, several in found))


def test_batches_of_several_processes_grow_smaller_towards_the_end_and_those_of_one_do_not() -> None:
    shared = [len(several) for _, several in Hands(Counting(), 2 * ON_THEIR_WAY).each(doubled, range(1000))]
    alone = [len(several) for _, several in Hands().each(doubled, range(1000))]
    one_other = [len(several) for _, several in Hands(Counting(), ON_THEIR_WAY).each(doubled, range(1000))]
    assert shared[-11:] == [10, 8, 6, 4, 3, 3, 2, 1, 1, 1, 1]
    assert one_other[-6:] == [12, 8, 4, 2, 1, 1]
    assert set(shared[:-11]) == set(alone[:-1]) == {LARGEST_BATCH}


def test_only_a_few_batches_are_begun_before_the_first_is_taken() -> None:
    executor = Counting()
    results = Hands(executor, 3).each(doubled, range(1000))
    next(results)
    assert executor.begun == 3
    assert [next(results) and executor.begun for _ in range(4)] == [4, 5, 6, 7]


def test_a_process_that_is_killed_is_a_problem_and_no_result() -> None:
    with every_core(FEW, cores=2) as hands, pytest.raises(ProblemsFound) as raised:
        list(hands.each(killed_at_seven, range(FEW)))
    assert [p.code for p in raised.value.problems] == ["worker-ended"]


def test_problems_of_a_process_arrive_as_they_were_raised() -> None:
    with every_core(FEW, cores=2) as hands, pytest.raises(ProblemsFound) as raised:
        list(hands.each(refused, range(FEW)))
    assert [str(p) for p in raised.value.problems] == ["here:3:1: [odd] expected even numbers, found 0; type others"]


def test_few_documents_and_one_core_need_no_other_process() -> None:
    with every_core(FEW - 1, cores=8) as few, every_core(FEW, cores=1) as alone:
        assert few.executor is None
        assert alone.executor is None


def test_two_processes_write_the_same_files_as_one(tmp_path: Path) -> None:
    one, two = class_of_many(tmp_path / "one"), class_of_many(tmp_path / "two")
    told: list[tuple[str, int, int]] = []
    issue(one, TASK, NOW)
    issue(two, TASK, NOW, lambda *step: told.append(step), crew=lambda count: every_core(count, cores=2))
    assert contents(two / "issued") == contents(one / "issued")
    assert told[-1] == ("sheets", FEW, FEW)
    assert [done for _, done, _ in told] == sorted({done for _, done, _ in told})


def stopped_by(error: BaseException) -> Crew:
    """A crew whose work is interrupted after the first sheets."""

    class Interrupted(Hands):
        def each(self, work, things):  # type: ignore[no-untyped-def] # as Hands says
            yield from list(super().each(work, things))[:2]
            raise error

    @contextmanager
    def crew(_count: int) -> Iterator[Hands]:
        yield Interrupted()

    return crew


@pytest.mark.parametrize("error", [KeyboardInterrupt(), ProblemsFound([])])
def test_what_is_stopped_in_the_middle_leaves_no_file_and_no_sheet(tmp_path: Path, error: BaseException) -> None:
    folder = small_class(tmp_path / "class")
    before = contents(folder)
    with pytest.raises(type(error)):
        issue(folder, TASK, LATER, crew=stopped_by(error))
    after = contents(folder, without=["record.db"])
    assert after == {name: digest for name, digest in before.items() if name != "record.db"}
    assert [s.student.code for s in issue(folder, TASK, LATER).new] == ["HB01", "HB02", "LW01", "LW02"]
