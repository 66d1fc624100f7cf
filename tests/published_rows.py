"""Reads tests/cases/published.csv and published_slips.csv, and turns printed figures into SI without our own reader.

Columns of published.csv: question, given (`name=value unit; ...`), key, printed (the figure and unit of the source),
digits (significant digits printed), entry (what a student types, where it is not what is printed), verdict (or `not
right`, where it does not matter which), agrees (`yes`, or `differs` with the reason in the note), source, status (where
the figure was seen), note.
"""

import csv
import re
from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from bank_fixture import BANK
from witnessmark.questions.sheet.variant import Variant

CASES = Path(__file__).parent / "cases"
DEGREES = re.compile("(\\d+)°(\\d+)'(\\d+)([.]\\d)?\"")

# SI factors of the printed units: NIST SP 811 (2008), App. B.8; inch, pound, g_n, bar and atm are exact.
LBF = 0.45359237 * 9.80665
INCH = 0.0254
SI = {
    "": 1.0,
    "N": 1.0, "kN": 1e3, "MN": 1e6, "tf": 9806.65, "lbf": LBF, "kip": 1e3 * LBF, "short tonf": 2000 * LBF,
    "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "bar": 1e5, "atm": 101325.0, "N/mm²": 1e6, "psi": LBF / INCH**2,
    "ksi": 1e3 * LBF / INCH**2, "mmHg": 133.322387415,
    "m": 1.0, "cm": 1e-2, "mm": 1e-3, "µm": 1e-6, "in": INCH, "ft": 12 * INCH,
    "m²": 1.0, "cm²": 1e-4, "mm²": 1e-6, "in²": INCH**2, "mm³": 1e-9, "cm³": 1e-6, "m³": 1.0, "L": 1e-3, "mm⁴": 1e-12,
    "J": 1.0, "kJ": 1e3, "kJ/mm": 1e6, "W·h": 3600.0, "kW·h": 3.6e6, "W": 1.0, "kW": 1e3,
    "N·m": 1.0, "kN·m": 1e3, "lbf·in": LBF * INCH, "lbf·ft": LBF * 12 * INCH, "kJ/h": 1e3 / 3600,
    "kg": 1.0, "g": 1e-3, "oz": 0.45359237 / 16, "kg/m³": 1.0, "g/cm³": 1e3, "K": 1.0, "m/s": 1.0,
    "kg/cm": 100.0, "s": 1.0, "min": 60.0,
    "A": 1.0, "V": 1.0, "Ω": 1.0, "kΩ": 1e3, "%": 0.01, "1/min": 1 / 60,
    "deg": 3.141592653589793 / 180,
}  # fmt: skip


@dataclass(frozen=True)
class Published:
    """One published figure: a row of the table, as it stands there."""

    question: str
    given: str
    key: str
    printed: str
    digits: str
    entry: str
    verdict: str
    agrees: str
    source: str
    status: str
    note: str

    def __str__(self) -> str:
        return f"{self.question} {self.key} {self.printed}"

    @property
    def variant(self) -> Variant:
        """The published givens, stated directly."""
        return variant(self.question, self.given)

    @property
    def typed(self) -> str:
        """What the student types: the printed figure, unless the row has another text."""
        return self.entry or self.printed

    @property
    def si(self) -> tuple[float, float]:
        """The printed figure in SI, and half a unit of its last digit (degrees, minutes, seconds too)."""
        if parts := DEGREES.fullmatch(self.printed):
            seconds = 3600 * int(parts[1]) + 60 * int(parts[2]) + float(parts[3] + (parts[4] or ""))
            return seconds / 3600 * SI["deg"], (0.05 if parts[4] else 0.5) / 3600 * SI["deg"]
        number, _, unit = self.printed.partition(" ")
        value = Decimal(number)
        half = Decimal(5).scaleb(value.adjusted() - int(self.digits))
        return float(value) * SI[unit], float(half) * SI[unit]


@dataclass(frozen=True)
class Slipped:
    """One wrong figure with a known method: a row of published_slips.csv."""

    question: str
    given: str
    key: str
    entry: str
    misconception: str
    working: str
    source: str

    def __str__(self) -> str:
        return f"{self.question} {self.key} {self.misconception}"


@cache
def variant(question: str, given: str) -> Variant:
    """A variant from `name=value unit; ...`; a point in a name stays a point."""
    pairs = (pair.strip().split("=", 1) for pair in given.split(";"))
    made: Variant = BANK[question].variant(**{name.replace(".", "__"): value for name, value in pairs})
    return made


def si_of(quantity: Any) -> float:
    """The SI value of a pint quantity of any unit (its registry has the gram for a base)."""
    base = quantity.to_base_units()
    return float(base.magnitude) / float(1000.0 ** base.dimensionality.get("[mass]", 0))


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a case table."""
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PUBLISHED = [Published(**row) for row in rows("published.csv")]
SLIPPED = [Slipped(**row) for row in rows("published_slips.csv")]


def tally() -> tuple[int, int, Counter[str]]:
    """Rows, sources (a place in a book, a standard or a page), and rows of each topic of the bank."""
    return (
        len(PUBLISHED),
        len({row.source for row in PUBLISHED}),
        Counter(BANK[row.question].topic for row in PUBLISHED),
    )
