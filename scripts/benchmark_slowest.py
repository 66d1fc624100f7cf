"""Reads 1,000,000 typed entries one by one and tells the slowest hundred, in processor time.

The thousand that took longest are read three times more, each time with nothing kept of what was read before, and the
least time counts: what a collection of garbage or a busy machine adds belongs to no entry.

Run with `python scripts/benchmark_slowest.py [ENTRIES]`; `src` on PYTHONPATH. A third are those of the case tables,
a third the same with signs changed, doubled, left out or repeated, a third pieces put together at random. Exit code 1
where one of the slowest hundred takes over 50 ms.
"""

import gc
import heapq
import random
import sys
import time
from collections.abc import Iterator
from typing import Any

from typed_entries import UNITS, hostile, spelled
from witnessmark.reading.quantity.entries import read_quantity

COUNT, AGAIN, SLOWEST, LIMIT = 1_000_000, 1000, 100, 0.050
PIECES = (
    "7", "0", "1e9", ",", ".", "-", "−", "/", ":", "^", "²", "½", "٣", "kN", "kNN", "mm", "%", "°", "'", '"', "(", ")",
    "[", "=", "≈", "π", "√", "log", "sin", "d", "F", "m", "s", "kg ", "N ", "m/", "yes", "not", ">", "<", "->", "or",
    "to", "\n", "\t", "\x00", "\u200b", "\u202e", "\ufeff", " x 10", " ", "  ", "about ", "1,234", "12 345.6",
    "Kg m s ",
)  # fmt: skip


def entries(count: int) -> Iterator[tuple[str, str]]:
    """So many entries, each with the unit that is asked; the same in every run."""
    chance, tables = random.Random(20261128), [*hostile(), *(text for text, _ in spelled())]  # noqa: S311
    for n in range(count):
        text = chance.choice(tables)
        if n % 3 == 1:
            text = changed(text, chance)
        elif n % 3 == 2:
            text = "".join(chance.choices(PIECES, k=chance.randint(1, 14))) * chance.choice((1, 1, 1, 2, 12))
        yield text, chance.choice(UNITS)


def changed(text: str, chance: random.Random) -> str:
    """The same with something done to it, up to three times."""
    for _ in range(chance.randint(1, 3)):
        at = chance.randint(0, len(text))
        sign = chance.choice(PIECES)
        text = chance.choice(
            (text[:at] + sign + text[at:], text[:at] + text[at + 1 :], text[:at] + text[max(at - 3, 0) :])
        )
    return text


def longest(count: int) -> tuple[list[tuple[float, str, str]], float]:
    """The readings that took longest (seconds, text, unit), and the seconds of all."""
    worst: list[tuple[float, str, str]] = []
    total = 0.0
    for text, unit in entries(count):
        begun = time.process_time()
        read_quantity(text, unit)
        took = time.process_time() - begun
        total += took
        if len(worst) < AGAIN:
            heapq.heappush(worst, (took, text, unit))
        elif took > worst[0][0]:
            heapq.heapreplace(worst, (took, text, unit))
    return worst, total


def kept() -> list[Any]:
    """The functions of the reader that keep what they have read."""
    modules = [module for name, module in sys.modules.items() if name.startswith("witnessmark.reading")]
    return [one for module in modules for one in vars(module).values() if hasattr(one, "cache_clear")]


def alone(text: str, unit: str) -> float:
    """The least seconds of three readings, each of which finds nothing kept."""
    return min(_once(text, unit) for _ in range(3))


def _once(text: str, unit: str) -> float:
    for one in kept():
        one.cache_clear()
    begun = time.process_time()
    read_quantity(text, unit)
    return time.process_time() - begun


def main() -> int:
    """Prints the slowest and how long they took."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else COUNT
    read_quantity("7 kN", "kN")  # what is loaded once
    candidates, total = longest(count)
    gc.collect()
    worst = sorted(((alone(text, unit), text, unit) for _, text, unit in candidates), reverse=True)[:SLOWEST]
    for took, text, unit in worst[:10]:
        print(f"{took * 1e3:7.2f} ms  {unit:8} {text!r:.100}")
    print(f"{count:,} entries in {total:.0f} s of the processor, {total / count * 1e6:.0f} microseconds each")
    least, most, limit = (seconds * 1e3 for seconds in (worst[-1][0], worst[0][0], LIMIT))
    print(f"the slowest {len(worst)}: from {least:.2f} to {most:.2f} ms (limit {limit:.0f})")
    return int(worst[0][0] > LIMIT)


if __name__ == "__main__":
    sys.exit(main())
