"""Shows that two Pythons with different versions of pint read every known entry alike.

Run with `python scripts/compare_readings.py OTHER_PYTHON`: the other needs numpy and its pint, nothing else. Every
entry of the case tables and of the hostile corpus is read towards every asked unit of the tables; the readings are
compared as text, to the last bit of each float. Without an argument the readings are printed, one a line.
"""

import os
import subprocess
import sys
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

from typed_entries import hostile, spelled
from witnessmark.reading.quantity.entries import read_quantity

REPOSITORY = Path(__file__).resolve().parents[1]


def entries() -> list[tuple[str, str]]:
    """Every typed entry of the tables with the unit asked there."""
    return [*spelled(), *((text, "kN") for text in hostile())]


def readings() -> Iterator[str]:
    """Each entry towards each asked unit, as one line of text."""
    known = entries()
    for asked in sorted({asked for _, asked in known}):
        for text, _ in known:
            r = read_quantity(text, asked, 891.2e6)
            candidates = [(c.digits, c.unit, c.si.hex(), c.figures, c.dimension_fits, c.repairs) for c in r.readings]
            shown = [f"{q.to_base_units():.12g}" for q in r.candidates]
            yield ascii((text, asked, str(r.certainty), candidates, r.repairs, r.reason, shown))


def main() -> None:
    """Prints the readings, or compares them with those of another Python."""
    mine = list(readings())
    if len(sys.argv) < 2:
        print("\n".join(mine))
        return
    environment = os.environ | {"PYTHONPATH": str(REPOSITORY / "src")}
    run = subprocess.run([sys.argv[1], __file__], capture_output=True, text=True, check=True, env=environment)
    other = run.stdout.splitlines()
    asked = subprocess.run(
        [sys.argv[1], "-c", "import pint, sys; print(pint.__version__, sys.version.split()[0])"],
        capture_output=True, text=True, check=True,
    ).stdout.strip()  # fmt: skip
    print(f"pint {version('pint')}, Python {sys.version.split()[0]}, against pint and Python {asked}")
    differing = [f"{a}\n{b}" for a, b in zip(mine, other, strict=True) if a != b]
    print(f"{len(mine):,} readings, {len(differing)} differ", *differing[:20], sep="\n")
    raise SystemExit(1 if differing else 0)


if __name__ == "__main__":
    main()
