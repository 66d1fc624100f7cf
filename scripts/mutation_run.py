"""Runs the tests over mutants of the source, in copies of the tree, and names each mutant that no test noticed.

Run as `bash scripts/mutate [MODULE[:LINE] ...]`; a module is a path under src/witnessmark, or the beginning of one.
Without one every module with tests in `concerns.py` is tried: by the tests that concern it and, where none of these
notices a mutant, by others of the suite (not with `--first`). The same seed takes the same sample; of a line all are
taken. A mutant that changes no result is listed in `equivalent_mutants.toml`, with the reason, and left out. Exit code
1 where fewer than BAR are noticed.
"""

import argparse
import importlib
import json
import multiprocessing
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from multiprocessing.context import ForkProcess as Process
from pathlib import Path
from typing import TypeVar

import pytest

from concerns import REPOSITORY, others_of, tests_of
from mutants import Mutant, mutants_of

PACKAGE = Path("src") / "witnessmark"
EQUIVALENT = Path(__file__).with_name("equivalent_mutants.toml")
BAR = 0.95
ROOM = 3.0  # times the processor's time that the tests take without a mutant, and START more: then a mutant hangs
START = 20.0
PATIENCE = 20.0  # times that by the clock: whoever waits for ever uses no processor
IN_MEMORY = Path("/dev/shm")  # noqa: S108 - the tests of the record wait for the disk else
POLL = 0.05
HEAVY = ("numpy", "pandas", "sympy", "mpmath", "pint", "pydantic", "yaml", "rapidfuzz.fuzz", "openpyxl")
FORK = multiprocessing.get_context("fork")
T = TypeVar("T")
TestsOf = Callable[[str], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Tried:
    """A mutant of a module, and what became of it: `killed`, noticed `by others`, `hung` or `survived`."""

    module: str
    mutant: Mutant
    fate: str

    def __str__(self) -> str:
        return f"{PACKAGE / self.module}:{self.mutant.line} {self.mutant.old}  ->  {self.mutant.new}"


def modules_of(beginnings: Sequence[str]) -> list[str]:
    """Every module of the package that begins so, with tests that concern it."""
    root = REPOSITORY / PACKAGE
    every = sorted(p.relative_to(root).as_posix() for p in root.rglob("*.py") if p.stat().st_size)
    wanted = [m for m in every if not beginnings or any(m.startswith(b) for b in beginnings)]
    return [m for m in wanted if tests_of(m)]


@cache
def known_equivalent() -> set[tuple[str, str, str]]:
    """Module, old and new lines of each mutant that changes no result; each has its reason beside it."""
    entries = tomllib.loads(EQUIVALENT.read_text(encoding="utf-8")).get("equivalent", [])
    assert all(entry["because"] for entry in entries)
    return {(entry["module"], entry["old"], entry["new"]) for entry in entries}


def sample_of(module: str, size: int, seed: int) -> list[Mutant]:
    """Some mutants of a module, those known to be equivalent left out; the same for the same seed."""
    return some_of(every_mutant(module), size, f"{seed}|{module}")


def every_mutant(module: str) -> list[Mutant]:
    """The mutants of a module, those known to be equivalent left out."""
    known = known_equivalent()
    text = (REPOSITORY / PACKAGE / module).read_text(encoding="utf-8")
    return [m for m in mutants_of(text) if (module, m.old, m.new) not in known]


def of_line(place: str) -> list[tuple[str, Mutant]]:
    """Every mutant of one line, told as `MODULE:LINE`."""
    module, _, line = place.partition(":")
    return [(module, mutant) for mutant in every_mutant(module) if mutant.line == int(line)]


def drawn_from(modules: Sequence[str], count: int, seed: int) -> list[tuple[str, Mutant]]:
    """So many of all mutants of these modules, each as likely as any other, so that their share holds for all."""
    found = [(module, mutant) for module in modules for mutant in every_mutant(module)]
    print(f"{min(count, len(found))} of {len(found)} mutants in {len(modules)} modules", flush=True)
    return some_of(found, count, seed)


def some_of(every: Sequence[T], count: int, seed: int | str) -> list[T]:
    """So many of them, or all, in their order; the same for the same seed."""
    chosen = random.Random(seed).sample(range(len(every)), min(count, len(every)))  # noqa: S311
    return [every[i] for i in sorted(chosen)]


def copy_of_the_tree(tree: Path, folder: Path) -> Path:
    """A copy of what the tests need, in which the source may be changed."""
    left_out = [".git", ".venv*", ".*_cache", ".hypothesis", "dist", *(["__pycache__"] if tree == REPOSITORY else [])]
    shutil.copytree(tree, folder / "tree", ignore=shutil.ignore_patterns(*left_out))
    return folder / "tree"


class Clock:
    """Tells pytest to write down how much of the processor's time each file of tests takes."""

    def __init__(self, told: Path) -> None:
        self._told, self._seconds = told, dict[str, float]()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        """Around every test."""
        before, file = sum(os.times()[:4]), item.nodeid.partition("::")[0]
        found = yield
        self._seconds[file] = self._seconds.get(file, 0.0) + sum(os.times()[:4]) - before
        return found

    def pytest_sessionfinish(self) -> None:
        """After the last."""
        self._told.write_text(json.dumps(self._seconds), encoding="utf-8")


def run_tests(
    tree: Path, tests: Sequence[str], seconds: float = resource.RLIM_INFINITY, clock: Clock | None = None
) -> Process:
    """A process that ends with what pytest ends with, at the first test that fails; killed after so much work."""
    process = FORK.Process(target=_pytest, args=(tree, tests, int(seconds), clock))
    process.start()
    return process


def _pytest(tree: Path, tests: Sequence[str], seconds: int, clock: Clock | None) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, resource.RLIM_INFINITY))
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nothing, stream)
    os.chdir(tree)
    os.environ["PYTHONPATH"] = str(tree / "src")
    os.environ["TMPDIR"] = tempfile.tempdir = str(tree.parent)
    os.environ.pop("PYTHONPYCACHEPREFIX", None)
    os.environ["PYTHONDONTWRITEBYTECODE"] = "" if clock else "1"
    sys.pycache_prefix, sys.dont_write_bytecode = None, clock is None
    made = f"--basetemp={tree.parent / 'made'}"
    asked = ["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-profile=mutants", made, *tests]
    os._exit(pytest.main(asked, [clock] if clock else []))


