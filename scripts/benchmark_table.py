"""Marks 1,000,000 rows of a two-part question with 8 slips by columns: csv in, verdict table out.

Run with `python scripts/benchmark_table.py [ROWS] [repeats|distinct|blocks]` when nothing else runs: rows of which many
are equal, rows of which no two are, or a larger table (10,000,000 rows) read and marked in blocks of a million. The
floor, in the same run, is `pandas.read_csv` of the same file plus one compiled evaluation of the right expressions on
it; for comparison, 1,000 rows are marked by a loop of pint and sympy as a user would write it by hand. Prints seconds,
ratio and peak memory (of the process and its copies together, in a run of its own); of three runs the least, of blocks
one. 1 where a limit is missed.

pyarrow, which only the tests of Dask need, is hidden: a user has `requirements-run.lock`, without it. With it pandas
keeps texts otherwise and reads them in about half the time.
"""

import multiprocessing
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.connection import Connection
from pathlib import Path
from types import ModuleType
from typing import Any, cast

if __name__ == "__main__":
    sys.modules["pyarrow"] = cast("ModuleType", None)

import numpy as np
import pandas as pd
import pint
import sympy

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.jobs.marking_tables import mark_table
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.question import Question

ROWS = {"repeats": 1_000_000, "distinct": 1_000_000, "blocks": 10_000_000}
LIMITS = {"repeats": 6.0, "distinct": 12.0, "blocks": 6.0}
MOST_MEMORY = 1536
BLOCK = 1_000_000
TEXT = """
question: benchmark-hole
title: Punching
topic: punching
level: 2
setting: A hole {d} wide in a plate {t} thick of shear strength {tau}.
given:
  tau: {is: shear strength, unit: MPa, from: 180, to: 420, step: 10}
  d: {is: hole diameter, unit: mm, one of: [10, 12, 16, 20, 25]}
  t: {is: plate thickness, unit: mm, from: 1, to: 8, step: 0.5}
keep: [t < d]
caution: A press closes without warning.
find:
  a:
    ask: Find the force.
    is: punching force
    symbol: F
    unit: kN
    answer: tau*pi*d*t
    marks: 3
    slips:
      - {misconception: face-area-for-sheared-edge, answer: tau*pi*d**2/4, keeps: 1}
      - {misconception: radius-for-diameter, answer: tau*pi*d/2*t, keeps: 2}
      - {misconception: pi-left-out, answer: tau*d*t, keeps: 2}
      - {misconception: diameter-twice, answer: tau*pi*d*d, keeps: 1}
  b:
    ask: Find the stress in the punch.
    is: punch stress
    symbol: sigma
    unit: MPa
    carries: [a]
    answer: F/(pi*d**2/4)
    marks: 2
    slips:
      - {misconception: sheared-edge-for-face-area, answer: F/(pi*d*t), keeps: 1}
      - {misconception: diameter-for-radius-in-area, answer: F/(pi*d**2), keeps: 1}
      - {misconception: circumference-for-area, answer: F/(pi*d), keeps: 0.5}
      - {misconception: square-for-circle, answer: F/d**2, keeps: 1}
"""
RIGHT, SLIPPED = 0.62, 0.30
FORCES = ("tau*pi*d*t", "tau*pi*d**2/4", "tau*pi*d/2*t", "tau*d*t", "tau*pi*d*d")
STRESSES = ("F/(pi*d**2/4)", "F/(pi*d*t)", "F/(pi*d**2)", "F/(pi*d)", "F/d**2")


def question() -> Question:
    """The question of the benchmark."""
    made, problems = question_from_text(TEXT, "benchmark.yaml", {})
    assert made is not None, problems
    return made


def entries(rows: int, seed: int = 7, *, distinct: bool = False) -> pd.DataFrame:
    """Givens in their units and typed answers: most right, some slips, some a number without a method; with `distinct`
    no two rows have the same givens."""
    draw = np.random.default_rng(seed)
    tau, d = draw.choice(np.arange(180.0, 430, 10), rows), draw.choice([10.0, 12, 16, 20, 25], rows)
    t = draw.choice(np.arange(1, 8.5, 0.5), rows)
    if distinct:
        tau = tau + np.arange(rows) * 1e-6
    names: dict[str, Any] = {"tau": tau * 1e6, "d": d / 1e3, "t": t / 1e3, "pi": np.float64(np.pi)}
    force = picked(FORCES, names, draw, rows)
    stress = picked(STRESSES, {**names, "F": force}, draw, rows)
    answers = {"a": typed(force / 1e3, "kN", draw), "b": typed(stress / 1e6, "MPa", draw)}
    return pd.DataFrame({"tau": tau, "d": d, "t": t, **answers})


def picked(texts: tuple[str, ...], names: dict[str, Any], draw: np.random.Generator, rows: int) -> Array:
    """The value of one method a row, or noise."""
    shares = [RIGHT, *[SLIPPED / (len(texts) - 1)] * (len(texts) - 1), 1 - RIGHT - SLIPPED]
    which = draw.choice(len(texts) + 1, rows, p=shares)
    values = [compiled(parse(text))(names) for text in texts]
    values.append(values[0] * 10.0 ** draw.uniform(-1, 1, rows))
    return np.choose(which, values)


