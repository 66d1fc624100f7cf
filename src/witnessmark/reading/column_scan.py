"""Plain numbers of a whole column at once: the bytes of all entries as one array, read by one table of states.

Plain is `-1234.5e-6 unit`: digits, perhaps in groups of three by single spaces, a point, a power of ten after e, then
at most sixteen bytes of unit. What is plain here is read by `numbers.py` in the same way; a property test holds both
together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.reading.numbers import FIGURES_OF_WHOLE_NUMBERS

Ints = npt.NDArray[np.int64]
WIDTH = 32  # bytes of an entry; longer ones are not plain
MOST_DIGITS = 15  # a double holds them exactly
EXACT_POWER = 22  # and this power of ten, so that one multiplication or division rounds once
POWERS = np.array([float(10**k) for k in range(EXACT_POWER + 1)])
HALF_REST = 8  # bytes of a unit in one integer
CHUNK = 1 << 16  # entries at a time: the arrays stay in the cache

# States of an entry, left to right. Those up to LAST_OF_NUMBER that are whole may end it.
START, MINUS, WHOLE, POINT, DECIMALS, E, E_SIGN, POWER, SPACE, G1, G2, G3, G_SPACE, GAP, REST, BAD = range(16)
ENDS = (WHOLE, DECIMALS, POWER, G3, REST)


def _table() -> npt.NDArray[np.uint8]:
    """The next state for each state and byte."""
    table = np.full((16, 256), BAD, np.uint8)
    digits = np.arange(48, 58)
    unit = np.array([*range(65, 91), *range(97, 123), *range(128, 256), ord("%")])
    after_unit = np.array([b for b in range(33, 256) if b not in b"=<>;:?!,\"'" and b != 127] + [32])
    for state, following in ((START, WHOLE), (MINUS, WHOLE), (WHOLE, WHOLE), (POINT, DECIMALS), (DECIMALS, DECIMALS)):
        table[state, digits] = following
    for state, following in (
        (E, POWER),
        (E_SIGN, POWER),
        (POWER, POWER),
        (SPACE, G1),
        (G1, G2),
        (G2, G3),
        (G_SPACE, G1),
    ):
        table[state, digits] = following
    table[START, ord("-")] = MINUS
    for state in (WHOLE, DECIMALS, POWER, G3, SPACE, GAP, G_SPACE):
        table[state, unit] = REST
    table[[SPACE, GAP], ord("/")] = REST
    for state in (WHOLE, G3):
        table[state, ord(".")] = POINT
    for state in (WHOLE, DECIMALS):
        table[state, [ord("e"), ord("E")]] = E
    table[E, [ord("+"), ord("-")]] = E_SIGN
    table[[WHOLE, G3], 32] = [SPACE, G_SPACE]
    table[[DECIMALS, POWER], 32] = GAP
    table[REST, after_unit] = REST
    return table


TABLE = _table()


@dataclass(frozen=True, slots=True)
class Scan:
    """Plain entries of a column: their rows, the numbers, their figures, and the unit's text as an index into `rests`
    (texts with the space before them). Shapes (m,)."""

    rows: Ints
    number: npt.NDArray[np.float64]
    figures: Ints
    rest: Ints
    rests: tuple[str, ...]


def scan(texts: Sequence[str]) -> Scan:
    """The plain entries among the texts."""
    pieces = [_scan_chunk(texts[i : i + CHUNK], i) for i in range(0, len(texts), CHUNK)]
    if not pieces:
        none = np.empty(0, np.int64)
        return Scan(none, np.empty(0), none, none, ())
    rows, number, figures, low, high = (np.concatenate(column) for column in zip(*pieces, strict=True))
    rest, firsts = _coded(low, high)
    return Scan(rows, number, figures, rest, tuple(_rest_text(int(low[i]), int(high[i])) for i in firsts))


def _coded(low: npt.NDArray[np.uint64], high: npt.NDArray[np.uint64]) -> tuple[Ints, Ints]:
    """An index for each distinct pair, and the place where each pair stands first."""
    _, first_codes = np.unique(low, return_inverse=True)
    high_values, second_codes = np.unique(high, return_inverse=True)
    both = first_codes * len(high_values) + second_codes
    _, firsts, codes = np.unique(both, return_index=True, return_inverse=True)
    return codes.astype(np.int64), firsts.astype(np.int64)


def _rest_text(low: int, high: int) -> str:
    """The text whose bytes were packed, its space included."""
    packed = low.to_bytes(8, "big").lstrip(b"\0") + high.to_bytes(8, "big").lstrip(b"\0")
    return packed.decode()


def _matrix(texts: Sequence[str]) -> npt.NDArray[np.uint8] | None:
    """The bytes of each text, column by column, shape (WIDTH + 1, n), noughts after the end; too long ones are BAD."""
    joined = "\n".join(texts)
    try:
        data = np.frombuffer((joined + "\n").encode(), np.uint8)
    except UnicodeEncodeError:  # a lone surrogate
        return None
    ends = np.flatnonzero(data == 10)
    if len(ends) != len(texts):  # a line end inside an entry
        return None
    starts = np.concatenate(([0], ends[:-1] + 1))
    lengths = ends - starts
    columns = np.zeros((WIDTH + 1, len(texts)), np.uint8)
    last = len(data) - 1
    for j in range(min(WIDTH, int(lengths.max(initial=0)))):
        columns[j] = np.where(j < lengths, data[np.minimum(starts + j, last)], 0)
    columns[WIDTH] = lengths > WIDTH
    return columns


def _scan_chunk(texts: Sequence[str], offset: int) -> tuple[npt.NDArray[np.generic], ...]:
    columns = _matrix(texts)
    n = len(texts)
    if columns is None:
        empty = np.empty(0, np.int64)
        return empty, np.empty(0), empty, empty.astype(np.uint64), empty.astype(np.uint64)
    s = _Sums(n)
    for j in range(WIDTH):
        if not columns[j].any():
            break
        s.take(columns[j])
    good = s.is_plain() & (columns[WIDTH] == 0)
    rows = np.flatnonzero(good)
    return (rows + offset, *(a[rows] for a in (s.number(), s.figures(), s.low, s.high)))


class _Sums:
    """What is added up while the bytes go by, one element for each entry."""

    def __init__(self, n: int) -> None:
        self.state = np.zeros(n, np.uint8)
        self.mantissa = np.zeros(n, np.int64)
        self.digits, self.decimals = np.zeros(n, np.int8), np.zeros(n, np.int8)
        self.figure_count, self.zeros_at_end = np.zeros(n, np.int8), np.zeros(n, np.int8)
        self.first_group, self.grouped = np.zeros(n, np.int8), np.zeros(n, np.bool_)
        self.power, self.power_digits = np.zeros(n, np.int16), np.zeros(n, np.int8)
        self.power_sign, self.sign = np.ones(n, np.int8), np.ones(n, np.int8)
        self.low, self.high = np.zeros(n, np.uint64), np.zeros(n, np.uint64)
        self.rest_length = np.zeros(n, np.int8)

    def take(self, byte: npt.NDArray[np.uint8]) -> None:
        """The next byte of every entry; nought after its end."""
        live = byte > 0
        before = self.state
        self.state = np.where(live, TABLE[before, byte], before)
        state = self.state
        digit = byte - np.uint8(48)
        is_digit = live & ((state == WHOLE) | (state == DECIMALS) | ((state >= G1) & (state <= G3)))
        if is_digit.any():
            self._digit(is_digit, digit, state)
        in_power = live & (state == POWER)
        if in_power.any():
            self.power = np.where(in_power, np.minimum(self.power * 10 + digit, 9999), self.power).astype(np.int16)
            self.power_digits += in_power
        is_minus = byte == ord("-")
        self.sign[live & (state == MINUS)] = -1
        self.power_sign[live & (state == E_SIGN) & is_minus] = -1
        self.grouped |= live & (state == G1)
        is_rest = live & ((state == REST) | (state == SPACE) | (state == GAP) | (state == G_SPACE))
        if is_rest.any():
            self._rest(is_rest, byte)
        back = live & (state == G1)  # the space was a group's, not the unit's
        self.low[back], self.rest_length[back] = 0, 0

    def _digit(self, at: npt.NDArray[np.bool_], digit: npt.NDArray[np.uint8], state: npt.NDArray[np.uint8]) -> None:
        few = at & (self.digits <= MOST_DIGITS)
        self.mantissa = np.where(few, self.mantissa * 10 + digit, self.mantissa)
        self.digits += at
        self.decimals += at & (state == DECIMALS)
        counts = at & ((digit > 0) | (self.figure_count > 0))
        self.figure_count += counts
        self.zeros_at_end = np.where(counts, np.where(digit == 0, self.zeros_at_end + 1, 0), self.zeros_at_end).astype(
            np.int8
        )
        self.first_group += at & (state == WHOLE)

    def _rest(self, at: npt.NDArray[np.bool_], byte: npt.NDArray[np.uint8]) -> None:
        to_low, to_high = at & (self.rest_length < HALF_REST), at & (self.rest_length >= HALF_REST)
        self.low = np.where(to_low, (self.low << np.uint64(8)) | byte, self.low)
        self.high = np.where(to_high, (self.high << np.uint64(8)) | byte, self.high)
        self.rest_length += at

    def is_plain(self) -> npt.NDArray[np.bool_]:
        """True of entries that were plain to the end."""
        plain = np.isin(self.state, ENDS) & (self.digits <= MOST_DIGITS) & (self.rest_length <= 2 * HALF_REST)
        plain &= ~self.grouped | (self.first_group <= 3)
        plain &= (self.power_digits <= 3) & (np.abs(self._exponent()) <= EXACT_POWER)
        return plain

    def _exponent(self) -> Ints:
        return (self.power_sign * self.power - self.decimals).astype(np.int64)

    def number(self) -> npt.NDArray[np.float64]:
        """The numbers, rounded once, as `float` reads them."""
        exponent = self._exponent()
        up = POWERS[np.clip(exponent, 0, EXACT_POWER)]
        down = POWERS[np.clip(-exponent, 0, EXACT_POWER)]
        value: npt.NDArray[np.float64] = self.sign * (self.mantissa.astype(np.float64) * up / down)
        return value

    def figures(self) -> Ints:
        """The figures to rely on, by the rule of numbers.py."""
        most, least = self.figure_count.astype(np.int64), (self.figure_count - self.zeros_at_end).astype(np.int64)
        whole = np.maximum(least, np.minimum(most, FIGURES_OF_WHOLE_NUMBERS))
        nought = np.maximum(1, self.decimals.astype(np.int64))
        return np.where(most == 0, nought, np.where(self.decimals > 0, most, whole))