def seconds_without(tree: Path, tests: Sequence[str]) -> dict[str, float]:
    """How much of the processor's time each file of these tests takes on the source as it is; they must pass. What is
    compiled then is kept in the tree for the mutants, none of which is kept: two, made within a second, could be taken
    for one."""
    told = tree.parent / "seconds.json"
    process = run_tests(tree, tests, clock=Clock(told))
    process.join()
    if process.exitcode != 0:
        raise SystemExit(f"without any mutant pytest ends with {process.exitcode}: {' '.join(tests)}")
    return dict(json.loads(told.read_text(encoding="utf-8")))


class Trial:
    """One mutant under test in a tree of its own, whose module holds it as long as the trial goes on."""

    def __init__(self, tree: Path, module: str, mutant: Mutant, tests: Sequence[str], seconds: float) -> None:
        self.module, self.mutant = module, mutant
        self._path = tree / PACKAGE / module
        self._before = self._path.read_text(encoding="utf-8")
        self._path.write_text(mutant.text, encoding="utf-8")
        self._until = time.monotonic() + seconds * PATIENCE
        self._process = run_tests(tree, tests, seconds)

    def fate(self) -> str | None:
        """What became of it, and the module as it was before; None while the tests still run."""
        code, hangs = self._process.exitcode, time.monotonic() > self._until
        if code is None and not hangs:
            return None
        if code is None:
            os.killpg(self._process.pid or 0, signal.SIGKILL)
            self._process.join()
        self._path.write_text(self._before, encoding="utf-8")
        return "hung" if code in {None, -signal.SIGXCPU} else "killed" if code else "survived"


