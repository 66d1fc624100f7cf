"""Numbers of a whole column at once: the bytes of all entries as one array, read by one table of states.

An entry is a head (`F = `), a number and a tail (` kN`), each of the two at most sixteen bytes. The number is digits,
perhaps in groups of three by spaces or commas, a point or a decimal comma, a power of ten after e. What can be read in
two ways, and every rarer form, is left out here. What is read is what `numbers.py` reads; a property test holds both
together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.reading.number.numbers import FIGURES_OF_WHOLE_NUMBERS

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]
Bytes = npt.NDArray[np.uint8]
WIDTH = 48  # bytes of an entry; longer ones are left out
PACKED = 16  # bytes of a head or a tail
MOST_DIGITS = 15  # a double holds them exactly
CHUNK = 1 << 15  # entries at a time: the arrays stay in the cache

# States of an entry, left to right; ENDS are those in which it may end.
(START, HEAD, WHOLE, POINT, DECIMALS, COMMA, C_DIGITS, E, E_SIGN, POWER,
 SPACE, G1, G2, G3, G_SPACE, GAP, TAIL, BAD) = range(18)  # fmt: skip
ENDS = (WHOLE, DECIMALS, C_DIGITS, POWER, G3, TAIL)
DIGIT_STATES = (WHOLE, DECIMALS, C_DIGITS, G1, G2, G3)


def _table() -> Bytes:
    """The next state for each state and byte."""
    table = np.full((18, 256), BAD, np.uint8)
    digits, printed = np.arange(48, 58), np.array([b for b in range(32, 256) if b != 127])
    signs = np.array([*range(65, 91), *range(97, 123), *range(128, 256), *b"%*"])
    table[[START, HEAD], 32:] = HEAD
    for state in (WHOLE, DECIMALS, C_DIGITS, POWER, G3, SPACE, GAP, G_SPACE):
        table[state, signs] = TAIL
    for state in (SPACE, GAP, G_SPACE):
        table[state, list(b"/([")] = TAIL
    table[TAIL, printed] = TAIL
    after_digit = {
        START: WHOLE, HEAD: WHOLE, WHOLE: WHOLE, POINT: DECIMALS, DECIMALS: DECIMALS, COMMA: C_DIGITS,
        C_DIGITS: C_DIGITS, E: POWER, E_SIGN: POWER, POWER: POWER, SPACE: G1, G1: G2, G2: G3, G_SPACE: G1,
    }  # fmt: skip
    for state, following in after_digit.items():
        table[state, digits] = following
    table[[WHOLE, G3, C_DIGITS], ord(".")] = POINT
    table[[WHOLE, C_DIGITS], ord(",")] = COMMA
    for letter in b"eE":
        table[[WHOLE, DECIMALS], letter] = E
        table[[C_DIGITS, POWER], letter] = BAD
    table[E, list(b"+-")] = E_SIGN
    table[[WHOLE, G3], 32] = [SPACE, G_SPACE]
    table[[DECIMALS, C_DIGITS, POWER], 32] = GAP
    return table


TABLE = _table()
IS_DIGIT = np.isin(np.arange(18), DIGIT_STATES)
IS_TAIL = np.isin(np.arange(18), (TAIL, SPACE, GAP, G_SPACE))


@dataclass(frozen=True, slots=True)
class Scan:
    """What was read of a column, arrays of shape (m,): rows of the column; whole numbers and the powers of ten that
    they are multiplied by; figures; whether the number has figures behind a point, is repaired (a decimal comma), has a
    power of ten; and what stands around them, as an index into `arounds` (head, tail)."""

    rows: Ints
    mantissa: Ints
    exponent: Ints
    figures: Ints
    pointed: Bools
    repaired: Bools
    has_power: Bools
    around: Ints
    arounds: tuple[tuple[str, str], ...]


def scan(texts: Sequence[str]) -> Scan:
    """The entries among the texts that are of the forms read here."""
    chunks = [_scan_chunk(texts[i : i + CHUNK], i) for i in range(0, len(texts), CHUNK)]
    joined = [np.concatenate(c) for c in zip(*chunks or [_scan_chunk((), 0)], strict=True)]
    rows, mantissa, exponent, figures, pointed, repaired, has_power, *packed = joined
    code, firsts = _coded(packed)
    arounds = tuple((_unpacked(packed[0][i], packed[1][i]), _unpacked(packed[2][i], packed[3][i])) for i in firsts)
    return Scan(rows, mantissa, exponent, figures, pointed, repaired, has_power, code, arounds)


def _coded(packed: Sequence[npt.NDArray[np.uint64]]) -> tuple[Ints, Ints]:
    """An index for each distinct row of the columns, and the place where each stands first."""
    code = np.zeros(len(packed[0]), np.int64)
    for column in packed:
        if column.any():
            values, found = np.unique(column, return_inverse=True)
            _, code = np.unique(code * len(values) + found, return_inverse=True)
    _, firsts, code = np.unique(code, return_index=True, return_inverse=True)
    return code.astype(np.int64), firsts.astype(np.int64)


def _unpacked(low: np.uint64, high: np.uint64) -> str:
    packed = int(low).to_bytes(8, "big").lstrip(b"\0") + int(high).to_bytes(8, "big").lstrip(b"\0")
    return packed.decode()


def _matrix(texts: Sequence[str]) -> Bytes | None:
    """The bytes of each text, one row for each place, shape (places, n), noughts after the end of a text; None when a
    text cannot be encoded or holds a line end."""
    try:
        data = np.frombuffer(("\n".join(texts) + "\n").encode(), np.uint8)
    except UnicodeEncodeError:  # a lone surrogate
        return None
    ends = np.flatnonzero(data == 10)
    if len(ends) != len(texts):
        return None
    starts = np.concatenate(([0], ends[:-1] + 1))
    lengths = ends - starts
    places = np.zeros((min(WIDTH, int(lengths.max())) + 1, len(texts)), np.uint8)
    for j in range(len(places)):
        byte = data[np.minimum(starts + j, len(data) - 1)]
        places[j] = np.where(j < lengths, np.maximum(byte, 1), 0)  # a nought inside a text is no end
    return places


def _scan_chunk(texts: Sequence[str], offset: int) -> tuple[npt.NDArray[np.generic], ...]:
    places = _matrix(texts) if len(texts) else None
    s = _Sums(0 if places is None else len(texts))
    for byte in () if places is None else places:
        s.take(byte)
    rows = np.flatnonzero(s.is_good())
    number = (s.mantissa, s.exponent(), s.figures(), s.after_point() > 0, s.is_decimal_comma(), s.power_digits > 0)
    columns = (*number, *s.head, *s.tail)
    return (rows + offset, *(column[rows] for column in columns))


class _Sums:
    """What is added up while the bytes go by, one element for each entry."""

    def __init__(self, n: int) -> None:
        self.state = np.zeros(n, np.uint8)
        self.mantissa, self.power = np.zeros(n, np.int64), np.zeros(n, np.int64)
        self.digits, self.decimals, self.first_group, self.counted, self.noughts, self.power_digits = (
            np.zeros(n, np.int8) for _ in range(6)
        )
        self.commas, self.since_comma = np.zeros(n, np.int8), np.zeros(n, np.int8)
        self.spaced, self.pointed, self.uneven, self.falls = (np.zeros(n, np.bool_) for _ in range(4))
        self.head, self.tail = ([np.zeros(n, np.uint64), np.zeros(n, np.uint64)] for _ in range(2))
        self.head_length, self.tail_length = np.zeros(n, np.int8), np.zeros(n, np.int8)

    def take(self, byte: Bytes) -> None:
        """The next byte of every entry; nought after its end."""
        live = byte > 0
        self.state = state = np.where(live, TABLE[self.state, byte], self.state)
        if (at := live & IS_DIGIT[state]).any():
            self._digit(at, byte - np.uint8(48), state)
        if (at := live & (state == POWER)).any():
            self.power = np.where(at, np.minimum(self.power * 10 + (byte - np.uint8(48)), 9999), self.power)
            self.power_digits += at
        self.falls |= live & (state == E_SIGN) & (byte == ord("-"))
        self._marks(live, state)
        if (at := live & (state == HEAD)).any():
            self.head_length = _pack(self.head, self.head_length, at, byte)
        if (at := live & IS_TAIL[state]).any():
            self.tail_length = _pack(self.tail, self.tail_length, at, byte)
        if (at := live & (state == G1)).any():  # the space was a group's, not the tail's
            self.spaced |= at
            self.tail[0][at], self.tail_length[at] = 0, 0

    def _digit(self, at: Bools, digit: Bytes, state: Bytes) -> None:
        few = at & (self.digits <= MOST_DIGITS)
        self.mantissa = np.where(few, self.mantissa * 10 + digit, self.mantissa)
        self.digits += at
        self.decimals += at & (state == DECIMALS)
        self.since_comma += at & (state == C_DIGITS)
        self.first_group += at & (state == WHOLE)
        counts = at & ((digit > 0) | (self.counted > 0))
        self.counted += counts
        self.noughts = np.where(counts, (self.noughts + np.int8(1)) * (digit == 0), self.noughts).astype(np.int8)

    def _marks(self, live: Bools, state: Bytes) -> None:
        at_comma, at_point = live & (state == COMMA), live & (state == POINT)
        self.pointed |= at_point
        if at_comma.any():
            self.uneven |= at_comma & (self.commas > 0) & (self.since_comma != 3)
            self.commas += at_comma
            self.since_comma[at_comma] = 0
        if self.commas.any():
            self.uneven |= at_point & (self.commas > 0) & (self.since_comma != 3)

    def is_decimal_comma(self) -> Bools:
        """True where the one comma is a decimal comma."""
        return np.asarray((self.commas == 1) & ~self.pointed, np.bool_)

    def is_good(self) -> Bools:
        """True of entries that were of these forms to the end, and can be read in one way only."""
        one_comma, three = self.is_decimal_comma(), (self.since_comma == 3) & (self.first_group <= 3)
        by_commas = (self.commas > 0) & ~one_comma
        leads_with_nought = self.counted != self.digits
        good = np.isin(self.state, ENDS) & (self.digits <= MOST_DIGITS) & (self.power_digits <= 3)
        good &= (self.head_length <= PACKED) & (self.tail_length <= PACKED)
        good &= ~((self.spaced | by_commas) & (self.first_group > 3)) & ~(one_comma & three)
        good &= ~(by_commas & (self.uneven | leads_with_nought | (~self.pointed & (self.since_comma != 3))))
        return np.asarray(good, np.bool_)

    def exponent(self) -> Ints:
        """The power of ten by which the digits are multiplied."""
        power = np.where(self.falls, -self.power, self.power)
        return np.asarray(power - self.decimals - np.where(self.is_decimal_comma(), self.since_comma, 0), np.int64)

    def after_point(self) -> Ints:
        """How many figures stand behind the point or the decimal comma."""
        return np.where(self.is_decimal_comma(), self.since_comma, self.decimals).astype(np.int64)

    def figures(self) -> Ints:
        """The figures to rely on, by the rule of numbers.py."""
        after_point = self.after_point()
        most, least = self.counted.astype(np.int64), (self.counted - self.noughts).astype(np.int64)
        whole = np.maximum(least, np.minimum(most, FIGURES_OF_WHOLE_NUMBERS))
        return np.where(most == 0, np.maximum(1, after_point), np.where(after_point > 0, most, whole))


def _pack(
    packed: list[npt.NDArray[np.uint64]], length: npt.NDArray[np.int8], at: Bools, byte: Bytes
) -> npt.NDArray[np.int8]:
    """Appends a byte to sixteen packed ones; gives the new lengths."""
    for half, is_half in enumerate((length < PACKED // 2, length >= PACKED // 2)):
        put = at & is_half
        packed[half] = np.where(put, (packed[half] << np.uint64(8)) | byte, packed[half])
    return np.asarray(length + at, np.int8)
