"""All benchmarks, one after the other, and what they found as one table in exports/benchmarks.md.

Run with `python scripts/benchmark.py all` when nothing else runs, or with the names of some: `issue class`. `--small`
takes smaller numbers, which are in the table: what they say of larger ones is a guess. A line of a benchmark belongs
to the table where it has a ratio, a rate, or a peak.
"""

import os
import platform
import re
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

SCRIPTS = Path(__file__).parent
TABLE = SCRIPTS.parent / "exports" / "benchmarks.md"
TELLING = re.compile(r"ratio|\bx$| times|/s\b|a second|peak|slowest \d|floor")


@dataclass(frozen=True, slots=True)
class Benchmark:
    """One of the scripts: what it is about, the size it usually has and the small one, as its arguments."""

    about: str
    usual: tuple[str, ...]
    small: tuple[str, ...]


ALL = {
    "start": Benchmark("the start of a command", (), ("3", "0")),
    "desk": Benchmark("the desk against its floors", (), ("20",)),
    "reading": Benchmark("reading by columns", (), ("100000",)),
    "slowest": Benchmark("reading one by one", (), ("20000",)),
    "table": Benchmark("mark_table, rows with repeats", (), ("50000",)),
    "table-distinct": Benchmark("mark_table, no two rows equal", ("distinct",), ("20000", "distinct")),
    "table-blocks": Benchmark("mark_table in blocks", ("blocks",), ("60000", "blocks")),
    "review": Benchmark("reviews of tasks and of the year", (), ("60", "2")),
    "record": Benchmark("the record of a faculty", (), ("100",)),
    "issue": Benchmark("issuing against its floor", (), ("60",)),
    "class": Benchmark("issue, mark and return", (), ("60",)),
}


@dataclass(frozen=True, slots=True)
class Found:
    """What one script said that tells something, how long it took, and whether it ended well."""

    name: str
    arguments: tuple[str, ...]
    lines: tuple[str, ...]
    seconds: float
    code: int


def run(name: str, arguments: tuple[str, ...]) -> Found:
    """Run one script; what it says is shown as well."""
    command = [sys.executable, str(SCRIPTS / f"benchmark_{name.partition('-')[0]}.py"), *arguments]
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    took = time.perf_counter() - start
    print(f"== {name} {' '.join(arguments)}\n{done.stdout}{done.stderr}", flush=True)
    lines = tuple(line.strip() for line in done.stdout.splitlines() if TELLING.search(line))
    return Found(name, arguments, lines, took, done.returncode)


def table_of(found: Sequence[Found]) -> str:
    """What was found, as a table."""
    machine = f"{os.cpu_count()} cores, {platform.system()} {platform.machine()}, Python {platform.python_version()}"
    rows = [f"| {one.name} {' '.join(one.arguments)} | {line} |" for one in found for line in _told(one)]
    head = ["# What was measured", "", f"By `python scripts/benchmark.py`, one run, on {machine}.", ""]
    return "\n".join([*head, "| benchmark | result |", "| --- | --- |", *rows, ""])


def _told(one: Found) -> list[str]:
    about = f"{ALL[one.name].about}: {one.seconds:.0f} s in all"
    ended = "" if one.code == 0 else f"; ended with {one.code}: a limit was missed, or it failed"
    return [about + ended, *(" ".join(line.replace("|", "/").split()) for line in one.lines)]


def main(arguments: Sequence[str]) -> int:
    """Run what is named, write the table; 1 where one of them ended otherwise than well, 2 for an unknown name."""
    is_small = "--small" in arguments
    wanted = [name for name in arguments if name != "--small"]
    names = list(ALL) if wanted == ["all"] else wanted
    if not names or set(names) - ALL.keys():
        print(f"name some of: all {' '.join(ALL)}", file=sys.stderr)
        return 2
    found = [run(name, ALL[name].small if is_small else ALL[name].usual) for name in names]
    TABLE.write_text(table_of(found), encoding="utf-8")
    print(f"written: {TABLE}")
    return int(any(one.code for one in found))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