class Trees:
    """Copies of the tree in a folder, one for each mutant that is tried at once."""

    def __init__(self, folder: Path, count: int) -> None:
        self._folder, self._count = folder, count
        self._first = copy_of_the_tree(REPOSITORY, folder / "0")
        self._others: list[Path] = []

    def fates(self, chosen: Sequence[tuple[str, Mutant]], tests: TestsOf) -> list[Tried]:
        """The fates of these mutants of modules by the tests of each, told as they become known."""
        takes = self._takes({module: tests(module) for module, _ in chosen})
        self._others = self._others or [
            copy_of_the_tree(self._first, self._folder / str(n)) for n in range(1, self._count)
        ]
        waiting, running = list(chosen), dict[Path, Trial]()
        found: list[Tried] = []
        while waiting or running:
            for tree in (self._first, *self._others):
                if tree not in running and waiting:
                    module, mutant = waiting.pop(0)
                    running[tree] = Trial(tree, module, mutant, tests(module), takes[module])
            time.sleep(POLL)
            for tree, trial in list(running.items()):
                if (fate := trial.fate()) is not None:
                    found.append(Tried(trial.module, trial.mutant, fate))
                    print(f"{fate}: {found[-1]}", flush=True)
                    del running[tree]
        return found

    def _takes(self, tests: dict[str, tuple[str, ...]]) -> dict[str, float]:
        """How much of the processor's time the tests of each module may take."""
        every = dict.fromkeys(test for some in tests.values() for test in some)
        seconds = seconds_without(self._first, list(every)) if every else {}
        used = {t: sum(s for file, s in seconds.items() if file == t or file.startswith(f"{t}/")) for t in every}
        return {module: sum(used[t] for t in some) * ROOM + START for module, some in tests.items()}


def try_all(chosen: Sequence[tuple[str, Mutant]], jobs: int, *, once: bool) -> list[Tried]:
    """The fates of these mutants of modules: by the tests that concern each, and then, but for `once`, by others."""
    with tempfile.TemporaryDirectory(dir=IN_MEMORY if IN_MEMORY.exists() else None) as folder:
        trees = Trees(Path(folder), jobs)
        first = trees.fates(chosen, tests_of)
        if once:
            return first
        passed = [t for t in first if t.fate == "survived" and others_of(t.module)]
        print(f"{len(passed)} passed; other tests are asked", flush=True)
        again = trees.fates([(t.module, t.mutant) for t in passed], others_of)
    second = {(t.module, t.mutant): "by others" if t.fate == "killed" else t.fate for t in again}
    return [replace(t, fate=second.get((t.module, t.mutant), t.fate)) for t in first]


def main() -> None:
    """Tries the mutants, and tells the share killed, module by module."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="*", help="paths under src/witnessmark, or how they begin, or PATH:LINE")
    parser.add_argument("--sample", type=int, default=15, help="how many mutants of each module (default 15)")
    parser.add_argument("--drawn", type=int, help="instead so many of all modules together, each mutant as likely")
    parser.add_argument("--seed", type=int, default=1, help="which sample (default 1)")
    parser.add_argument("--jobs", type=int, default=2, help="how many at once (default 2)")
    parser.add_argument("--first", action="store_true", help="ask only the tests that concern a module")
    asked = parser.parse_args()
    lines = [place for place in asked.modules if ":" in place]
    beginnings = [place for place in asked.modules if ":" not in place]
    modules = modules_of(beginnings) if beginnings or not lines else []
    if not modules and not lines:
        raise SystemExit(f"no module begins so and has tests in concerns.py: {' '.join(asked.modules)}")
    for library in HEAVY:  # once, for every process that is forked from this one
        importlib.import_module(library)
    if asked.drawn:
        chosen = drawn_from(modules, asked.drawn, asked.seed)
    else:
        chosen = [(module, mutant) for module in modules for mutant in sample_of(module, asked.sample, asked.seed)]
    chosen += [one for place in lines for one in of_line(place)]
    found = try_all(chosen, asked.jobs, once=asked.first)
    print()
    for module in dict.fromkeys(module for module, _ in chosen):
        own = [t for t in found if t.module == module]
        print(f"{sum(t.fate != 'survived' for t in own):4} of {len(own):4} noticed  {module}")
    survivors = [t for t in found if t.fate == "survived"]
    hung, others = (sum(t.fate == fate for t in found) for fate in ("hung", "by others"))
    share = 1 - len(survivors) / len(found)
    print(f"\n{len(found) - len(survivors)} of {len(found)} noticed, {hung} of them by a hang, {others} by others")
    print(f"{share:.1%} (at least {BAR:.0%} are wanted)")
    print(*survivors, sep="\n")
    raise SystemExit(share < BAR)


if __name__ == "__main__":
    main()
