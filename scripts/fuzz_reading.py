"""Search for typed quantities that break the reader, guided by the branches that they reach.

Run with `python scripts/fuzz_reading.py SECONDS` in an environment of its own that has atheris, numpy and pint, with
`src` on PYTHONPATH. The first byte of an input chooses the unit asked. Any error, a reading that breaks its promises, a
slow one, or a column that reads otherwise than one by one stops it and shows the text.
"""

import importlib
import math
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from typed_entries import UNITS, hostile, spelled

ARTIFACTS = tempfile.gettempdir()
LENGTH = 90
AT_ONCE = 40  # texts of a column
WAITING: dict[str, list[str]] = {}
SLOWEST = 0.5  # seconds of the processor under instrumentation, which costs about a factor of five
atheris: Any = importlib.import_module("atheris")
with atheris.instrument_imports(include=["witnessmark.reading"]):
    from witnessmark.maths.quantities import unit
    from witnessmark.reading.column.columns import CODES, read_column
    from witnessmark.reading.quantity.entries import read_quantity


class Broken(AssertionError):
    """A promise that does not hold."""


def try_one(data: bytes) -> None:
    """Reads one text and holds the reading to its promises; now and then, many texts as a column."""
    asked = UNITS[data[0] % len(UNITS)] if data else "kN"
    text = data[1:].decode("utf-8", errors="surrogateescape")
    start = time.process_time()
    reading = read_quantity(text, asked)
    seconds = time.process_time() - start
    found = reading.readings
    promises = {
        "finite": all(math.isfinite(c.si) and math.isfinite(float(c.digits)) for c in found),
        "value is number times scale plus offset": all(c.si == float(c.digits) * c.scale + c.offset for c in found),
        "figures in order": all(1 <= c.least_figures <= c.figures <= c.most_figures for c in found),
        "the asked dimension where it says so": all(
            not c.dimension_fits or unit(c.read_in).dimension == unit(asked).dimension for c in found
        ),
        "the scale of the unit list": all(math.isclose(c.scale, unit(c.read_in).scale, rel_tol=1e-12) for c in found),
        "readings unless blank or unreadable": bool(found) == (reading.certainty not in {"blank", "unreadable"}),
        "a reason when unreadable": bool(reading.reason) == (reading.certainty == "unreadable"),
        f"under {SLOWEST} s": seconds < SLOWEST,
    }
    if broken := [promise for promise, holds in promises.items() if not holds]:
        raise Broken(f"{', '.join(broken)}: {text!r} asked {asked!r} gave {reading} in {seconds:.3f} s")
    waiting = WAITING.setdefault(asked, [])
    waiting.append(text)
    if len(waiting) == AT_ONCE:
        try_column(waiting, asked)
        waiting.clear()


def try_column(texts: list[str], asked: str) -> None:
    """Reads many texts as a column and one by one."""
    column = read_column(texts, asked)
    for i, text in enumerate(texts):
        reading = read_quantity(text, asked)
        found = [(c.si, c.figures, c.unit_missing, c.dimension_fits) for c in reading.readings]
        rows = zip(column.si[i], column.figures[i], column.unit_missing[i], column.dimension_fits[i], strict=True)
        if CODES[column.certainty[i]] != reading.certainty or found != list(rows)[: len(found)]:
            raise Broken(f"otherwise in a column: {text!r} asked {asked!r} gave {reading}")


def seeds() -> list[bytes]:
    """The entries of the case tables, each with a first byte for its asked unit or the first one."""
    found = [bytes([UNITS.index(asked) if asked in UNITS else 0]) + text.encode() for text, asked in spelled()]
    return [*found, *(bytes([0]) + text.encode() for text in hostile())]


def main() -> None:
    """Fuzzes for as many seconds as asked, from the entries of the case tables onwards."""
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    with tempfile.TemporaryDirectory() as folder:
        for i, seed in enumerate(seeds()):
            (Path(folder) / f"{i:04}").write_bytes(seed)
        options = [
            f"-max_total_time={seconds}",
            f"-max_len={LENGTH}",
            "-print_final_stats=1",
            f"-artifact_prefix={ARTIFACTS}/",
        ]
        atheris.Setup([sys.argv[0], *options, folder], try_one)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
