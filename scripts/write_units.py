"""Write `src/witnessmark/maths/known_units.py`: what pint says of the units that the bank and the reader know.

Run `python scripts/write_units.py` after a change of `maths/units.txt`, of the reader's units or of units in the bank;
a test compares it. A unit that is not there costs the loading of pint at its first use, and nothing else.
"""

import re
from collections.abc import Iterable
from pathlib import Path

from witnessmark.maths.quantities import Unit, unit_by_pint
from witnessmark.reading.unit.phrases import CUSTOMARY
from witnessmark.reading.unit.spellings import SHORT, SPELLED, TON_UNITS
from witnessmark.words.errors import UnitError

ROOT = Path(__file__).parents[1]
MODULE = ROOT / "src" / "witnessmark" / "maths" / "known_units.py"
ASKED = re.compile(r"\bunit: *([^,}\n]+)")
DERIVED = (
    "", "1/s", "1/min", "m^2", "m^3", "m^4", "m^3/s", "m^3/h", "L/s", "L/min", "N*m", "kW*h", "m/s", "m/min", "km/h",
    "m/s^2", "rad/s", "kJ/m", "A/mm^2", "hour", "inch", "knot", "delta_degF",
)  # fmt: skip
"""What the program itself asks beside."""
HEAD = '''\
"""What pint says of units: the SI value of one less that of none, that of none, and the powers of `quantities.BASE`.

Written by `python scripts/write_units.py`; a test compares it with pint.
"""

KNOWN_UNITS: dict[str, tuple[float, float, tuple[float, ...]]] = {
'''


def names() -> list[str]:
    """Every unit that the reader can find, that questions of the bank ask or tables of it have, each once, sorted."""
    spelled = {prefix + row.unit for row in SPELLED for prefix in ("", *row.prefixes)}
    short = {name for _, parts, _ in SHORT for name, _ in parts}
    texts = [file.read_text(encoding="utf-8") for file in (ROOT / "bank").rglob("*.yaml")]
    asked = {found.strip().strip("\"'") for text in texts for found in ASKED.findall(text)}
    return sorted(spelled | short | {*TON_UNITS, *CUSTOMARY} | asked | {*DERIVED})


def rows(of: Iterable[str]) -> list[str]:
    """A line of the module for each that is a unit."""
    return [_row(unit) for name in of if (unit := _unit(name)) is not None]


def _unit(name: str) -> Unit | None:
    try:
        return unit_by_pint(name)
    except UnitError:
        return None


def _row(unit: Unit) -> str:
    powers = ", ".join(f"{power:g}" for power in unit.dimension.powers)
    return f'    "{unit.name}": ({unit.scale!r}, {unit.offset!r}, ({powers})),'


def module() -> str:
    """The whole module."""
    return "\n".join([HEAD.rstrip("\n"), *rows(names()), "}", ""])


def main() -> None:
    """Write the module."""
    MODULE.write_text(module(), encoding="utf-8")


if __name__ == "__main__":
    main()
