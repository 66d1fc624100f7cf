"""What the scripts that search the reader start from: the entries of the case tables, and units that may be asked."""

import csv
from collections.abc import Iterator
from pathlib import Path

CASES = Path(__file__).parents[1] / "tests" / "cases"
UNITS = (
    "kN", "MPa", "N*m", "mm", "mm^2", "L/min", "deg", "rpm", "degC", "W/(m*K)", "percent", "", "kg", "h", "K", "1/K",
)  # fmt: skip


def spelled() -> Iterator[tuple[str, str]]:
    """Each entry of the tables of spellings, with the unit that is asked there."""
    for name in ("spellings.csv", "more-spellings.csv"):
        with (CASES / name).open(encoding="utf-8", newline="") as file:
            yield from ((row["entry"], row["asked_unit"]) for row in csv.DictReader(file))


def hostile() -> list[str]:
    """The entries that were written to break the reader."""
    return [line for line in (CASES / "hostile_entries.txt").read_text(encoding="utf-8").splitlines() if line]
