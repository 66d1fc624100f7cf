"""Search for typed formulas that break the reader, guided by the branches that they reach.

Run with `python scripts/fuzz_formulas.py SECONDS` in an environment of its own that has atheris, numpy and rapidfuzz,
with `src` on PYTHONPATH. Any error, a reading that breaks its promises, or a slow one stops it and shows the text.
"""

import importlib
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

CASES = Path(__file__).parents[1] / "tests" / "cases"
LENGTH = 120
SLOWEST = 1.0  # seconds of the processor under instrumentation, which costs about a factor of twenty
SYMBOLS: dict[str, str | tuple[str, ...]] = {
    "tau": ("τ", "shear strength"), "sigma": "σ", "theta": "θ", "d": "d", "D": "D", "t": "t", "F": "F", "A_s": "A_s",
    "E": "E", "p": "p", "bc": "bc", "ab": "ab", "c": "c", "a": "a",
}  # fmt: skip

atheris: Any = importlib.import_module("atheris")
with atheris.instrument_imports(include=["witnessmark"]):
    from witnessmark.maths.printing.plain import plain
    from witnessmark.maths.syntax import Name, parse, walk
    from witnessmark.reading.formula.cursor import MOST_PIECES
    from witnessmark.reading.formula.entry import read_formula
    from witnessmark.reading.formula.tokens import LONGEST_FORMULA
    from witnessmark.reading.result import Certainty


class Broken(AssertionError):
    """A promise that does not hold."""


def try_one(data: bytes) -> None:
    """Reads one text and holds the reading to its promises."""
    text = data.decode("utf-8", errors="surrogateescape")[: LONGEST_FORMULA + 5]
    start = time.process_time()
    reading = read_formula(text, SYMBOLS, "Q")
    seconds = time.process_time() - start
    names = {n.name for tree in reading.trees for n in walk(tree) if isinstance(n, Name)}
    sizes = [sum(1 for _ in walk(tree)) for tree in reading.trees]
    promises = {
        "only known names": names <= {*SYMBOLS, "pi"},
        "no more pieces than stated": max(sizes, default=0) <= MOST_PIECES + 2,
        "every tree can be printed and read": all(parse(plain(t)) == t for t in reading.trees),
        "a place inside the text": 0 <= reading.stopped_at <= len(text) + 1,
        "several trees only when ambiguous": (len(reading.trees) > 1) == (reading.certainty is Certainty.AMBIGUOUS),
        "a reason when unreadable": bool(reading.reason) or reading.certainty is not Certainty.UNREADABLE,
        f"under {SLOWEST} s": seconds < SLOWEST,
    }
    if broken := [promise for promise, holds in promises.items() if not holds]:
        raise Broken(f"{', '.join(broken)}: {text!r} gave {reading} in {seconds:.3f} s")


def main() -> None:
    """Fuzzes for as many seconds as asked, from the entries of the case table onwards."""
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    with tempfile.TemporaryDirectory() as folder:
        for number, line in enumerate((CASES / "typed_formulas.csv").read_text(encoding="utf-8").splitlines()[1:]):
            (Path(folder) / f"{number:04}").write_text(line.split(",")[1], encoding="utf-8")
        words = Path(folder) / "words.dict"
        known = [
            "sqrt(",
            "sin ",
            "√",
            "²",
            "½",
            "π",
            "22/7",
            "3.14",
            "1,000",
            "A_s",
            "\\frac",
            "times",
            "^-1",
            "°",
            "=",
            "|",
        ]
        words.write_text("".join(f'"{_escaped(word)}"\n' for word in known), encoding="utf-8")
        options = [f"-max_total_time={seconds}", f"-max_len={LENGTH}", f"-dict={words}", "-print_final_stats=1"]
        atheris.Setup([sys.argv[0], *options, folder], try_one)
        atheris.Fuzz()


def _escaped(word: str) -> str:
    return "".join(f"\\x{byte:02x}" for byte in word.encode())


if __name__ == "__main__":
    main()
