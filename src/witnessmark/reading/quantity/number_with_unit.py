"""A number with its unit and what may stand after them, and the same quantity given twice."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import islice

from witnessmark.reading.number.numbers import Number, read_number
from witnessmark.reading.quantity.composed import read_composed, read_ratio
from witnessmark.reading.quantity.tail import After, Refusal, after_number, is_remark
from witnessmark.reading.result import Repair
from witnessmark.reading.unit.asked_unit import asked_unit
from witnessmark.reading.unit.units import UnitReading

SAME = 1e-9
BETWEEN_TWICE = re.compile(r" ?(?:[,;/(\[]| or | i\.?e\.? |=) ?(?=[-+]?[.\d])")
MOST_BETWEEN = 6
"""Places at which an entry may fall into two quantities: one with more numbers is no quantity given twice."""


@dataclass(frozen=True, slots=True)
class Pair:
    """The numbers an entry may mean and what their unit can be, before it is settled which is meant; `repairs` hold
    for all of them."""

    numbers: tuple[Number, ...]
    unit: UnitReading | None  # None: no unit typed
    repairs: tuple[Repair, ...] = ()

    @property
    def fits(self) -> bool:
        """True when the unit is of the kind that was asked, or none was typed."""
        return self.unit is None or self.unit.fits

    def saying(self, repairs: Iterable[Repair]) -> "Pair":
        """The same with repairs put before."""
        return replace(self, repairs=(*repairs, *self.repairs))


def read_pair(text: str, asked: str) -> Pair | Refusal:
    """A number with its unit and what may stand after them."""
    composed = read_composed(text, asked)
    if composed is not None:
        return Pair((composed[0],), composed[1])
    is_pure = asked_unit(asked).takes_bare_numbers
    if is_pure and (ratio := read_ratio(text)):
        return Pair(ratio, None)
    read = read_number(text)
    if read is None:
        return Refusal(_why_no_number(text))
    rest = text[read.end :]
    if rest == "-":
        return Refusal("the minus sign stands after the number")
    after = after_number(rest.strip(), asked)
    if isinstance(after, After):
        return Pair(read.numbers, after.unit, after.repairs)
    if is_pure and all(n.value == n.value.to_integral_value() for n in read.numbers) and is_remark(rest.strip()):
        return Pair(read.numbers, None, (Repair(f"Left out after the number: {rest.strip()}."),))
    return _same_twice(text, asked) or after


def _why_no_number(text: str) -> str:
    if re.match(r"[-+]? ?\d+\.10 ?(?:\^|\*\*)", text):
        return "the point before 10 may be a decimal point or a times sign; type x 10^4 or e4"
    if re.match(r"[-+]? ?\d+ ?/ ?\d+", text):
        return "a division is not worked out here; type its result as a decimal number"
    return "the number is not written in a way that is understood, or it is far too large or small"


def _same_twice(text: str, asked: str) -> Pair | None:
    """Two quantities that are the same one (`70 kN (70 000 N)`); None when they are not."""
    for between in islice(BETWEEN_TWICE.finditer(text), MOST_BETWEEN):
        first = _alone(text[: between.start()], asked)
        second = _alone(text[between.end() :].rstrip(" )]"), asked)
        if first is not None and second is not None and same_value(first, second):
            return Pair(first.numbers, first.unit, (*first.repairs, Repair("The same answer was given twice.")))
    return None


def _alone(text: str, asked: str) -> Pair | None:
    read = read_number(text)
    after = after_number(text[read.end :].strip(), asked) if read else None
    return Pair(read.numbers, after.unit, after.repairs) if read and isinstance(after, After) else None


def same_value(a: Pair, b: Pair) -> bool:
    """True when two pairs give the same value to the figures of the coarser one."""
    if a.unit is None or b.unit is None or not (a.fits and b.fits):
        return False
    (x, u), (y, v) = (a.numbers[0], a.unit.options[0]), (b.numbers[0], b.unit.options[0])
    first, second = float(x.value) * u.scale + u.offset, float(y.value) * v.scale + v.offset
    room = max(_half_unit(x) * u.scale, _half_unit(y) * v.scale)
    return abs(first - second) <= room + SAME * abs(first)


def _half_unit(n: Number) -> float:
    return 0.5 * 10.0 ** (n.value.adjusted() + 1 - n.figures) if n.value else 0.0
