"""The unit that a person typed, found in the whitelist towards the dimension that was asked.

A spelling that is right letter for letter and of the asked dimension wins; then the least repair that gives the asked
dimension; then a right spelling of another dimension. Repair never leads away from the asked dimension, unless only one
unit of the whole list is written so. After a slash, what follows a product stands below (`W/m K`), or above again when
only that gives the asked dimension.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache

from witnessmark.maths.quantities import unit
from witnessmark.reading.repairs import Repair
from witnessmark.reading.unit_atoms import FOREIGN, LOOSE, PLAIN, TURNING, Atom, Parts, atoms_of, measure
from witnessmark.reading.unit_spellings import NO_UNIT_WORDS, PREFIX_WORDS
from witnessmark.reading.unit_words import Word, unit_words

Vector = tuple[float, ...]  # exponents of the dimension, and of plane angle last
MOST_STATES = 60
GLUED = 1  # each further sign in one run of letters
SWAPPED = 3  # above the line again after a slash
HYPHEN = 8
PRESSURE = unit("Pa").dimension.powers
PER_TIME = unit("1/s").dimension.powers
TEMPERATURE = unit("K").dimension.powers
LENGTH = unit("m").dimension.powers
NUMBER = unit("").dimension.powers


@dataclass(frozen=True, slots=True)
class Asked:
    """The unit that was asked, and what of it decides a reading."""

    name: str
    scale: float
    offset: float
    dimension: tuple[float, ...]
    angle: int

    @property
    def is_number(self) -> bool:
        """A pure number that is not an angle."""
        return self.dimension == NUMBER and not self.angle


@cache
def asked_unit(name: str) -> Asked:
    """The asked unit by its name in maths/units.txt; UnitError when it is none."""
    u = unit(name)
    return Asked(name, u.scale, u.offset, u.dimension.powers, _angle_of(name))


def _angle_of(name: str) -> int:
    """The exponent of plane angle in an author's unit text."""
    angle, sign, depth = 0, 1, 0
    for token in re.findall(r"[^\W\d_]\w*|\d+|\*\*|[\^*/()-]", name):
        if token == "/":
            sign = -1
        elif token == "*" and not depth:
            sign = 1
        elif token in "()":
            depth += 1 if token == "(" else -1
        elif token in {"degree", "radian", "revolution"} or (token in TURNING or token[1:] in TURNING):
            angle += sign
    return angle


@dataclass(frozen=True, slots=True)
class UnitOption:
    """One unit that a text can stand for: its name in the unit list, SI = number * scale + offset, and the repairs."""

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


@dataclass(frozen=True, slots=True)
class _State:
    parts: Parts
    cost: int
    repaired: tuple[tuple[str, str], ...] = ()  # (as typed, parts as shown)

    def then(self, parts: Parts, cost: int, typed: str = "") -> "_State":
        repaired = (*self.repaired, (typed, unit_name(parts))) if typed else self.repaired
        return _State(_merged(self.parts + parts), self.cost + cost, repaired)


@lru_cache(maxsize=1 << 15)
def read_unit(text: str, asked_name: str) -> UnitReading | None:
    """What the text of a unit stands for where `asked_name` was asked; None when it is no unit of the whitelist."""
    asked = asked_unit(asked_name)
    if text.lower() in NO_UNIT_WORDS:
        return UnitReading((UnitOption("", 1.0, 0.0, asked.is_number),))
    cut = unit_words(text)
    if cut is None:
        return None
    states = _states(cut.words, asked)
    if not states:
        return None
    options = [(s.cost + LOOSE * bool(cut.repairs), *_option(s, asked, cut.repairs)) for s in states]
    return _chosen([(cost, option) for cost, option, possible in options if possible], asked)


