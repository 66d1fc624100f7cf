"""The whitelist of unit_spellings.py unfolded into tables: every single sign or word, and the unit it stands for."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from witnessmark.maths.quantities import unit
from witnessmark.reading.unit_spellings import (
    CYRILLIC,
    LOOK_ALIKES,
    PREFIX_WORDS,
    SHORT,
    SPELLED,
    TON_UNITS,
    TONS,
    Spelled,
)

Parts = tuple[tuple[str, int], ...]
TURNING = frozenset({"rad", "deg", "rev", "arcminute", "arcsecond", "rpm"})
PLAIN, LOOSE, FOLDED, FOREIGN = 0, 10, 20, 22  # how much had to be believed: the smaller the better


@dataclass(frozen=True, slots=True)
class Atom:
    """What one sign or word stands for: parts (unit of maths/units.txt, power), and how much had to be believed."""

    parts: Parts
    cost: int = PLAIN


@dataclass(frozen=True, slots=True)
class Measure:
    """The exact scale of a unit, its offset, the exponents of its dimension, and of plane angle."""

    scale: Fraction
    offset: Fraction
    dimension: tuple[float, ...]
    angle: int


@cache
def measure(name: str) -> Measure:
    """The measure of a single unit of maths/units.txt; factors there are decimals, so that they are exact here."""
    u = unit(name)
    scale = unit("delta_degF").scale if name == "degF" else u.scale
    bare = name[1:] if name[:1] in "mµ" and name[1:] in TURNING else name
    return Measure(Fraction(repr(scale)), Fraction(repr(u.offset)), u.dimension.powers, int(bare in TURNING))


def fold(text: str) -> str:
    """Without capitals, and with u for the micro sign."""
    return text.lower().replace("µ", "u")


def _forms(row: Spelled) -> Iterator[tuple[str, str, str]]:
    """Each way to write the unit: (text, unit, table it belongs to)."""
    yield from ((sign, row.unit, "sign") for sign in row.signs)
    yield from ((word, row.unit, "word") for word in row.words)
    yield from ((text, row.unit, "loose") for text in row.loose)
    long_prefixes = {sign: word for word, sign in PREFIX_WORDS.items()}
    for prefix in row.prefixes:
        name = prefix + row.unit
        yield from ((prefix + sign, name, "sign") for sign in row.signs)
        yield from ((long_prefixes[prefix] + word, name, "word") for word in row.words)
        yield from ((prefix + word, name, "sign") for word in row.words if len(word) > 2)
        yield from ((long_prefixes[prefix] + sign, name, "loose") for sign in row.signs)


def _tables() -> tuple[dict[str, list[Atom]], dict[str, list[Atom]], dict[str, list[Atom]]]:
    exact: dict[str, list[Atom]] = {}
    words: dict[str, list[Atom]] = {}
    folded: dict[str, list[Atom]] = {}
    for row in SPELLED:
        for text, name, table in _forms(row):
            _add(exact, words, folded, text, ((name, 1),), table)
    for texts, parts, plain in SHORT:
        for text in texts:
            _add(exact, words, folded, text, parts, "sign" if plain else "loose")
    for text in TONS:
        for name in TON_UNITS:
            _add(exact, words, folded, text, ((name, 1),), "word")
    return exact, words, folded


def _add(
    exact: dict[str, list[Atom]], words: dict[str, list[Atom]], folded: dict[str, list[Atom]],
    text: str, parts: Parts, table: str,
) -> None:  # fmt: skip
    if table == "word":
        _keep(words, text.lower(), Atom(parts))
        return
    _keep(exact, text, Atom(parts, PLAIN if table == "sign" else LOOSE))
    _keep(folded, fold(text), Atom(parts, FOLDED))


def _keep(table: dict[str, list[Atom]], key: str, atom: Atom) -> None:
    atoms = table.setdefault(key, [])
    if all(a.parts != atom.parts for a in atoms):
        atoms.append(atom)


EXACT, WORDS, IN_ANY_CASE = _tables()
LONGEST = max(map(len, EXACT))


@cache
def atoms_of(text: str) -> tuple[Atom, ...]:
    """Everything that one sign or word can stand for, the least believed last; () when it is not of the whitelist."""
    found: dict[Parts, Atom] = {}
    for atom in (*EXACT.get(text, ()), *WORDS.get(text.lower(), ()), *IN_ANY_CASE.get(fold(text), ()), *_foreign(text)):
        if atom.parts not in found or atom.cost < found[atom.parts].cost:
            found[atom.parts] = atom
    return tuple(sorted(found.values(), key=lambda a: a.cost))


def _foreign(text: str) -> Iterator[Atom]:
    if text.isascii():
        return
    if text in CYRILLIC:
        yield Atom(((CYRILLIC[text], 1),), FOREIGN)
    latin = text.translate(LOOK_ALIKES)
    if latin != text:
        found = EXACT.get(latin) or WORDS.get(latin.lower()) or IN_ANY_CASE.get(fold(latin)) or ()
        yield from (Atom(a.parts, FOREIGN + 1) for a in found)
