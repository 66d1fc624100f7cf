"""What stands around a number in a column, looked up once for all the entries that share it.

`F = 70,5 kN` is a head (`F = `), a number and a tail (` kN`). Where head and tail mean the same around every number,
which two probes tell, only the number is read anew.
"""

import re
from dataclasses import dataclass

from witnessmark.reading.after_number import POWERED, Refusal
from witnessmark.reading.around import understood
from witnessmark.reading.asked import Asked
from witnessmark.reading.certainty import Certainty
from witnessmark.reading.characters import plain
from witnessmark.reading.entries import certainty_of, settled
from witnessmark.reading.numbers import Number, read_number
from witnessmark.reading.pairs import Pair
from witnessmark.reading.side_words import special_reason

PROBES = ("3", "2.5")
FIRST_DIGIT = re.compile(r"([^\d]{0,40})(\d.*)")
OPEN_HEAD = re.compile(r"(?:.*[\s(=:~≈])?-?", re.DOTALL)
LONGEST = 100  # characters; longer entries go the long way


@dataclass(frozen=True, slots=True)
class Meaning:
    """What head and tail stand for, whatever the number: the unit it is read in, the certainty but for the number."""

    scale: float
    offset: float
    fits: bool
    missing: bool
    certainty: Certainty

    def certainty_with(self, numbers: tuple[Number, ...]) -> Certainty:
        """The certainty of these numbers with this unit."""
        if not self.fits:
            return Certainty.WRONG_DIMENSION
        if len(numbers) > 1:
            return Certainty.AMBIGUOUS
        return Certainty.REPAIRED if numbers[0].repairs else self.certainty


class Meanings:
    """The heads and tails met in one column, and what they stand for."""

    def __init__(self, asked: Asked) -> None:
        self.asked = asked
        self._known: dict[tuple[str, str], Meaning | None] = {}

    def of(self, head: str, tail: str) -> Meaning | None:
        """The meaning of a head and a tail; None when it is not the same around every number."""
        key = head, tail
        if key not in self._known:
            self._known[key] = self._look_up(head, tail)
        return self._known[key]

    def _look_up(self, head: str, tail: str) -> Meaning | None:
        if re.search(r"\d", POWERED.sub("", tail)) or not OPEN_HEAD.fullmatch(head):
            return None
        found = {self._probed(head, probe, tail) for probe in PROBES}
        return found.pop() if len(found) == 1 else None

    def _probed(self, head: str, probe: str, tail: str) -> Meaning | None:
        number = read_number(plain(probe + tail)[0])
        if number is None or number.end != len(probe):
            return None
        pair = understood(head + probe + tail, self.asked.name)
        if isinstance(pair, Refusal) or [str(n.value) for n in pair.numbers] != [_sign(head) + probe]:
            return None
        if pair.numbers[0].repairs or (pair.unit is None and self.asked.name == "percent"):
            return None
        if pair.unit is not None and not pair.unit.is_one:
            return None
        readings = settled(pair, self.asked, None)
        if len(readings) != 1:
            return None
        c = readings[0]
        return Meaning(c.scale, c.offset, c.dimension_fits, c.unit_missing, certainty_of(pair, readings))

    def read(self, text: str) -> tuple[tuple[Number, ...], Meaning] | None:
        """The numbers of an entry and what stands around them; None when it has to go the long way."""
        if len(text) > LONGEST:
            return None
        entry, said = plain(text)
        match = FIRST_DIGIT.fullmatch(entry)
        if match is None or said or (match[1] and special_reason(entry)):
            return None
        head, core = match[1], _sign(match[1]) + match[2]
        numbers = read_number(core)
        if numbers is None or (head and "/" in core[: numbers.end]):
            return None
        meaning = self.of(head, core[numbers.end :])
        return None if meaning is None else (numbers.numbers, meaning)


def _sign(head: str) -> str:
    """The minus sign that a head ends with: it belongs to the number."""
    return "-" if head.endswith("-") else ""


def is_open(pair: Pair, size_known: bool) -> bool:
    """True of a pair whose unit is chosen by the size expected."""
    return size_known and pair.unit is not None and not (pair.unit.is_one or pair.unit.all_kept)