def typed(number: Array, unit: str, draw: np.random.Generator) -> list[str]:
    """Numbers to 3 to 5 figures with their unit, one in ten without it."""
    figures = draw.choice([3, 4, 5], len(number), p=[0.5, 0.35, 0.15])
    bare = draw.random(len(number)) < 0.1
    rounded = to_figures(number, figures)
    return [f"{x:.6g}" if b else f"{x:.6g} {unit}" for x, b in zip(rounded.tolist(), bare.tolist(), strict=True)]


def floor(path: Path) -> float:
    """Seconds of reading the file and evaluating the right expressions once."""
    start = time.perf_counter()
    for frame in read(path):
        names = {"tau": frame.tau.to_numpy() * 1e6, "d": frame.d.to_numpy() / 1e3, "t": frame.t.to_numpy() / 1e3}
        force = compiled(parse(FORCES[0]))({**names, "pi": np.float64(np.pi)})
        compiled(parse(STRESSES[0]))({**names, "pi": np.float64(np.pi), "F": force})
    return time.perf_counter() - start


def read(path: Path) -> Iterator[pd.DataFrame]:
    """The table of a file in blocks; one block where it is not larger."""
    with pd.read_csv(path, chunksize=BLOCK) as blocks:
        yield from blocks


def written(path: Path, rows: int, *, distinct: bool) -> None:
    """A table of so many rows as a file."""
    for n, start in enumerate(range(0, rows, BLOCK)):
        block = entries(min(BLOCK, rows - start), 7 + n, distinct=distinct)
        block.to_csv(path, index=False, mode="a", header=n == 0)


def by_columns(path: Path, made: Question) -> tuple[float, pd.Series]:
    """Seconds of reading the file and marking it, block by block, and how often each verdict of part a was given."""
    took, verdicts, start = 0.0, [], time.perf_counter()
    for frame in read(path):
        marked = mark_table(made, frame)
        took += time.perf_counter() - start
        verdicts.append(marked["a.verdict"].value_counts())
        start = time.perf_counter()
    return took, pd.concat(verdicts).groupby(level=0).sum()


def by_hand(path: Path, rows: int = 1_000) -> float:
    """Seconds of a loop of pint and sympy over some rows."""
    units: pint.UnitRegistry[Any] = pint.UnitRegistry()
    tau, d, t = sympy.symbols("tau d t", positive=True)
    expression = tau * sympy.pi * d * t
    frame = pd.read_csv(path, nrows=rows)
    columns = zip(frame.tau.tolist(), frame.d.tolist(), frame.t.tolist(), frame.a.astype(str).tolist(), strict=True)
    start = time.perf_counter()
    for row_tau, row_d, row_t, text in columns:
        right = float(expression.subs({tau: row_tau * 1e6, d: row_d / 1e3, t: row_t / 1e3}).evalf())
        number, _, unit = text.partition(" ")
        value = units.Quantity(float(number), unit or "kN").to("N").magnitude
        abs(value / right - 1) < 0.005  # noqa: B015 - the comparison is what is timed
    return time.perf_counter() - start


def main(arguments: Sequence[str]) -> int:
    """The whole run."""
    kind = next((word for word in arguments if word in ROWS), "repeats")
    rows = next((int(word) for word in arguments if word.isdigit()), ROWS[kind])
    runs = 1 if kind == "blocks" else 3
    with tempfile.TemporaryDirectory() as folder:
        path, made = Path(folder) / "answers.csv", question()
        written(path, rows, distinct=kind == "distinct")
        mark_table(made, pd.read_csv(path, nrows=200))
        least = min(floor(path) for _ in range(runs))
        whole, verdicts = min((by_columns(path, made) for _ in range(runs)), key=lambda one: one[0])
        most = most_memory(lambda: by_columns(path, made))
        hand = by_hand(path, min(rows, 1_000)) / min(rows, 1_000)
    print(f"{kind}: rows {rows}, answers {2 * rows}; verdicts of part a:")
    print(verdicts.to_string())
    print(f"floor (read_csv and the right expressions) {least:.2f} s")
    print(f"read and marked {whole:.2f} s, {2 * rows / whole:.0f} answers a second")
    print(f"ratio {whole / least:.1f} (limit {LIMITS[kind]:g}); peak memory {most:.0f} MiB (limit {MOST_MEMORY})")
    print(f"a loop of pint and sympy: {hand * 1e3:.3g} ms an answer, {hand * 2 * rows / whole:.0f} times as long")
    return int(whole / least > LIMITS[kind] or most > MOST_MEMORY)


def most_memory(act: Callable[[], object]) -> float:
    """The most memory in MiB that this process and its copies hold together while they act; what they share counts
    once."""
    ours, theirs = multiprocessing.Pipe()
    watcher = multiprocessing.get_context("fork").Process(target=watch, args=(os.getpid(), theirs))
    watcher.start()
    act()
    ours.send(None)
    most = float(ours.recv())
    watcher.join()
    return most


def watch(process: int, told: Connection) -> None:
    """Looks at a process and its children, but for this one, until it is told to stop; then tells the most it saw."""
    most = 0.0
    while not told.poll(0.02):
        children = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
        held = [memory(p) for p in (process, *map(int, children)) if p != os.getpid()]
        most = max(most, sum(held))
    told.send(most)


def memory(process: int) -> float:
    """What a process holds in MiB, of what it shares its part; 0 where it has just ended."""
    try:
        text = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="ascii")
    except OSError:
        return 0.0
    return int(text.split("Pss:")[1].split()[0]) / 1024


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
