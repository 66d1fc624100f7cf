"""A whole column of typed quantities as arrays.

Plain entries (`70 kN`, `891.2e6 Pa`) take a short way: one regular expression, and what the unit stands for, which is looked
up once for each spelling. Everything else goes the way of `read_quantity`, once for each distinct text. Both ways give the
same readings; a property test holds them together.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from witnessmark.reading.certainty import Certainty
from witnessmark.reading.entries import Pair, Reading, read_quantity, settled, understood
from witnessmark.reading.numbers import FIGURES_OF_WHOLE_NUMBERS
from witnessmark.reading.units import UnitOption, asked_unit

CODES = tuple(Certainty)
CODE_OF = {certainty: code for code, certainty in enumerate(CODES)}
PLAIN = re.compile(
    r"(-?\d{1,15}(?:\.\d{1,15})?(?:[eE][-+]?\d{1,2})?)( ?(?:[^\W\d_]|[°%])[^\s].{0,28}| ?(?:[^\W\d_]|[°%])|)"
)
PROBES = ("3", "2.5")


@dataclass(frozen=True, slots=True)
class ColumnReading:
    """The readings of n entries, k candidates each (k is that of the entry with the most; NaN, 0, False beyond).

    si, number: float (n, k), the SI value and the number as written; figures: int (n, k); scale, offset: float (n, k), of
    the unit it was read in (SI = number * scale + offset); unit_missing, dimension_fits: bool (n, k); certainty: int8 (n,),
    an index into CODES.
    """

    texts: Sequence[str]
    asked: str
    si: npt.NDArray[np.float64]
    number: npt.NDArray[np.float64]
    figures: npt.NDArray[np.int64]
    scale: npt.NDArray[np.float64]
    offset: npt.NDArray[np.float64]
    unit_missing: npt.NDArray[np.bool_]
    dimension_fits: npt.NDArray[np.bool_]
    certainty: npt.NDArray[np.int8]
    plausible: npt.NDArray[np.float64] | None = field(default=None, repr=False)

    @property
    def is_blank(self) -> npt.NDArray[np.bool_]:
        """True of entries with nothing in them, shape (n,)."""
        return self.certainty == CODE_OF[Certainty.BLANK]

    @property
    def is_unreadable(self) -> npt.NDArray[np.bool_]:
        """True of entries that could not be read, shape (n,)."""
        return self.certainty == CODE_OF[Certainty.UNREADABLE]

    def reading(self, i: int) -> Reading:
        """The whole reading of the i-th entry, with its repairs and reasons."""
        return read_quantity(self.texts[i], self.asked, _plausible(self.plausible, i))


def _plausible(plausible: npt.NDArray[np.float64] | None, i: int) -> float | None:
    return None if plausible is None else float(plausible[i])


def read_column(texts: Sequence[str], asked: str, plausible: npt.NDArray[np.float64] | None = None) -> ColumnReading:
    """The readings of all texts, each as by `read_quantity(text, asked, plausible[i])`."""
    asked_unit(asked)
    if plausible is not None:
        plausible = np.broadcast_to(np.asarray(plausible, dtype=np.float64), (len(texts),))
    short_ways: dict[str, UnitOption | None] = {}
    rows, numbers, figures, options = [], [], [], []
    slow: list[tuple[int, Reading]] = []
    known: dict[str, Reading | None] = {}
    for i, text in enumerate(texts):
        match = PLAIN.fullmatch(text)
        if match is not None:
            digits, rest = match[1], match[2]
            if rest not in short_ways:
                short_ways[rest] = _short_way(rest, asked)
            option = short_ways[rest]
            if option is not None:
                rows.append(i)
                numbers.append(float(digits))
                figures.append(_figures(digits))
                options.append(option)
                continue
        slow.append((i, _slowly(text, asked, plausible, i, known)))
    columns = _empty(texts, asked, plausible, max([1, *(len(r.readings) for _, r in slow)]))
    _fill_plain(columns, rows, numbers, figures, options)
    _fill_slow(columns, slow)
    return columns


def _slowly(
    text: str, asked: str, plausible: npt.NDArray[np.float64] | None, i: int, known: dict[str, Reading | None]
) -> Reading:
    if text not in known:
        pair = understood(text, asked)
        depends = isinstance(pair, Pair) and pair.unit is not None and len(pair.unit.options) + len(pair.unit.spare) > 1
        known[text] = None if depends and plausible is not None else read_quantity(text, asked)
    found = known[text]
    return read_quantity(text, asked, _plausible(plausible, i)) if found is None else found


def _short_way(rest: str, asked: str) -> UnitOption | None:
    """What stands after a plain number, if it means the same after every number; else None."""
    if not rest and asked == "percent":
        return None
    if re.search(r"\s[-+]?\d", rest.lstrip()):
        return None
    found: set[UnitOption] = set()
    for probe in PROBES:
        pair = understood(probe + rest, asked)
        if not isinstance(pair, Pair) or pair.repairs or [str(n.value) for n in pair.numbers] != [probe]:
            return None
        if pair.numbers[0].repairs:
            return None
        reading = settled(probe + rest, asked, pair, None)
        if len(reading.readings) != 1 or (pair.unit is not None and len(pair.unit.options) + len(pair.unit.spare) > 1):
            return None
        c = reading.readings[0]
        found.add(
            UnitOption(
                c.unit if c.unit or not c.unit_missing else "?",
                c.scale,
                c.offset,
                c.dimension_fits,
                pair.unit.options[0].repairs if pair.unit else (),
            )
        )
    return found.pop() if len(found) == 1 else None


def _figures(digits: str) -> int:
    mantissa = digits.lower().partition("e")[0].lstrip("-")
    if "." in mantissa:
        bare = mantissa.replace(".", "").lstrip("0")
        return len(bare) or len(mantissa) - mantissa.index(".") - 1
    bare = mantissa.lstrip("0")
    return max(1, len(bare.rstrip("0")), min(len(bare), FIGURES_OF_WHOLE_NUMBERS))


def _empty(texts: Sequence[str], asked: str, plausible: npt.NDArray[np.float64] | None, k: int) -> ColumnReading:
    n = len(texts)
    return ColumnReading(
        texts, asked, np.full((n, k), np.nan), np.full((n, k), np.nan), np.zeros((n, k), np.int64), np.ones((n, k)),
        np.zeros((n, k)), np.zeros((n, k), np.bool_), np.zeros((n, k), np.bool_), np.zeros(n, np.int8), plausible,
    )  # fmt: skip


def _fill_plain(
    c: ColumnReading, rows: list[int], numbers: list[float], figures: list[int], options: list[UnitOption]
) -> None:
    if not rows:
        return
    at = np.array(rows)
    c.number[at, 0] = numbers
    c.figures[at, 0] = figures
    c.scale[at, 0] = [o.scale for o in options]
    c.offset[at, 0] = [o.offset for o in options]
    c.unit_missing[at, 0] = [o.name == "?" for o in options]
    c.dimension_fits[at, 0] = [o.fits for o in options]
    c.si[at, 0] = c.number[at, 0] * c.scale[at, 0] + c.offset[at, 0]
    repaired = np.array([bool(o.repairs) for o in options])
    code = np.where(repaired, CODE_OF[Certainty.REPAIRED], CODE_OF[Certainty.CERTAIN])
    c.certainty[at] = np.where(c.dimension_fits[at, 0], code, CODE_OF[Certainty.WRONG_DIMENSION])


def _fill_slow(c: ColumnReading, slow: list[tuple[int, Reading]]) -> None:
    for i, reading in slow:
        c.certainty[i] = CODE_OF[reading.certainty]
        for j, candidate in enumerate(reading.readings):
            c.si[i, j], c.number[i, j], c.figures[i, j] = candidate.si, float(candidate.digits), candidate.figures
            c.scale[i, j], c.offset[i, j] = candidate.scale, candidate.offset
            c.unit_missing[i, j], c.dimension_fits[i, j] = candidate.unit_missing, candidate.dimension_fits
