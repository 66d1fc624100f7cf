"""The unit that a person typed, found in the whitelist towards the dimension that was asked.

A spelling that is right letter for letter and of the asked dimension wins; then the least repair that gives the asked
dimension; then a right spelling of another dimension. Repair never leads away from the asked dimension, unless only one
unit of the whole list is written so. After a slash, what follows a product stands below (`W/m K`), or above again when
only that gives the asked dimension.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from witnessmark.maths.printing.units import unit_text
from witnessmark.maths.quantities import unit
from witnessmark.reading.result import Repair
from witnessmark.reading.unit.asked_unit import (
    FORCE,
    LENGTH,
    NUMBER,
    PER_TIME,
    PRESSURE,
    TEMPERATURE,
    AskedUnit,
    Vector,
    asked_unit,
    measure,
)
from witnessmark.reading.unit.atoms import LOOSE, Parts
from witnessmark.reading.unit.phrases import CUSTOMARY
from witnessmark.reading.unit.products import Product, products, unit_name
from witnessmark.reading.unit.spellings import NO_UNIT_WORDS, PREFIX_WORDS, SEVERAL
from witnessmark.reading.unit.words import unit_words

LEAST_NAUTICAL = 100.0  # where less than this many metres are asked, nm is a nanometre and not a nautical mile
MILLI_OF_FORCE = re.compile(r"m(?:Pa|N|W)(?!\w)")
UNLIKELY = 20.0
FEW = 12  # readings of another kind that are looked at, the least believed last
RATIOS = frozenset({"percent", "ppm", "strain", "µε"})
CUSTOMARY_DIMENSIONS = frozenset(unit(name).dimension for name in CUSTOMARY)
TURNS = {"Hz": "rev/s", "1/s": "rev/s", "1/min": "rev/min", "1/h": "rev/h"}
TIMES = {"rev/s": "1/s", "rev/min": "1/min", "rpm": "1/min", "rev/h": "1/h"}

DEGREES = re.compile(r"°|deg(?:r|ree)?s?\.?", re.IGNORECASE)
OF_DIFFERENCE = re.compile(r"(?:[ΔδΔ∆]|delta)[ _]?(?=°|deg|[cfk]\b|celsius|kelvin)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class UnitOption:
    """One unit that a text can stand for: its name in the unit list, SI = number * scale + offset, whether it is of the
    kind that was asked, and the repairs."""

    name: str
    scale: float
    offset: float
    fits: bool
    repairs: tuple[Repair, ...] = ()


@dataclass(frozen=True, slots=True)
class UnitReading:
    """What a unit's text can stand for.

    `options` are all kept when `all_kept`; else the one nearest to the plausible value is meant, the first without it.
    `spare` are repairs of a right spelling (`mPa` for `MPa`), taken as well when only they are plausible.
    """

    options: tuple[UnitOption, ...]
    all_kept: bool = False
    spare: tuple[UnitOption, ...] = ()

    @property
    def fits(self) -> bool:
        """True when it is of the kind that was asked."""
        return self.options[0].fits

    @property
    def is_one(self) -> bool:
        """True when it can stand for one unit only, whatever the number."""
        return len(self.options) + len(self.spare) == 1


@lru_cache(maxsize=1 << 15)
def read_unit(text: str, asked_name: str) -> UnitReading | None:
    """What the text of a unit stands for where `asked_name` was asked; None when it is no unit of the whitelist."""
    asked = asked_unit(asked_name)
    if text.strip(" ()[]").lower() in NO_UNIT_WORDS or text in {"(-)", "[-]"}:
        return UnitReading((UnitOption("", 1.0, 0.0, asked.is_number),))
    if asked.dimension == TEMPERATURE and (of_degrees := _bare_degrees(text, asked)):
        return of_degrees
    cut = unit_words(text)
    if cut is None:
        return None
    found = products(cut.words)
    alike = [p for p in found if _kind(p.parts)[0] == asked.dimension]
    choices = _choices(alike, asked, cut.repairs) or _choices(found[:FEW], asked, cut.repairs)
    return _chosen(choices, asked) if choices else None


def _choices(found: Sequence[Product], asked: AskedUnit, repairs: tuple[Repair, ...]) -> list["Choice"]:
    """The possible ones of these products, each with its option; repairs of the whole text count for all."""
    if repairs:
        found = [replace(p, cost=p.cost + LOOSE) for p in found]
    choices = [(p, _option(p, asked, repairs)) for p in found]
    return [(p, o) for p, o in choices if _is_possible(p, o, asked)]


Choice = tuple[Product, UnitOption]


def _chosen(choices: list[Choice], asked: AskedUnit) -> UnitReading | None:
    fitting = [c for c in choices if c[1].fits]
    clean = [c for c in fitting if c[0].is_clean]
    if clean:
        best = [o for p, o in clean if p.cost == clean[0][0].cost]
        return _temperatures(_settled(best, asked, _spare(best[0], fitting)), asked)
    if fitting:
        level = fitting[0][0].cost // LOOSE
        best = [o for p, o in fitting if p.cost // LOOSE == level]
        return _temperatures(_settled(best, asked), asked)
    right = [o for p, o in choices if p.is_clean]
    if right:
        return UnitReading((right[0],))
    return _of_another_kind(choices)


def _of_another_kind(choices: list[Choice]) -> UnitReading | None:
    """A repair towards another dimension than the asked one: only if no other unit is written nearly so."""
    level = [o for p, o in choices if p.cost == choices[0][0].cost]
    option = level[0]
    if any(typed in PREFIX_WORDS.values() for typed, _ in choices[0][0].repaired):
        return None  # a prefix whose unit was forgotten
    glued = any("*" in read for _, read in choices[0][0].repaired)
    if len({o.name for o in level}) > 1 or (glued and unit(option.name).dimension not in CUSTOMARY_DIMENSIONS):
        return None
    mega = next(
        (o for _, o in choices if MILLI_OF_FORCE.match(option.name) and o.name == "M" + option.name[1:]), option
    )
    return UnitReading((mega,))


def _settled(options: list[UnitOption], asked: AskedUnit, spare: tuple[UnitOption, ...] = ()) -> UnitReading:
    """One option, or those between which the value decides, the nearest to the asked unit first."""
    names = {o.name for o in options}
    if len(names) == 1:
        return UnitReading((options[0],), spare=spare)
    if any(set(re.findall(r"\w+", name)) & set(SEVERAL) for name in names):
        return UnitReading(tuple(options), all_kept=True)
    return UnitReading(tuple(sorted(options, key=lambda o: _distance(o, asked))))


def _distance(option: UnitOption, asked: AskedUnit) -> float:
    """How unlikely a unit is where nothing but the asked unit is known: milli- of a force or stress is never meant."""
    of_force = asked.dimension in {FORCE, PRESSURE} and asked.scale >= 1
    unlikely = UNLIKELY if of_force and MILLI_OF_FORCE.match(option.name) else 0.0
    return abs(math.log10(option.scale / asked.scale)) + unlikely


def _spare(best: UnitOption, fitting: list[Choice]) -> tuple[UnitOption, ...]:
    """Mega where milli was typed of a force, stress or power."""
    if not MILLI_OF_FORCE.match(best.name):
        return ()
    return tuple(o for _, o in fitting if o.name == "M" + best.name[1:])


def _bare_degrees(text: str, asked: AskedUnit) -> UnitReading | None:
    """Degrees without a name where a temperature is asked, and a unit after the sign of a difference (`Δ°C`)."""
    marked = OF_DIFFERENCE.match(text)
    bare = text[marked.end() :] if marked else text
    said: tuple[Repair, ...] = ()
    if DEGREES.fullmatch(bare):
        bare, said = "degC", (Repair(f"{bare} was read as degrees Celsius.", True),)
    elif not marked:
        return None
    found = read_unit(bare, asked.name)
    if found is None or not found.fits:
        return None
    options = [o for o in found.options if not (marked and not asked.offset and o.offset)]
    return replace(found, options=tuple(replace(o, repairs=(*o.repairs, *said)) for o in options))


def _temperatures(reading: UnitReading, asked: AskedUnit) -> UnitReading:
    """A temperature in degrees where kelvins are asked is a temperature or a difference: both are kept."""
    absolute = reading.options[0]
    if asked.dimension != TEMPERATURE or asked.offset or not absolute.offset:
        return reading
    name = "K" if absolute.name == "degC" else "delta_" + absolute.name
    difference = UnitOption(name, absolute.scale, 0.0, True, absolute.repairs)
    if asked.name.startswith("delta"):
        return UnitReading((difference,))
    return UnitReading((absolute, difference), all_kept=True)


# --- from a product to an option --------------------------------------------------------------------------------------


def _option(product: Product, asked: AskedUnit, repairs: tuple[Repair, ...]) -> UnitOption:
    parts = product.parts
    if len(parts) > 1 or (parts and parts[0][1] != 1):  # in a product, degrees are differences
        parts = tuple(("K" if n == "degC" else "delta_degF" if n == "degF" else n, p) for n, p in parts)
    scale = math.prod((measure(name).scale ** power for name, power in parts), start=Fraction(1))
    offset = float(measure(parts[0][0]).offset) if len(parts) == 1 else 0.0
    dimension, angle = _kind(parts)
    said = (*repairs, *(Repair(_sentence(typed, read), True) for typed, read in product.repaired))
    turning = dimension == asked.dimension == PER_TIME and angle != asked.angle
    fits = not turning and asked.is_like(dimension, angle, frozenset(n for n, _ in parts))
    option = UnitOption(unit_name(parts), float(scale), offset, fits, said)
    return _turning(option, angle, asked) if turning else option


@lru_cache(maxsize=1 << 13)
def _kind(parts: Parts) -> tuple[Vector, int]:
    """The dimension of a product, and its exponent of angle."""
    measures = [(measure(name), power) for name, power in parts]
    dimension = tuple(sum(m.dimension[i] * power for m, power in measures) for i in range(len(NUMBER)))
    return dimension, sum(m.angle * power for m, power in measures)


def _sentence(typed: str, read: str) -> str:
    if typed == "-":
        return "The hyphen in the unit was read as a product, not as a minus sign."
    if typed.lower() == read.lower():
        return f"{typed} was read as {read}: small letters and capitals differ in units."
    return f"{typed} was read as {unit_text(read)}."


def _is_possible(product: Product, option: UnitOption, asked: AskedUnit) -> bool:
    """False of readings that would be a guess: a mass as a force, nanometres where nautical miles are asked, per cent
    of a force."""
    if any(n in RATIOS and power > 1 for n, power in product.parts):  # a sign of per cent in two cells
        return False
    has_ratio = len(product.parts) > 1 and any(n in RATIOS for n, _ in product.parts)
    if has_ratio and not _is_ratio_by_unit(product.parts):
        return False
    kilograms = any(typed.lower() == "kg" and read == "kgf" for typed, read in product.repaired)
    if kilograms and not (asked.dimension == PRESSURE and option.name in {"kgf/cm^2", "kgf/mm^2"}):
        return False
    if asked.dimension == LENGTH and option.name in {"nm", "nautical_mile"} and product.cost:
        return (option.name == "nautical_mile") == (asked.scale >= LEAST_NAUTICAL)
    return not (asked.dimension == LENGTH and option.name == "nm" and asked.scale >= LEAST_NAUTICAL)


def _is_ratio_by_unit(parts: Parts) -> bool:
    """True of ppm/K and the like: a ratio with nothing but what stands below it, or per cent of strain."""
    return all(n in RATIOS or (power < 0 and n in {"K", "degC", "degF"}) for n, power in parts)


def _turning(option: UnitOption, angle: int, asked: AskedUnit) -> UnitOption:
    """Turns a second, hertz and 1/s where one is asked and another typed; the SI counts turning in radians."""
    if angle == 0 and asked.angle == 1:
        if option.name == "1/s" and "rad" in asked.name:
            return replace(option, fits=True)
        if turns := TURNS.get(option.name):
            said = Repair(f"{option.name} was read as {turns}.", True)
            return UnitOption(turns, unit(turns).scale, 0.0, True, (*option.repairs, said))
    if angle == 1 and asked.angle == 0 and (times := TIMES.get(option.name)):
        return UnitOption(times, unit(times).scale, 0.0, True, option.repairs)
    return option
