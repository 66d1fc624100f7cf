"""One typed quantity: what the machine understood of it, and how sure it is.

Nothing here raises on what a person typed, guesses between two answers, or runs anything; an entry that cannot be read
goes on as it is, with the reason. pint never sees it: only names of our own unit list reach pint.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from witnessmark.maths.quantities import quantity
from witnessmark.reading.number.numbers import Number
from witnessmark.reading.quantity.entry_text import understood
from witnessmark.reading.quantity.number_with_unit import Pair
from witnessmark.reading.quantity.tail import Refusal
from witnessmark.reading.result import Certainty, Repair
from witnessmark.reading.unit.asked_unit import AskedUnit, asked_unit
from witnessmark.reading.unit.units import UnitOption, UnitReading
from witnessmark.words.checks import expect

NEAR, FAR = 1.5, 4.5  # decades: a spare reading is taken as well when only it is near the value expected
FRACTION_SAID = Repair("The number was read as a fraction, not as per cent.")

__all__ = ["Candidate", "Certainty", "Reading", "read_quantity"]


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to read an entry: the number as written, its unit, its SI value (= digits * scale + offset).

    `unit` is "" when none was typed; then `si` is as if in the asked unit; `read_in` names the unit of the value in
    either case. `figures`, `least_figures`, `most_figures`, `pointed`: see numbers.py.
    """

    digits: Decimal
    unit: str
    si: float
    figures: int
    unit_missing: bool
    dimension_fits: bool
    repairs: tuple[str, ...] = ()
    read_in: str = ""
    scale: float = 1.0
    offset: float = 0.0
    least_figures: int = 1
    most_figures: int = 1
    pointed: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """What was understood of an entry. `readings` holds one candidate, more where it is ambiguous, none where it is
    blank or unreadable; `repairs` are sentences that hold for all of them; `reason` says why it is unreadable."""

    raw: str
    asked: str
    certainty: Certainty
    readings: tuple[Candidate, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""

    def __post_init__(self) -> None:
        is_empty = self.certainty in (Certainty.BLANK, Certainty.UNREADABLE)
        expect(is_empty != bool(self.readings), "readings", "some, or none when blank or unreadable", self.readings)

    @property
    def candidates(self) -> tuple[Any, ...]:
        """The readings as pint.Quantity, in the unit typed, or in the asked one where none was."""
        return tuple(quantity(float(c.digits), c.read_in) for c in self.readings)

    @property
    def unit_missing(self) -> bool:
        """True when something was read and no unit was typed where one was needed."""
        return bool(self.readings) and all(c.unit_missing for c in self.readings)


def read_quantity(text: str, asked: str, plausible: float | None = None) -> Reading:
    """The reading of one typed entry where the unit `asked` (of maths/units.txt) was asked.

    `plausible` is the SI value expected, if known; it only chooses between repairs such as MPa or mPa for `mpa`.
    Raises UnitError when `asked` is no unit; nothing that was typed raises.
    """
    target = asked_unit(asked)
    found = understood(text, asked)
    if isinstance(found, Refusal):
        certainty = Certainty.UNREADABLE if found.reason else Certainty.BLANK
        return Reading(text, asked, certainty, reason=found.reason)
    readings = settled(found, target, plausible)
    if not readings:
        return Reading(text, asked, Certainty.UNREADABLE, reason="the value is too large to be meant")
    shared = [r for r in readings[0].repairs if all(r in c.repairs for c in readings)]
    repairs = tuple(dict.fromkeys([*found.repairs, *shared]))
    return Reading(text, asked, certainty_of(found, readings), readings, repairs)


def settled(pair: Pair, asked: AskedUnit, plausible: float | None) -> tuple[Candidate, ...]:
    """The candidates of a pair, with finite values only: which units are meant is settled here."""
    return tuple(c for c in _candidates(pair, asked, plausible) if math.isfinite(c.si))


def certainty_of(pair: Pair, candidates: tuple[Candidate, ...]) -> Certainty:
    """How sure a reading with these candidates is."""
    if not any(c.dimension_fits for c in candidates):
        return Certainty.WRONG_DIMENSION
    if len(candidates) > 1:
        return Certainty.AMBIGUOUS
    return Certainty.REPAIRED if pair.repairs or candidates[0].repairs else Certainty.CERTAIN


def _candidates(pair: Pair, asked: AskedUnit, plausible: float | None) -> Iterator[Candidate]:
    for number in pair.numbers:
        if pair.unit is None:
            yield from _without_unit(number, asked)
        else:
            yield from (_candidate(number, option) for option in _meant(number, pair.unit, plausible))


def _without_unit(number: Number, asked: AskedUnit) -> Iterator[Candidate]:
    as_asked = UnitOption(asked.name, asked.scale, asked.offset, True)
    yield _candidate(number, as_asked, typed=False, lacks=not asked.takes_bare_numbers)
    if asked.name == "percent" and 0 < abs(number.value) <= 1:
        fraction = UnitOption("", 1.0, 0.0, True, (FRACTION_SAID,))
        yield _candidate(number, fraction, typed=False)


def _candidate(number: Number, option: UnitOption, typed: bool = True, lacks: bool = False) -> Candidate:
    si = float(number.value) * option.scale + option.offset
    return Candidate(
        number.value, option.name if typed else "", si, number.figures, lacks, option.fits,
        (*number.repairs, *option.repairs), option.name, option.scale, option.offset, number.least, number.most,
        number.pointed,
    )  # fmt: skip


def _meant(number: Number, unit: UnitReading, plausible: float | None) -> tuple[UnitOption, ...]:
    """The options of a unit that are meant for this number."""
    if unit.all_kept or unit.is_one:
        return unit.options
    if plausible is None or not plausible or not math.isfinite(plausible) or not number.value:
        return unit.options[:1]

    def distance(option: UnitOption) -> float:
        value = abs(float(number.value) * option.scale + option.offset)
        return abs(math.log10(value / abs(plausible))) if 0 < value < math.inf else math.inf

    best = min(unit.options, key=distance)
    near = [s for s in unit.spare if distance(s) < NEAR and distance(best) > FAR]
    return (best, *near)
