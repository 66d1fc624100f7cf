"""Marks 1,000,000 rows of a two-part question with 8 slips by columns: csv in, verdict table out.

Run with `python scripts/benchmark_table.py [ROWS]` when nothing else runs. The floor, in the same run, is
`pandas.read_csv` of the same file plus one compiled evaluation of the right expressions on it; for comparison, 1,000
rows are marked by a loop of pint and sympy as a user would write it by hand. Prints seconds, ratio and peak memory.
"""

import resource
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pint
import sympy

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.frames import mark_table
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.question import Question

LIMIT = 12.0
MOST_MEMORY = 2048
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


def entries(rows: int, seed: int = 7) -> pd.DataFrame:
    """Givens in their units and typed answers: most right, some slips, some a number without a method."""
    draw = np.random.default_rng(seed)
    tau, d = draw.choice(np.arange(180.0, 430, 10), rows), draw.choice([10.0, 12, 16, 20, 25], rows)
    t = draw.choice(np.arange(1, 8.5, 0.5), rows)
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
    frame = pd.read_csv(path)
    names = {"tau": frame.tau.to_numpy() * 1e6, "d": frame.d.to_numpy() / 1e3, "t": frame.t.to_numpy() / 1e3}
    force = compiled(parse(FORCES[0]))({**names, "pi": np.float64(np.pi)})
    compiled(parse(STRESSES[0]))({**names, "pi": np.float64(np.pi), "F": force})
    return time.perf_counter() - start


def by_columns(path: Path, made: Question) -> tuple[float, pd.DataFrame]:
    """Seconds of reading the file and marking it into the verdict table, and the table."""
    start = time.perf_counter()
    marked = mark_table(made, pd.read_csv(path))
    return time.perf_counter() - start, marked


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


def main() -> None:
    """The whole run."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    with tempfile.TemporaryDirectory() as folder:
        path, made = Path(folder) / "answers.csv", question()
        entries(rows).to_csv(path, index=False)
        mark_table(made, pd.read_csv(path, nrows=200))
        least = min(floor(path) for _ in range(3))
        whole, marked = by_columns(path, made)
        hand = by_hand(path, min(rows, 1_000))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"rows {rows}, answers {2 * rows}; verdicts of part a:")
    print(marked["a.verdict"].value_counts().to_string())
    print(f"floor (read_csv and the right expressions) {least:.2f} s")
    print(f"read and marked {whole:.2f} s, {2 * rows / whole:.0f} answers a second")
    print(f"ratio {whole / least:.1f} (limit {LIMIT:g}); peak memory {peak:.0f} MiB (limit {MOST_MEMORY})")
    print(
        f"a loop of pint and sympy: {hand:.2f} s for 1,000 answers, {hand / 1000 * 2 * rows / whole:.0f} times as long"
    )


if __name__ == "__main__":
    main()
