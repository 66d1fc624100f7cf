"""Runs the tests over mutants of the source, in copies of the tree, and names each mutant that no test noticed.

Run as `bash scripts/mutate [MODULE ...]`; a module is a path under src/witnessmark, or the beginning of one. Without
one every module of CONCERNS is tried. The same seed takes the same sample. A mutant that changes no result is listed in
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

from mutants import Mutant, mutants_of

REPOSITORY = Path(__file__).resolve().parents[1]
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

# The tests that concern a module: those of the longest beginning that fits. The quickest first, since one that fails
# ends the run.
CONCERNS: dict[str, tuple[str, ...]] = {
    "maths/rounding.py": ("tests/maths/test_rounding.py",),
    "questions/drawing/likeness.py": ("tests/questions/test_likeness.py", "tests/questions/test_separation.py"),
    "questions/drawing/space.py": ("tests/questions/test_drawing_laws.py", "tests/questions/test_likeness.py"),
    "questions/drawing/": (
        "tests/questions/test_drawing_laws.py",
        "tests/questions/test_likeness.py",
        "tests/questions/test_separation.py",
    ),
    "marking/hypotheses/": (
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_rounded_early.py",
        "tests/marking/test_edits.py",
    ),
    "marking/weighing/": (
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/weighing/class_priors.py": ("tests/marking/test_weighing_laws.py", "tests/marking/test_class_priors.py"),
    "marking/weighing/digits.py": ("tests/marking/test_digits.py", "tests/marking/test_weighing_laws.py"),
    "marking/weighing/screening.py": ("tests/marking/test_screening.py", "tests/marking/test_weighing_laws.py"),
    "marking/weighing/likelihood.py": (
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_before_it_was_rounded.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/hypotheses/plan.py": (
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_first_thoughts.py",
        "tests/marking/test_edits.py",
    ),
    "marking/hypotheses/conversions.py": ("tests/marking/test_hypotheses_laws.py",),
    "marking/hypotheses/first_thoughts.py": (
        "tests/marking/test_first_thoughts.py",
        "tests/marking/test_hypotheses_laws.py",
    ),
    "marking/kinds/commas.py": ("tests/marking/test_comma_habits.py",),
    "marking/kinds/several.py": ("tests/marking/test_several.py",),
    "marking/kinds/match.py": ("tests/marking/test_match.py",),
    "marking/kinds/limits.py": ("tests/marking/test_limits.py",),
    "marking/kinds/choice.py": ("tests/marking/test_kinds.py", "tests/marking/test_letters.py"),
    "marking/kinds/dispatch.py": (
        "tests/marking/test_kinds.py",
        "tests/marking/test_letters.py",
        "tests/marking/test_orders_and_points.py",
        "tests/marking/test_expressions.py",
    ),
    "marking/kinds/expression.py": ("tests/marking/test_expressions.py",),
    "marking/kinds/hand.py": ("tests/marking/test_kinds.py",),
    "marking/kinds/judge.py": (
        "tests/marking/test_kinds.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/kinds/order.py": ("tests/marking/test_orders_and_points.py",),
    "marking/kinds/points.py": ("tests/marking/test_orders_and_points.py",),
    "marking/kinds/quantity.py": (
        "tests/marking/test_units.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_carried_forward.py",
        "tests/marking/test_right.py",
    ),
    "marking/kinds/without_numbers.py": ("tests/marking/test_kinds.py",),
    "marking/kinds/wrong_answers.py": ("tests/marking/test_wrong_answers.py",),
    "marking/search/": (
        "tests/marking/test_changes.py",
        "tests/marking/test_near_fits.py",
        "tests/marking/test_samples.py",
        "tests/marking/test_search_tables.py",
        "tests/marking/test_unknown_methods.py",
    ),
    "marking/kinds/standard.py": ("tests/marking/test_standard.py",),
    "marking/": (
        "tests/marking/test_class_marking.py",
        "tests/marking/test_right.py",
        "tests/marking/test_units.py",
        "tests/marking/test_entries.py",
        "tests/marking/test_comma_habits.py",
        "tests/marking/test_table.py",
        "tests/marking/test_class_priors.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_rounded_early.py",
    ),
    "reading/number/": (
        "tests/reading/test_figures.py",
        "tests/reading/test_repairs.py",
        "tests/reading/test_reading_laws.py",
    ),
    "reading/number/comma_habits.py": ("tests/marking/test_comma_habits.py",),
    "record/copies.py": ("tests/record/test_copies.py",),
    "record/moderation.py": ("tests/record/test_moderation.py",),
    "record/removal.py": ("tests/record/test_removal.py", "tests/record/test_steps.py"),
    "record/chain.py": ("tests/record/test_chain.py",),
    "record/returns.py": ("tests/record/test_record.py", "tests/record/test_moderation.py"),
    "record/counting.py": ("tests/record/test_moderation.py", "tests/record/test_record.py"),
    "record/steps.py": ("tests/record/test_steps.py",),
    "record/codec.py": ("tests/record/test_codec.py",),
    "record/rows.py": ("tests/record/test_moderation.py", "tests/record/test_record.py"),
    "record/": ("tests/record",),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tried:
    """A mutant of a module, and what became of it: `killed`, `survived` or `hung`."""

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


def tests_of(module: str) -> tuple[str, ...]:
    """The tests that concern a module; those files that are there."""
    fitting = [beginning for beginning in CONCERNS if module.startswith(beginning)]
    named = CONCERNS[max(fitting, key=len)] if fitting else ()
    return tuple(test for test in named if (REPOSITORY / test).exists())


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


def copy_of_the_tree(folder: Path) -> Path:
    """A copy of what the tests need, in which the source may be changed."""
    tree = folder / "tree"
    left_out = shutil.ignore_patterns(".git", ".venv*", ".*_cache", "__pycache__", ".hypothesis", "dist")
    shutil.copytree(REPOSITORY, tree, ignore=left_out)
    return tree


def run_tests(tree: Path, tests: Sequence[str], seconds: float = resource.RLIM_INFINITY) -> Process:
    """A process that ends with what pytest ends with, at the first test that fails; killed after so much work."""
    process = FORK.Process(target=_pytest, args=(tree, tests, int(seconds)))
    process.start()
    return process


def _pytest(tree: Path, tests: Sequence[str], seconds: int) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, resource.RLIM_INFINITY))
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nothing, stream)
    os.chdir(tree)
    os.environ["PYTHONPATH"] = str(tree / "src")
    sys.dont_write_bytecode = True
    made = f"--basetemp={tree.parent / 'made'}"
    os._exit(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-profile=mutants", made, *tests]))


def seconds_without(tree: Path, tests: tuple[str, ...]) -> float:
    """How much of the processor's time the tests take on the source as it is; they must pass."""
    before = _work_of_children()
    process = run_tests(tree, tests)
    process.join()
    if process.exitcode != 0:
        raise SystemExit(f"without any mutant pytest ends with {process.exitcode}: {' '.join(tests)}")
    return _work_of_children() - before


