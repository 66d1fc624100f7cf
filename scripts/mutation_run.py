"""Runs the tests over mutants of the source, in copies of the tree, and names each mutant that no test noticed.

Run as `bash scripts/mutate [MODULE ...]`; a module is a path under src/witnessmark, or the beginning of one. Without
one every module with tests in `concerns.py` is tried: by the tests that concern it and, where none of these notices a
mutant, by others of the suite. The same seed takes the same sample. A mutant that changes no result is listed in
`equivalent_mutants.toml`, with the reason, and left out. Exit code 1 where fewer than BAR are noticed.
"""

import argparse
import importlib
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
from collections.abc import Sequence
from dataclasses import dataclass
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
START = 10.0
PATIENCE = 20.0  # times that by the clock: whoever waits for ever uses no processor
IN_MEMORY = Path("/dev/shm")  # noqa: S108 - the tests of the record wait for the disk else
POLL = 0.05
HEAVY = ("numpy", "pandas", "sympy", "mpmath", "pint", "pydantic", "yaml", "rapidfuzz.fuzz", "openpyxl")
FORK = multiprocessing.get_context("fork")
T = TypeVar("T")
Look = tuple[tuple[str, ...], float]


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


def run_tests(
    tree: Path, tests: Sequence[str], seconds: float = resource.RLIM_INFINITY, *, compiles: bool = False
) -> Process:
    """A process that ends with what pytest ends with, at the first test that fails; killed after so much work."""
    process = FORK.Process(target=_pytest, args=(tree, tests, int(seconds), compiles))
    process.start()
    return process


def _pytest(tree: Path, tests: Sequence[str], seconds: int, compiles: bool) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, resource.RLIM_INFINITY))
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nothing, stream)
    os.chdir(tree)
    os.environ["PYTHONPATH"] = str(tree / "src")
    os.environ.pop("PYTHONPYCACHEPREFIX", None)
    os.environ["PYTHONDONTWRITEBYTECODE"] = "" if compiles else "1"
    sys.pycache_prefix, sys.dont_write_bytecode = None, not compiles
    made = f"--basetemp={tree.parent / 'made'}"
    os._exit(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-profile=mutants", made, *tests]))


def seconds_without(tree: Path, tests: tuple[str, ...]) -> float:
    """How much of the processor's time the tests take on the source as it is; they must pass. What is compiled then is
    kept in the tree for the mutants, none of which is kept: two, made within a second, could be taken for one."""
    before = _work_of_children()
    process = run_tests(tree, tests, compiles=True)
    process.join()
    if process.exitcode != 0:
        raise SystemExit(f"without any mutant pytest ends with {process.exitcode}: {' '.join(tests)}")
    return _work_of_children() - before


def _work_of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


class Trial:
    """One mutant under test in a tree of its own, whose module holds it as long as the trial goes on.

    `looks` are the tests of each look with the seconds that they may take; the next follows where one noticed nothing.
    """

    def __init__(self, tree: Path, module: str, mutant: Mutant, looks: Sequence[Look]) -> None:
        self.module, self.mutant = module, mutant
        self._tree, self._path, self._looks = tree, tree / PACKAGE / module, iter(looks)
        self._before = self._path.read_text(encoding="utf-8")
        self._path.write_text(mutant.text, encoding="utf-8")
        self._noticed = "killed"
        self._look(next(self._looks))

    def fate(self) -> str | None:
        """What became of it, and the module as it was before; None while the tests still run."""
        code, hangs = self._process.exitcode, time.monotonic() > self._until
        if code is None and not hangs:
            return None
        if code is None:
            os.killpg(self._process.pid or 0, signal.SIGKILL)
            self._process.join()
        if code == 0 and (look := next(self._looks, None)) is not None:
            self._noticed = "by others"
            self._look(look)
            return None
        self._path.write_text(self._before, encoding="utf-8")
        return "hung" if code in {None, -signal.SIGXCPU} else self._noticed if code else "survived"

    def _look(self, look: Look) -> None:
        tests, seconds = look
        self._until = time.monotonic() + seconds * PATIENCE
        self._process = run_tests(self._tree, tests, seconds)


def try_all(chosen: Sequence[tuple[str, Mutant]], jobs: int) -> list[Tried]:
    """The fates of these mutants of modules, told as they become known."""
    waiting = list(chosen)
    found: list[Tried] = []
    with tempfile.TemporaryDirectory(dir=IN_MEMORY if IN_MEMORY.exists() else None) as folder:
        first = copy_of_the_tree(REPOSITORY, Path(folder) / "0")
        seconds = cache(lambda tests: seconds_without(first, tests) * ROOM + START)
        looks = {m: [(tests, seconds(tests)) for tests in looks_at(m)] for m in dict.fromkeys(m for m, _ in chosen)}
        trees = [first, *(copy_of_the_tree(first, Path(folder) / str(n)) for n in range(1, jobs))]
        running: dict[Path, Trial] = {}
        while waiting or running:
            for tree in trees:
                if tree not in running and waiting:
                    module, mutant = waiting.pop(0)
                    running[tree] = Trial(tree, module, mutant, looks[module])
            time.sleep(POLL)
            for tree, trial in list(running.items()):
                if (fate := trial.fate()) is not None:
                    found.append(Tried(trial.module, trial.mutant, fate))
                    print(f"{fate}: {found[-1]}", flush=True)
                    del running[tree]
    return found


def looks_at(module: str) -> list[tuple[str, ...]]:
    """The tests of the first look at a mutant of a module, and those of the second."""
    return [tests for tests in (tests_of(module), others_of(module)) if tests]


def main() -> None:
    """Tries the mutants, and tells the share killed, module by module."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="*", help="paths under src/witnessmark, or how they begin")
    parser.add_argument("--sample", type=int, default=15, help="how many mutants of each module (default 15)")
    parser.add_argument("--drawn", type=int, help="instead so many of all modules together, each mutant as likely")
    parser.add_argument("--seed", type=int, default=1, help="which sample (default 1)")
    parser.add_argument("--jobs", type=int, default=2, help="how many at once (default 2)")
    asked = parser.parse_args()
    modules = modules_of(asked.modules)
    if not modules:
        raise SystemExit(f"no module begins so and has tests in concerns.py: {' '.join(asked.modules)}")
    for library in HEAVY:  # once, for every process that is forked from this one
        importlib.import_module(library)
    if asked.drawn:
        chosen = drawn_from(modules, asked.drawn, asked.seed)
    else:
        chosen = [(module, mutant) for module in modules for mutant in sample_of(module, asked.sample, asked.seed)]
    found = try_all(chosen, asked.jobs)
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
