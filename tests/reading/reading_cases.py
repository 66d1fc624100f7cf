"""The tables of typed entries in tests/cases, and what each must be read as."""

import csv
import re
from dataclasses import dataclass
from pathlib import Path

from witnessmark.maths.quantities import from_si, unit
from witnessmark.reading.quantity.entries import Reading, read_quantity

CASES = Path(__file__).parents[1] / "cases"
SAME = 2e-7  # the tables print seven figures or more


@dataclass(frozen=True, slots=True)
class Case:
    """One row: what was typed, the unit asked, the values in it, the certainty, the size expected ("" for none)."""

    entry: str
    asked: str
    values: tuple[float, ...]
    certainty: str
    plausible: str = ""
    reason: str = ""

    def __str__(self) -> str:
        return f"{self.entry!r}, asked {self.asked!r}"

    @property
    def reading(self) -> Reading:
        """What is read of it."""
        expected = float(self.plausible) * unit(self.asked).scale if self.plausible else None
        return read_quantity(self.entry, self.asked, expected)

    def fault(self) -> str:
        """How the reading differs from the row; "" when it does not."""
        r = self.reading
        got = tuple(from_si(c.si, self.asked) for c in r.readings if c.dimension_fits)
        same = len(got) == len(self.values) and all(
            abs(a - b) <= SAME * abs(b) + 1e-12 for a, b in zip(got, self.values, strict=True)
        )
        if r.certainty == self.certainty and same:
            return ""
        return f"{self}: {r.certainty} {got} instead of {self.certainty} {self.values}; {r.reason} {r.repairs}"


def _unescaped(text: str) -> str:
    r"""With `\u00a0` and the like as the character, so that no editor can lose a blank of its own kind."""
    return re.sub(r"\\u([0-9a-f]{4})", lambda m: chr(int(m[1], 16)), text)


def cases(name: str) -> list[Case]:
    """The rows of one table."""
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return [
            Case(
                _unescaped(row["entry"]), row["asked_unit"],
                tuple(float(v) for v in row["value_in_asked_unit"].split("|") if v),
                row["certainty"], row.get("plausible", ""), row.get("reason") or row.get("note") or "",
            )
            for row in csv.DictReader(file)
        ]  # fmt: skip


SPELLINGS = cases("spellings.csv")
MORE = cases("more-spellings.csv")
ALL = SPELLINGS + MORE