def _work_of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


class Trial:
    """One mutant under test in a tree of its own, whose module holds it as long as the trial goes on."""

    def __init__(self, tree: Path, module: str, mutant: Mutant, seconds: float) -> None:
        self.module, self.mutant = module, mutant
        self._path = tree / PACKAGE / module
        self._before = self._path.read_text(encoding="utf-8")
        self._path.write_text(mutant.text, encoding="utf-8")
        self._until = time.monotonic() + seconds * PATIENCE
        self._process = run_tests(tree, tests_of(module), seconds)

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


def try_all(chosen: Sequence[tuple[str, Mutant]], jobs: int) -> list[Tried]:
    """The fates of these mutants of modules, told as they become known."""
    waiting, modules = list(chosen), dict.fromkeys(module for module, _ in chosen)
    found: list[Tried] = []
    with tempfile.TemporaryDirectory(dir=IN_MEMORY if IN_MEMORY.exists() else None) as folder:
        trees = [copy_of_the_tree(Path(folder) / str(n)) for n in range(jobs)]
        takes = {tests: seconds_without(trees[0], tests) for tests in dict.fromkeys(map(tests_of, modules))}
        running: dict[Path, Trial] = {}
        while waiting or running:
            for tree in trees:
                if tree not in running and waiting:
                    module, mutant = waiting.pop(0)
                    running[tree] = Trial(tree, module, mutant, takes[tests_of(module)] * ROOM + START)
            time.sleep(POLL)
            for tree, trial in list(running.items()):
                if (fate := trial.fate()) is not None:
                    found.append(Tried(trial.module, trial.mutant, fate))
                    print(f"{fate}: {found[-1]}", flush=True)
                    del running[tree]
    return found


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
        raise SystemExit(f"no module begins so and has tests in CONCERNS: {' '.join(asked.modules)}")
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
    hung = sum(t.fate == "hung" for t in found)
    share = 1 - len(survivors) / len(found)
    print(f"\n{len(found) - len(survivors)} of {len(found)} noticed, {hung} of them by a hang")
    print(f"{share:.1%} (at least {BAR:.0%} are wanted)")
    print(*survivors, sep="\n")
    raise SystemExit(share < BAR)


if __name__ == "__main__":
    main()
