"""What stands after a number: a unit, a unit twice, a remark that may be left out."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice

from witnessmark.reading.quantity.stop_words import REMARK, REMARK_IN_BRACKETS, TWO_NUMBERS, UNSURE, WORDS
from witnessmark.reading.result import Repair
from witnessmark.reading.unit.asked_unit import asked_unit
from witnessmark.reading.unit.phrases import CUSTOMARY
from witnessmark.reading.unit.spellings import NO_UNIT_WORDS
from witnessmark.reading.unit.units import UnitReading, read_unit

MOST_CUTS = 8
MOST_SPACES = 12
IN_A_UNIT = re.compile(r"in (?!lb|pound|oz|ounce)", re.IGNORECASE)  # the word, not the inch of an inch pound
POWERED = re.compile(r"[^\W\d_°][\^-]?-?\d")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an entry is not read; an empty reason: there is nothing in it."""

    reason: str


@dataclass(frozen=True, slots=True)
class After:
    """The unit after a number (None: there is none), and the repairs that it took."""

    unit: UnitReading | None
    repairs: tuple[Repair, ...] = ()

    @property
    def fits(self) -> bool:
        """True when the unit is of the kind that was asked, or none was typed."""
        return self.unit is None or self.unit.fits


@lru_cache(maxsize=1 << 15)
def after_number(rest: str, asked: str) -> After | Refusal:
    """What stands after a number, read towards the asked unit."""
    if not rest or (rest.strip("()[] ").lower() in NO_UNIT_WORDS and not asked_unit(asked).is_number):
        return After(None)
    readings = []
    for reading in _readings(rest, asked):
        if reading.fits:
            return reading
        readings.append(reading)
    twice = _unit_twice(rest, asked)
    if twice is not None:
        return twice
    return readings[0] if readings else Refusal(_why_not(rest))


def _readings(rest: str, asked: str) -> Iterator[After]:
    """Ways to read it, the likeliest first: a unit, a remark, `in` and a unit, a unit and a remark."""
    whole = read_unit(rest[3:], asked) if IN_A_UNIT.match(rest) else None
    whole = whole or read_unit(rest.strip(" ,;"), asked)
    if whole is not None:
        yield After(whole)
    is_right = whole is not None and not whole.options[0].repairs
    if REMARK.fullmatch(rest) or REMARK_IN_BRACKETS.fullmatch(rest):
        yield After(None, (Repair(f"Left out after the number: {rest.strip()}."),))
    for cut in _cuts(rest):
        unit = read_unit(rest[:cut].strip(" ,;"), asked)
        remark = rest[cut:].strip(" ,")
        if unit is not None and is_remark(remark) and (remark[0] in "([" or not is_right):
            yield After(unit, (Repair(f"Left out after the unit: {remark}."),))


def _cuts(rest: str) -> list[int]:
    """Where a unit may end and a remark begin, the longest unit first."""
    return [m.start() for m in re.finditer(r"(?<=[^ (\[])(?=[ (\[,])", rest)][-MOST_CUTS:][::-1]


@lru_cache(maxsize=1 << 12)
def is_remark(words: str) -> bool:
    """True of words that say nothing about the value: no digit, no unit, nothing that turns or widens it."""
    if REMARK.fullmatch(words) or REMARK_IN_BRACKETS.fullmatch(words):
        return True
    if UNSURE.search(words) or not WORDS.fullmatch(words):
        return False
    each = re.findall(r"[^\W\d_]+", words)
    if len(each) > 1 and each[0].lower() in {"in", "per"}:
        each = each[1:]
    return max(map(len, each)) > 1 and not any(read_unit(word, "") for word in each)


def _unit_twice(rest: str, asked: str) -> After | Refusal | None:
    """The unit of a number cell and that of a unit cell, run together: one if they are the same, a refusal if not."""
    for space in islice(re.finditer(" or | = | |(?<=%)(?=%)", rest), MOST_SPACES):
        first, second = rest[: space.start()], rest[space.end() :]
        one, other = read_unit(first, asked), read_unit(second, asked)
        if one is None or other is None or not (one.fits or other.fits or first == second):
            continue
        if _are_one(one, other):
            return _twice_or_cut_apart(first, one, asked) if first == second else After(one)
        if not is_customary(rest):
            return Refusal(f"it has two units, {first} and {second}")
    return None


def _are_one(one: UnitReading, other: UnitReading) -> bool:
    """True of one unit, or two names of it (`N/mm² (MPa)`)."""
    a, b = one.options[0], other.options[0]
    return a.name == b.name or (a.fits and b.fits and (a.scale, a.offset) == (b.scale, b.offset))


def _twice_or_cut_apart(text: str, unit: UnitReading, asked: str) -> After:
    """`m m` is a metre in two cells, or a millimetre with a space in it: both are kept."""
    joined = read_unit(text * 2, asked) if len(text) == 1 else None
    if joined is None or not joined.fits or joined.options[0].name == unit.options[0].name:
        return After(unit)
    said = (*joined.options[0].repairs, Repair(f"{text} {text} was read as {text}{text}."))
    return After(UnitReading((unit.options[0], replace(joined.options[0], repairs=said)), all_kept=True))


def is_customary(rest: str) -> bool:
    """True of a product that is a quantity of its own (a moment, an impulse), not two units for one number."""
    return any((unit := read_unit(rest, name)) is not None and unit.fits for name in CUSTOMARY)


def _why_not(rest: str) -> str:
    if re.search(r"\d", POWERED.sub("", rest)):
        return TWO_NUMBERS
    if re.match(r"[-+*/×÷^±]|\+/-|[xX] ?$", rest) or re.search("[π√]", rest):
        return "it holds working that is not worked out"
    if UNSURE.search(rest):
        return f"{rest} leaves open which value is meant"
    return f"{rest} is not a unit that is known here"
