"""A whole column of typed quantities as arrays.

Three ways, of which each entry takes the shortest that it can: plain numbers are read all at once (`column_scan.py`);
numbers of other forms one by one, with what stands around them looked up (`column_meanings.py`); the rest as by
`read_quantity`, once for each distinct text. All three give the same readings; a property test holds them together.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import isfinite

import numpy as np
import numpy.typing as npt

from witnessmark.maths.same_rows import numbered
from witnessmark.reading.column.meanings import Meaning, Meanings, is_open
from witnessmark.reading.column.scan import scan
from witnessmark.reading.column.texts import Texts
from witnessmark.reading.quantity.entries import Reading, certainty_of, read_quantity, settled
from witnessmark.reading.quantity.entry_text import understood
from witnessmark.reading.quantity.number_with_unit import Pair
from witnessmark.reading.quantity.tail import Refusal
from witnessmark.reading.result import Certainty
from witnessmark.reading.unit.asked_unit import AskedUnit, asked_unit

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Rows = npt.NDArray[np.intp]
CODES = tuple(Certainty)
CODE_OF = {certainty: code for code, certainty in enumerate(CODES)}
EXACT_POWER = 22  # a double holds this power of ten, so that one multiplication or division rounds once
LOOKED_AT, FEW_REPEAT = 4096, 0.98
WORTH_SCANNING = 8  # from so many entries on, reading them together is quicker than one by one
POWERS = np.array([float(10**k) for k in range(EXACT_POWER + 1)])
# One candidate: SI value, number, figures, scale, offset, whether it has a point, whether the unit is missing, whether
# the dimension fits.
Row = tuple[float, float, float, float, float, bool, bool, bool]


@dataclass(frozen=True, slots=True)
class ColumnReading:
    """The readings of n entries, k candidates each (k is that of the entry with the most; NaN, 0, False beyond).

    si, number: (n, k), the SI value and the number as written; figures: (n, k), whole numbers; scale, offset: (n, k),
    of the unit it was read in (si = number * scale + offset); pointed, unit_missing, dimension_fits: (n, k); certainty:
    (n,), an index into CODES; same: (n,), a number for each entry, the same for those that are the same candidates but
    for a missing unit, wherever the same is expected; None where the texts were not compared.
    """

    texts: Sequence[str]
    asked: str
    si: Floats
    number: Floats
    figures: Floats
    scale: Floats
    offset: Floats
    pointed: Bools
    unit_missing: Bools
    dimension_fits: Bools
    certainty: npt.NDArray[np.int8]
    plausible: Floats | None = field(default=None, repr=False)
    same: Rows | None = field(default=None, repr=False)

    @property
    def is_blank(self) -> Bools:
        """True of entries with nothing in them, shape (n,)."""
        return np.asarray(self.certainty == CODE_OF[Certainty.BLANK], np.bool_)

    @property
    def is_unreadable(self) -> Bools:
        """True of entries that could not be read, shape (n,)."""
        return np.asarray(self.certainty == CODE_OF[Certainty.UNREADABLE], np.bool_)

    def reading(self, i: int) -> Reading:
        """The whole reading of the i-th entry, with its repairs and reasons."""
        return read_quantity(self.texts[i], self.asked, None if self.plausible is None else float(self.plausible[i]))

    def readings(self, rows: Rows) -> Iterator[tuple[int, Reading]]:
        """Each of these entries with its whole reading; a text is read once wherever the same is expected."""
        known: dict[tuple[str, float | None], Reading] = {}
        for i in rows.tolist():
            key = self.texts[i], None if self.plausible is None else float(self.plausible[i])
            if key not in known:
                known[key] = self.reading(i)
            yield i, known[key]


def read_column(texts: Sequence[str], asked: str, plausible: Floats | None = None) -> ColumnReading:
    """The readings of all texts, each as by `read_quantity(text, asked, plausible[i])`.

    `plausible` broadcasts to the shape (n,). Raises UnitError when `asked` is no unit; nothing that was typed raises.
    """
    meanings = Meanings(asked_unit(asked))
    if plausible is not None:
        plausible = np.broadcast_to(np.asarray(plausible, dtype=np.float64), (len(texts),))
    scanned, same = _scanned_at_once(texts, meanings)
    left = np.ones(len(texts), np.bool_)
    left[scanned.rows] = False
    others = _one_by_one(texts, np.flatnonzero(left), meanings, plausible)
    columns = _empty(texts, asked, plausible, same, max([1, *(len(candidates) for _, _, candidates in others)]))
    at = slice(None) if len(scanned.rows) == len(texts) else scanned.rows
    columns.number[at, 0], columns.figures[at, 0] = scanned.number, scanned.figures
    columns.pointed[at, 0] = scanned.pointed
    columns.scale[at, 0], columns.offset[at, 0] = scanned.scale, scanned.offset
    columns.si[at, 0] = scanned.number * scanned.scale + scanned.offset
    columns.unit_missing[at, 0], columns.dimension_fits[at, 0] = scanned.missing, scanned.fits
    columns.certainty[at] = scanned.certainty
    _fill(columns, others)
    return columns


@dataclass(frozen=True, slots=True)
class _Scanned:
    """The entries that were read all at once, arrays of shape (m,)."""

    rows: Rows
    number: Floats
    figures: npt.NDArray[np.int64]
    pointed: Bools
    scale: Floats
    offset: Floats
    missing: Bools
    fits: Bools
    certainty: npt.NDArray[np.int8]

    def same(self, distinct: int) -> Rows:
        """A number for each of so many texts, the same for those in which the same number was read; one that was not
        is like itself alone."""
        read = (self.number, self.figures, self.pointed, self.scale, self.offset, self.fits)
        codes = np.arange(len(self.rows), len(self.rows) + distinct)
        codes[self.rows] = numbered(read)
        return codes

    def at(self, which: Rows, distinct: int) -> "_Scanned":
        """The same for entries each of which is one of the so many distinct ones that were read."""
        place = np.full(distinct, -1, np.intp)
        place[self.rows] = np.arange(len(self.rows))
        found = place[which]
        rows = np.flatnonzero(found >= 0)
        pick = found if len(rows) == len(found) else found[rows]
        return _Scanned(
            rows, self.number[pick], self.figures[pick], self.pointed[pick], self.scale[pick], self.offset[pick],
            self.missing[pick], self.fits[pick], self.certainty[pick],
        )  # fmt: skip


NOTHING_SCANNED = _Scanned(
    np.empty(0, np.int64), np.empty(0), np.empty(0, np.int64), np.empty(0, np.bool_), np.empty(0), np.empty(0),
    np.empty(0, np.bool_), np.empty(0, np.bool_), np.empty(0, np.int8),
)  # fmt: skip


def _scanned_at_once(texts: Sequence[str], meanings: Meanings) -> tuple[_Scanned, Rows | None]:
    """The entries that can be read together, and a number for each entry, the same for those that read the same; none
    of a few, which are sooner read one by one, and no numbers where hardly any two texts are the same."""
    if len(texts) < WORTH_SCANNING:
        return NOTHING_SCANNED, None
    column = texts if isinstance(texts, Texts) else Texts.of(texts) if _repeat(texts) else None
    if column is None:
        return _scanned(texts, meanings), None
    distinct = len(column.different)
    scanned = _scanned(column.different, meanings)
    return scanned.at(column.which, distinct), scanned.same(distinct)[column.which]


def _repeat(texts: Sequence[str]) -> bool:
    """True where so many of the first texts are the same that it pays to look for the distinct ones."""
    first = texts[:LOOKED_AT]
    return len(set(first)) < FEW_REPEAT * len(first)


def _scanned(texts: Sequence[str], meanings: Meanings) -> _Scanned:
    s = scan(texts)
    around = [meanings.of(head, tail) for head, tail in s.arounds]
    table = np.array([_as_row(m) for m in around], np.float64).reshape(-1, 9)[s.around]
    exponent = s.exponent + table[:, 6].astype(np.int64)
    kept = (table[:, 7] > 0) & (np.abs(exponent) <= EXACT_POWER) & ((table[:, 8] > 0) | ~s.has_power)
    exponent, table = exponent[kept], table[kept]
    up, down = POWERS[np.maximum(exponent, 0)], POWERS[np.maximum(-exponent, 0)]
    number = table[:, 5] * (s.mantissa[kept].astype(np.float64) * up / down)  # rounded once, as float() does
    fits, certainty = table[:, 3] > 0, table[:, 4].astype(np.int8)
    certainty[fits & s.repaired[kept]] = CODE_OF[Certainty.REPAIRED]
    return _Scanned(
        s.rows[kept], number, s.figures[kept], s.pointed[kept], table[:, 0], table[:, 1], table[:, 2] > 0, fits,
        certainty,
    )  # fmt: skip


def _as_row(m: Meaning | None) -> tuple[float, ...]:
    if m is None:
        return (1.0, 0.0, 0, 0, 0, 1, 0, 0, 0)
    sign = -1 if m.is_negative else 1
    return (m.scale, m.offset, m.missing, m.fits, CODE_OF[m.certainty], sign, m.power, 1, m.is_apart)


Entry = tuple[int, Certainty, Sequence[Row]]


def _one_by_one(
    texts: Sequence[str], rows: npt.NDArray[np.intp], meanings: Meanings, plausible: Floats | None
) -> list[Entry]:
    """The candidates of the entries that are not plain; each distinct text once, unless its size decides."""
    found: list[Entry] = []
    known: dict[str, tuple[Certainty, Sequence[Row]] | Pair] = {}
    for i in rows.tolist():
        text = texts[i]
        if text not in known:
            known[text] = _read(text, meanings, plausible is not None)
        reading = known[text]
        if isinstance(reading, Pair):
            expected = None if plausible is None else float(plausible[i])
            found.append((i, *_rows(reading, meanings.asked, expected)))
        else:
            found.append((i, *reading))
    return found


def _read(text: str, meanings: Meanings, size_known: bool) -> tuple[Certainty, Sequence[Row]] | Pair:
    short = meanings.read(text)
    if short is not None:
        numbers, m = short
        values = [(float(n.value), n.figures, n.pointed) for n in numbers]
        candidates = [(v * m.scale + m.offset, v, f, m.scale, m.offset, p, m.missing, m.fits) for v, f, p in values]
        if all(isfinite(c[0]) for c in candidates):
            return m.certainty_with(len(numbers), bool(numbers[0].repairs)), candidates
    pair = understood(text, meanings.asked.name)
    if isinstance(pair, Refusal):
        return (Certainty.UNREADABLE if pair.reason else Certainty.BLANK), ()
    return pair if is_open(pair, size_known) else _rows(pair, meanings.asked, None)


def _rows(pair: Pair, asked: AskedUnit, expected: float | None) -> tuple[Certainty, Sequence[Row]]:
    candidates = settled(pair, asked, expected)
    if not candidates:
        return Certainty.UNREADABLE, ()
    return certainty_of(pair, candidates), [
        (c.si, float(c.digits), c.figures, c.scale, c.offset, c.pointed, c.unit_missing, c.dimension_fits)
        for c in candidates
    ]


def _empty(
    texts: Sequence[str], asked: str, plausible: Floats | None, same: Rows | None, k: int
) -> ColumnReading:  # fmt: skip
    n = len(texts)
    return ColumnReading(
        texts, asked, np.full((n, k), np.nan), np.full((n, k), np.nan), np.zeros((n, k)), np.ones((n, k)),
        np.zeros((n, k)), np.zeros((n, k), np.bool_), np.zeros((n, k), np.bool_), np.zeros((n, k), np.bool_),
        np.zeros(n, np.int8), plausible, same,
    )  # fmt: skip


def _fill(c: ColumnReading, entries: Iterable[Entry]) -> None:
    entries = list(entries)
    if not entries:
        return
    c.certainty[[i for i, _, _ in entries]] = [CODE_OF[certainty] for _, certainty, _ in entries]
    flat = [(i, j, *row) for i, _, rows in entries for j, row in enumerate(rows)]
    if not flat:
        return
    table = np.array(flat, np.float64)
    at = table[:, 0].astype(np.intp), table[:, 1].astype(np.intp)
    for name, column in zip(("si", "number", "figures", "scale", "offset"), table.T[2:], strict=False):
        getattr(c, name)[at] = column
    for name, column in zip(("pointed", "unit_missing", "dimension_fits"), table.T[7:], strict=True):
        getattr(c, name)[at] = column > 0