def _chosen(options: list[tuple[int, UnitOption]], asked: Asked) -> UnitReading | None:
    fitting = sorted((o for o in options if o[1].fits), key=lambda o: o[0])
    clean = [o for o in fitting if o[0] < HYPHEN]
    if clean:
        best = [option for cost, option in clean if cost == clean[0][0]]
        return _temperatures(_settled(best, asked, _spare(best[0], fitting)), asked)
    if fitting:
        level = min(cost // LOOSE for cost, _ in fitting)
        return _temperatures(_settled([o for cost, o in fitting if cost // LOOSE <= level], asked, ()), asked)
    others = sorted(options, key=lambda o: o[0])
    clean_others = [option for cost, option in others if cost < HYPHEN]
    if clean_others:
        return UnitReading((clean_others[0],))
    return UnitReading((others[0][1],)) if len({option.name for _, option in others}) == 1 else None


def _settled(options: list[UnitOption], asked: Asked, spare: tuple[UnitOption, ...]) -> UnitReading:
    names = {o.name for o in options}
    if len(names) == 1:
        return UnitReading((options[0],), spare=spare)
    if any(name.split("_")[0] in {"gallon", "ton"} for name in names):
        return UnitReading(tuple(options), all_kept=True)
    return UnitReading(tuple(sorted(options, key=lambda o: _distance(o, asked))))


def _distance(option: UnitOption, asked: Asked) -> float:
    """How unlikely a unit is where nothing but the asked unit is known: milli- of a force or stress is never meant."""
    unlikely = 20.0 if re.match(r"m(?:Pa|N)(?!\w)", option.name) and asked.scale >= 1 else 0.0
    return abs(math.log10(option.scale / asked.scale)) + unlikely


def _spare(best: UnitOption, fitting: list[tuple[int, UnitOption]]) -> tuple[UnitOption, ...]:
    if not re.match(r"m(?:Pa|N|W)(?!\w)", best.name):
        return ()
    return tuple(o for _, o in fitting if o.name == "M" + best.name[1:])


def _temperatures(reading: UnitReading, asked: Asked) -> UnitReading:
    """A temperature in degrees where kelvins are asked is a temperature or a difference: both are kept."""
    if asked.dimension != TEMPERATURE or asked.offset or not reading.options[0].offset:
        return reading
    absolute = reading.options[0]
    name = "K" if absolute.name == "degC" else "delta_" + absolute.name
    difference = UnitOption(name, absolute.scale, 0.0, True, absolute.repairs)
    if asked.name.startswith("delta"):
        return UnitReading((difference,))
    return UnitReading((absolute, difference), all_kept=True)


# --- putting words together -------------------------------------------------------------------------------------------


def _states(words: tuple[Word, ...], asked: Asked) -> list[_State]:
    """Every unit that the words can make, the least believed one for each."""
    after: list[dict[Parts, _State]] = [{(): _State((), 0)}] + [{} for _ in words]
    for i, word in enumerate(words):
        readings = list(_word_readings(word, asked))
        for state in _cheapest(after[i]):
            for parts, cost, typed in readings:
                _keep(after[i + 1], state.then(parts, cost, typed))
        joined = _joined(words, i)
        if joined is not None:
            for state in _cheapest(after[i]):
                for parts, cost, _ in _word_readings(joined, asked):
                    _keep(after[i + 2], state.then(parts, cost + LOOSE, f"{word.text} {words[i + 1].text}"))
    return _cheapest(after[-1])


def _keep(states: dict[Parts, _State], state: _State) -> None:
    old = states.get(state.parts)
    if old is None or state.cost < old.cost:
        states[state.parts] = state


def _cheapest(states: dict[Parts, _State]) -> list[_State]:
    return sorted(states.values(), key=lambda s: s.cost)[:MOST_STATES]


def _joined(words: tuple[Word, ...], i: int) -> Word | None:
    """Two words that a space or hyphen cut apart after a prefix (`k N`, `kilo-newton`)."""
    if i + 1 == len(words) or words[i + 1].before not in {" ", "-"} or words[i].power != 1:
        return None
    first, second = words[i], words[i + 1]
    prefix = first.text.lower()
    if first.text in PREFIX_WORDS.values():
        return replace(first, text=first.text + second.text, power=second.power)
    if prefix in PREFIX_WORDS:
        return replace(first, text=prefix + second.text, power=second.power)
    return None


def _word_readings(word: Word, asked: Asked) -> Iterator[tuple[Parts, int, str]]:
    """Each reading of a word: its parts with their powers, its cost, and the text to be shown if it is a repair."""
    hyphen = HYPHEN if word.before == "-" else 0
    for atoms in _segments(word.text):
        *first, last = atoms
        parts = tuple(p for atom in first for p in atom.parts) + tuple((n, k * word.power) for n, k in last.parts)
        if any(n == "degC" or n == "degF" for n, _ in parts) and len(parts) > 1:
            parts = tuple((n.replace("degC", "K"), k) for n, k in parts)
        cost = max(a.cost for a in atoms) + GLUED * (len(atoms) - 1) + hyphen
        typed = word.text if max(a.cost for a in atoms) >= LOOSE else "-" + word.text if hyphen else ""
        if _is_out_of_place(parts, asked):
            continue
        below = tuple((n, -k) for n, k in parts)
        yield (below if word.below else parts), cost, typed
        if word.loose:
            yield parts, cost + SWAPPED, typed


def _is_out_of_place(parts: Parts, asked: Asked) -> bool:
    """Nanometres where nautical miles are asked."""
    return parts == (("nm", 1),) and asked.dimension == LENGTH and asked.scale >= 100


@lru_cache(maxsize=1 << 14)
def _segments(text: str) -> tuple[tuple[Atom, ...], ...]:
    """A run of letters as one sign, or as up to four signs written without a gap (`kNm`, `kgm`, `kWh`)."""
    squared = re.match(r"(sq|cu)(?=\w)", text, re.IGNORECASE)
    found: list[tuple[Atom, ...]] = [(atom,) for atom in atoms_of(text)]
    if squared:
        power = 2 if squared[0].lower() == "sq" else 3
        rest = atoms_of(text[2:])
        found += [(Atom(tuple((n, k * power) for n, k in a.parts), a.cost),) for a in rest]
    if 2 <= len(text) <= 10:
        found += _cuts(text, 4)
    return tuple(sorted(found, key=lambda atoms: max(a.cost for a in atoms) + len(atoms)))[:40]


@lru_cache(maxsize=1 << 14)
def _cuts(text: str, most: int) -> tuple[tuple[Atom, ...], ...]:
    if most < 2:
        return ()
    found = []
    for cut in range(1, len(text)):
        heads = [a for a in atoms_of(text[:cut]) if len(a.parts) == 1]
        if heads:
            tails = [(a,) for a in atoms_of(text[cut:])] + list(_cuts(text[cut:], most - 1))
            found += [(head, *tail) for head in heads for tail in tails]
    return tuple(sorted(found, key=lambda atoms: max(a.cost for a in atoms) + len(atoms)))[:40]


# --- from parts to an option ------------------------------------------------------------------------------------------


def _merged(parts: Parts) -> Parts:
    powers: dict[str, int] = {}
    for name, power in parts:
        powers[name] = powers.get(name, 0) + power
    return tuple((n, p) for n, p in powers.items() if p)


@cache
def unit_name(parts: Parts) -> str:
    """The name of a product in the unit list: `N/mm^2`, `W/(m*K)`."""
    above = [_raised(n, p) for n, p in parts if p > 0]
    below = [_raised(n, -p) for n, p in parts if p < 0]
    top = "*".join(above) or ("1" if below else "")
    bottom = "*".join(below)
    return f"{top}/({bottom})" if len(below) > 1 else f"{top}/{bottom}" if below else top


def _raised(name: str, power: int) -> str:
    return name if power == 1 else f"{name}^{power}"


def _option(state: _State, asked: Asked, repairs: tuple[Repair, ...]) -> tuple[UnitOption, bool]:
    """The option of a state, and whether it is possible at all."""
    parts = state.parts
    if len(parts) > 1 or (parts and parts[0][1] != 1):
        parts = _merged(tuple(("K" if n == "degC" else "delta_degF" if n == "degF" else n, p) for n, p in parts))
    scale, vector, offset = Fraction(1), [0.0] * (len(NUMBER) + 1), Fraction(0)
    for name, power in parts:
        m = measure(name)
        scale *= m.scale**power
        offset = m.offset
        for i, exponent in enumerate((*m.dimension, float(m.angle))):
            vector[i] += exponent * power
    dimension, angle = tuple(vector[:-1]), vector[-1]
    name, turned = unit_name(parts), Fraction(1)
    extra: tuple[Repair, ...] = ()
    fits = dimension == asked.dimension and _angles_agree(angle, parts, asked)
    if dimension == asked.dimension == PER_TIME and angle != asked.angle:
        name, turned, fits, extra = _turning(parts, asked, angle)
    said = tuple(Repair(_sentence(typed, shown), True) for typed, shown in state.repaired)
    possible = asked.dimension == PRESSURE or not _kilograms_for_force(state)
    return UnitOption(name, float(scale * turned), float(offset), fits, (*repairs, *said, *extra)), possible


def _kilograms_for_force(state: _State) -> bool:
    """True where `kg` would have to mean kgf, as gauges print kg/cm²; elsewhere a mass is not a force."""
    return any(typed.lower().lstrip("-") == "kg" and "kgf" in shown for typed, shown in state.repaired)


def _sentence(typed: str, shown: str) -> str:
    if typed.startswith("-"):
        return "The hyphen in the unit was read as a product, not as a minus sign."
    if typed.lower() == shown.lower():
        return f"{typed} was read as {shown}: small letters and capitals differ in units."
    return f"{typed} was read as {shown}."


def _angles_agree(angle: float, parts: Parts, asked: Asked) -> bool:
    """An angle is not a plain number, but radians may be left out or put in."""
    if angle == asked.angle:
        return True
    names = {n for n, _ in parts}
    if asked.angle == 0:
        return not (names & TURNING) or (names & TURNING) == {"rad"}
    return asked.dimension != NUMBER and angle == 0 and "rad" in asked.name


def _turning(parts: Parts, asked: Asked, angle: float) -> tuple[str, Fraction, bool, tuple[Repair, ...]]:
    """Turns a second, hertz and 1/s where one is asked and another typed; SI counts turning in radians."""
    turn = measure("rev").scale
    name = unit_name(parts)
    if angle == 0 and asked.angle == 1:
        if "rad" in asked.name and name != "Hz":
            return name, Fraction(1), True, ()
        time = next((n for n, p in parts if p == -1), "s")
        return f"rev/{time}", turn, True, (Repair(f"{name} was read as turns: rev/{time}.", True),)
    if angle == 1 and asked.angle == 0 and {n for n, _ in parts} & {"rev", "rpm"}:
        time = next((n for n, p in parts if p == -1), "min")
        return f"1/{time}", 1 / turn, True, ()
    return name, Fraction(1), False, ()


__all__ = ["FOREIGN", "PLAIN", "Asked", "UnitOption", "UnitReading", "asked_unit", "read_unit", "unit_name"]
