"""Which size of a printed table somebody chose: by its name (`M16`), its number (`16`), or its value (`16 mm²`)."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.maths.quantities import to_si
from witnessmark.reading.quantity.entries import Candidate, read_quantity
from witnessmark.reading.result import Certainty
from witnessmark.reading.text.plain_words import is_blank, plain, too_long

LONGEST_SIZE = 200
SAME = 1e-6
MORE_THAN_ONE = "more than one size is named"
OPEN = re.compile(
    r"\b(?:or|either|maybe|perhaps|between|not|no|never|than|below|under|above|over|bigger|smaller|larger|thicker)\b|[?<>≤≥]"
)
PITCH = re.compile(r"(?<=\d)\s*[x×*]\s*\d+(?:[.,]\d+)?(?![\d.,])")
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
NEEDLESS = re.compile(
    r"\b(?:i|we|would|will|take|took|use|choose|chose|need|pick|my|the|a(?=\s+\S)|an|one|of|with|is|it|so|next|standard|size|up"
    r"|listed|nominal|cable|wire|rope|bolt|screw|thread|sheet|plate|drill|fuse|tube|rod|bar|thick|wide|diameter|dia"
    r"|cross-section|section|area|answer|smallest|largest|type|number|no\.)\b\.?|[ø⌀#:=]",
    re.IGNORECASE,
)
RAISED = str.maketrans({"²": "^2", "³": "^3"})


@dataclass(frozen=True, slots=True)
class SizeReading:
    """What was understood: the `index` of the size (from 0), or None with `read_as` where a value was read that is not
    listed; neither where the entry is blank or unreadable. `repairs` are sentences."""

    certainty: Certainty
    index: int | None = None
    read_as: str = ""
    repairs: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class SizeList:
    """The sizes as they are listed: their names, and their values in `unit`."""

    names: tuple[str, ...]
    values: tuple[float, ...]
    unit: str

    @property
    def numbers(self) -> tuple[float | None, ...]:
        """The one number in each name, where there is one."""
        found = [NUMBER.findall(name) for name in self.names]
        return tuple(float(each[0].replace(",", ".")) if len(each) == 1 else None for each in found)

    @property
    def prefix(self) -> str:
        """The letters before the number that all names begin with (`m` of M6, M8), in small letters."""
        found = {re.split(r"\d", plain(name), maxsplit=1)[0].strip() for name in self.names}
        return found.pop() if len(found) == 1 else ""


def read_size(text: str, listed: SizeList) -> SizeReading:
    """The size that a text names. Never raises an error."""
    if reason := too_long(text, LONGEST_SIZE):
        return SizeReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return SizeReading(Certainty.BLANK)
    typed = text.translate(RAISED).strip(" .!;\t\r\n")
    seen = plain(typed)
    named, rest = _named(seen, listed.names)
    if len(named) == 1 and _squeezed(seen) == _squeezed(listed.names[named[0]]):
        return SizeReading(Certainty.CERTAIN, named[0], listed.names[named[0]])
    if OPEN.search(seen):
        return SizeReading(Certainty.UNREADABLE, reason="it leaves open which size is chosen")
    if len(named) > 1 or (named and _lists_another(rest, listed, named[0])):
        return SizeReading(Certainty.UNREADABLE, reason=MORE_THAN_ONE)
    if named:
        return SizeReading(Certainty.CERTAIN, named[0], listed.names[named[0]])
    return _by_number(typed, listed)


def _lists_another(rest: str, listed: SizeList, index: int) -> bool:
    """True where what stands beside the name of a size holds the number of another one."""
    others = {number for i, number in enumerate(listed.numbers) if i != index and number != listed.values[index]}
    return any(float(number.replace(",", ".")) in others for number in NUMBER.findall(PITCH.sub("", rest)))


def _squeezed(text: str) -> str:
    return re.sub(r"[\s^]", "", plain(text))


def _named(seen: str, names: Sequence[str]) -> tuple[list[int], str]:
    """The sizes whose names stand in a text as a whole (`m16` does not in `m160`, nor `6 mm` in `16 mm`), and what is
    left of it."""
    found = []
    for index in sorted(range(len(names)), key=lambda i: -len(names[i])):
        signs = r"[\s^]*".join(map(re.escape, _squeezed(names[index])))
        name = re.compile(rf"(?<![\w.,]){signs}(?![\w^]|[.,]\d)|(?<![\w.,]){signs}(?=x\d)")
        if name.search(seen):
            found.append(index)
            seen = name.sub(" 0 ", seen)
    return sorted(found), seen


def _by_number(typed: str, listed: SizeList) -> SizeReading:
    """A size by its number, with the unit or letters that go with it or without; else a value that is not listed."""
    bare = PITCH.sub("", typed)
    text = NEEDLESS.sub(" ", bare).strip(" .,()[]")
    if listed.prefix:
        text = re.sub(rf"^{re.escape(listed.prefix)}[\s-]*(?=\d)", "", text, flags=re.IGNORECASE)
    reading = read_quantity(text, listed.unit)
    if not reading.readings:
        return SizeReading(Certainty.UNREADABLE, reason=reading.reason or "no size is named")
    found = {index: candidate for candidate in reading.readings for index in _meant(candidate, listed)}
    if len(found) > 1:
        return SizeReading(Certainty.UNREADABLE, reason=MORE_THAN_ONE)
    repairs = tuple(map(str, (*reading.repairs, *reading.readings[0].repairs)))
    if not found:
        return SizeReading(Certainty.CERTAIN, None, typed, repairs)
    ((index, candidate),) = found.items()
    name = listed.names[index]
    if not candidate.dimension_fits and not listed.prefix:
        repairs = (*repairs, f"“{text}” was read as {name}")
    certainty = Certainty.REPAIRED if repairs else Certainty.CERTAIN
    return SizeReading(certainty, index, name, tuple(dict.fromkeys(repairs)))


def _meant(candidate: Candidate, listed: SizeList) -> list[int]:
    """The sizes of this number; of this value, where a unit tells so or no name has the number."""
    digits = float(candidate.digits)
    by_number = [i for i, number in enumerate(listed.numbers) if number is not None and _same(digits, number)]
    by_value = [i for i, value in enumerate(listed.values) if _same(candidate.si, to_si(value, listed.unit))]
    if candidate.unit and candidate.dimension_fits:
        return by_value
    return by_number or ([] if candidate.unit else by_value)


def _same(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=SAME)
