"""What stands around a number in a column, looked up once for all the entries that share it.

`F = 70,5 kN` is a head (`F = `), a number and a tail (` kN`). Where head and tail mean the same around every number,
which two probes tell, only the number is read anew.
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.reading.number.numbers import Number, read_number
from witnessmark.reading.quantity.entries import certainty_of, settled
from witnessmark.reading.quantity.entry_text import understood
from witnessmark.reading.quantity.number_with_unit import Pair
from witnessmark.reading.quantity.stop_words import MONTH
from witnessmark.reading.quantity.tail import POWERED, Refusal
from witnessmark.reading.result import Certainty
from witnessmark.reading.text.characters import plain
from witnessmark.reading.unit.asked_unit import AskedUnit

PROBES = ("3", "2.5")
HEAD_AND_REST = re.compile(r"([^\d]{0,40})(\d.*)")
OPEN_HEAD = re.compile(r"(?:.*[\s(=:~≈ØΦø⌀∅])?-?", re.DOTALL)
ODD_HEAD = re.compile(rf"err|{MONTH}|#", re.IGNORECASE)  # heads of dates and of a spreadsheet's errors
GOES_ON = frozenset(".,'_")  # a tail that begins so may belong to the number
TIMES_TEN = re.compile(r" ?[x×X*·] ?10 ?(?:\^|\*\*) ?[-+]? ?\d{1,2}(?!\d|[.,]\d)")
LONGEST_LOOKED_UP = 100  # characters; longer entries go the long way


@dataclass(frozen=True, slots=True)
class Meaning:
    """What head and tail stand for, whatever the number: the unit it is read in, whether it is negative, a power of ten
    to multiply it by (`is_apart` is false where the tail goes on with the number), the certainty but for the number."""

    scale: float
    offset: float
    fits: bool
    missing: bool
    certainty: Certainty
    is_negative: bool = False
    power: int = 0
    is_apart: bool = True

    def certainty_with(self, count: int, repaired: bool) -> Certainty:
        """The certainty of an entry with so many readings of its number, repaired or not."""
        if not self.fits:
            return Certainty.WRONG_DIMENSION
        if count > 1:
            return Certainty.AMBIGUOUS
        return Certainty.REPAIRED if repaired else self.certainty


class Meanings:
    """The heads and tails met in one column, and what they stand for."""

    def __init__(self, asked: AskedUnit) -> None:
        self.asked = asked
        self._known: dict[tuple[str, str], Meaning | None] = {}

    def of(self, head: str, tail: str) -> Meaning | None:
        """The meaning of a head and a tail; None when it is not the same around every number."""
        key = head, tail
        if key not in self._known:
            self._known[key] = self._look_up(head, tail)
        return self._known[key]

    def _look_up(self, head: str, tail: str) -> Meaning | None:
        after = plain("3" + tail)[0][1:]
        numbers_again = re.search(r"\d", POWERED.sub("", TIMES_TEN.sub("", after, count=1)))
        if numbers_again or after[:1] in GOES_ON or not OPEN_HEAD.fullmatch(head) or ODD_HEAD.search(head):
            return None
        found = {self._probed(head, probe, tail) for probe in PROBES}
        return found.pop() if len(found) == 1 else None

    def _probed(self, head: str, probe: str, tail: str) -> Meaning | None:
        pair = understood(head + probe + tail, self.asked.name)
        if isinstance(pair, Refusal) or len(pair.numbers) > 1 or pair.numbers[0].repairs:
            return None
        if pair.unit is None and self.asked.name == "percent":
            return None
        if pair.unit is not None and not pair.unit.is_one:
            return None
        is_negative = plain(head + "3")[0].endswith("-3")
        value, bare = pair.numbers[0].value, Decimal(("-" if is_negative else "") + probe)
        power = value.adjusted() - bare.adjusted()
        readings = settled(pair, self.asked, None)
        if value != bare.scaleb(power) or len(readings) != 1:
            return None
        c, certainty = readings[0], certainty_of(pair, readings)
        number = read_number(plain(probe + tail)[0])
        is_apart = number is not None and number.end == len(probe)
        return Meaning(c.scale, c.offset, c.dimension_fits, c.unit_missing, certainty, is_negative, power, is_apart)

    def read(self, text: str) -> tuple[tuple[Number, ...], Meaning] | None:
        """The numbers of an entry and what stands around them; None when it has to go the long way."""
        if len(text) > LONGEST_LOOKED_UP:
            return None
        entry, said = plain(text)
        match = HEAD_AND_REST.fullmatch(entry)
        if match is None or said:
            return None
        head = match[1]
        core = ("-" if head.endswith("-") else "") + match[2]
        numbers = read_number(core)
        if numbers is None or (head and "/" in core[: numbers.end]):
            return None
        meaning = self.of(head, core[numbers.end :])
        return (numbers.numbers, meaning) if meaning is not None and meaning.is_apart else None


def is_open(pair: Pair, size_known: bool) -> bool:
    """True of a pair whose unit is chosen by the size expected."""
    return size_known and pair.unit is not None and not (pair.unit.is_one or pair.unit.all_kept)
