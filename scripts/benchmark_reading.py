"""Reads 1,000,000 typical entries by columns, against Python's float() on the same bare numbers.

Run with `python scripts/benchmark_reading.py [ENTRIES]` when nothing else runs; `src` on PYTHONPATH. The mixture
stands below, with the share of each form. Every entry has a number of its own, so nothing is gained from repeated
texts. Prints seconds, entries a second and the ratio, each the best of three runs, and checks every value.
"""

import random
import sys
import time
from collections.abc import Callable

import numpy as np

from witnessmark.reading.column.columns import read_column

RUNS = 3
# (share, the entry of a force in newtons); what workshops type into a sheet: assumed, no source
FORMS: tuple[tuple[float, Callable[[float], str]], ...] = (
    (0.34, lambda f: f"{f / 1e3:.4f} kN"),
    (0.12, lambda f: f"{f / 1e3:.4f}kN"),
    (0.10, lambda f: f"{f:.1f} N"),
    (0.10, lambda f: f"{f / 1e3:.4f}"),
    (0.08, lambda f: f"{f / 1e3:.4f} KN"),
    (0.05, lambda f: f"{f:.6e} N"),
    (0.05, lambda f: f"{f:,.0f} N".replace(",", " ")),
    (0.04, lambda f: f"{f:,.1f} N"),
    (0.04, lambda f: f"{f / 1e3:.4f} kN".replace(".", ",")),
    (0.03, lambda f: f"F = {f / 1e3:.4f} kN"),
    (0.03, lambda f: f"{f / 1e5:.6f} x 10^5 N"),
    (0.01, lambda f: f"about {f / 1e3:.4f} kN"),
    (0.01, lambda f: f"{f / 1e5:.6f}×10⁵ N"),
)


def entries(count: int) -> tuple[list[str], list[float]]:
    """Entries in the stated shares, and the force that each stands for."""
    chance = random.Random(20261125)  # noqa: S311
    forms = chance.choices([form for _, form in FORMS], [share for share, _ in FORMS], k=count)
    forces = [chance.uniform(1e4, 1e6) for _ in range(count)]
    return [form(force) for form, force in zip(forms, forces, strict=True)], forces


def best(work: Callable[[], object]) -> float:
    """The shortest of the runs, in seconds."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measures, checks and prints."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    texts, forces = entries(count)
    bare = [repr(force) for force in forces]
    column = read_column(texts, "kN")
    off = np.nanmin(np.abs(column.si / np.array(forces)[:, None] - 1), axis=1)
    if not (off < 1e-4).all():
        raise SystemExit(f"{int((off >= 1e-4).sum())} entries were read wrongly")
    seconds = best(lambda: read_column(texts, "kN"))
    floats = best(lambda: [float(text) for text in bare])
    print(f"{count:,} entries: {seconds:.2f} s, {count / seconds:,.0f} entries a second")
    print(f"float() on {count:,} bare numbers: {floats:.3f} s; ratio {seconds / floats:.1f}")


if __name__ == "__main__":
    main()
