"""What is known of units without pint is what pint says of them, and pint is not loaded to mark numbers."""

import os
import subprocess
import sys
from pathlib import Path

import write_units
from witnessmark.maths.known_units import KNOWN_UNITS
from witnessmark.maths.quantities import unit, unit_by_pint

SOURCE = Path(__file__).parents[2] / "src"
SMALL_BANK = Path(__file__).parents[1] / "cases" / "small-bank"
MARKS = """
import sys
from pathlib import Path
from witnessmark.files.bank.folder import load_bank
from witnessmark.marking.hypotheses.conversions import factors_for
from witnessmark.marking.marker import mark
from witnessmark.maths.known_units import KNOWN_UNITS
found = [factors_for(name) for name in KNOWN_UNITS]
bank = load_bank(Path(sys.argv[1]))
print(*(mark(bank[key].draw("any"), {"a": "94.2 kN"})["a"].out_of for key in bank), "pint" in sys.modules)
"""


def test_every_known_unit_is_what_pint_says_of_it() -> None:
    wrong = {name: (unit(name), unit_by_pint(name)) for name in KNOWN_UNITS if unit(name) != unit_by_pint(name)}
    assert wrong == {}


def test_the_known_units_are_those_of_the_bank_and_of_the_reader() -> None:
    assert write_units.MODULE.read_text(encoding="utf-8") == write_units.module(), "run: python scripts/write_units.py"
    assert {"kN", "N/mm^2", "degC", ""} <= KNOWN_UNITS.keys()


def test_a_unit_that_is_not_known_is_asked_of_pint() -> None:
    assert "kN*mm^2" not in KNOWN_UNITS
    assert unit("kN*mm^2").scale == 1e-3


def test_reading_a_bank_and_marking_numbers_loads_no_pint() -> None:
    done = subprocess.run(
        [sys.executable, "-c", MARKS, SMALL_BANK], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(SOURCE)}, timeout=120,
    )  # fmt: skip
    *marks, has_pint = done.stdout.split()
    assert len(marks) > 1
    assert has_pint == "False"
