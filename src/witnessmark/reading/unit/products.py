"""Every unit that the words of a unit's text can make, each with how much has to be believed for it."""

import itertools
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from witnessmark.reading.unit.asked_unit import measure
from witnessmark.reading.unit.atoms import (
    LOOSE,
    MISSPELT,
    PLAIN,
    REPAIRED,
    WHITELIST,
    Atom,
    Parts,
    atoms_of,
    fold,
    is_casual,
)
from witnessmark.reading.unit.spellings import CASUAL, CUT_ALL_THE_SAME, MARKS, MILLI_FOR_MEGA, PREFIX_WORDS
from witnessmark.reading.unit.words import Word

MOST_STATES = 40
MOST_READINGS = 24
MOST_GLUED = 4
LONGEST_RUN = 11
LONGEST_WORDS = 36
GLUE = 1  # each further sign in one run of letters
SWAPPED = 3  # above the line again after a slash and a product
LAST_ONLY = frozenset({"K", "degC", "degF"})  # signs that end a run of letters: KJ is a slip for kJ, not a kelvin joule
NO_DOUBLES = frozenset({"pas"})  # with one letter more they are words of English
SQUARED = re.compile(r"(sq|cu)(?=\w)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Product:
    """A product of units, what had to be believed for it, and the repairs: (as typed, as read)."""

    parts: Parts
    cost: int = PLAIN
    repaired: tuple[tuple[str, str], ...] = ()

    @property
    def is_clean(self) -> bool:
        """True when nothing had to be repaired."""
        return self.cost < REPAIRED and not self.repaired


@dataclass(frozen=True, slots=True)
class _Step:
    """One reading of one word: its parts with their powers and places, its cost, and what to say of it."""

    parts: Parts
    cost: int
    repaired: tuple[tuple[str, str], ...] = ()


@lru_cache(maxsize=1 << 12)  # one text is read towards many units
def products(words: tuple[Word, ...]) -> tuple[Product, ...]:
    """Every product that the words can make, the least believed last."""
    if len(words) > 1 and any(word.text in MARKS for word in words):
        return ()
    after: list[dict[Parts, Product]] = [{} for _ in range(len(words) + 1)]
    after[0] = {(): Product(())}
    for i, word in enumerate(words):
        reached = _cheapest(after[i])
        _go_on(reached, _steps(word), after[i + 1])
        joined = _joined(words, i)
        if joined is not None:
            typed = f"{word.text}{words[i + 1].before}{words[i + 1].text}"
            steps = (
                replace(s, cost=s.cost + LOOSE, repaired=((typed, unit_name(_bare(s.parts))),)) for s in _steps(joined)
            )
            _go_on(reached, steps, after[i + 2])
    return tuple(_cheapest(after[-1]))


def _go_on(reached: list[Product], steps: Iterable[_Step], further: dict[Parts, Product]) -> None:
    """Adds every product of what was reached and a step, but for those that would not be among the cheapest."""
    for step in steps:
        costs = sorted(product.cost for product in further.values())
        most = costs[MOST_STATES - 1] if len(costs) >= MOST_STATES else math.inf
        for product in reached:
            if product.cost + step.cost > most:
                break
            _keep(further, _then(product, step))


def _then(product: Product, step: _Step) -> Product:
    return Product(
        _merged(product.parts + step.parts), product.cost + step.cost, product.repaired + step.repaired
    )  # fmt: skip


def _keep(products_of: dict[Parts, Product], product: Product) -> None:
    known = products_of.get(product.parts)
    if known is None or product.cost < known.cost:
        products_of[product.parts] = product


def _cheapest(products_of: dict[Parts, Product]) -> list[Product]:
    return sorted(products_of.values(), key=lambda p: p.cost)[:MOST_STATES]


def _joined(words: tuple[Word, ...], i: int) -> Word | None:
    """Two words that a space or hyphen cut apart after a prefix (`k N`, `kilo-newton`)."""
    if i + 1 == len(words) or words[i + 1].before not in {" ", "-"} or words[i].power != 1:
        return None
    first, second = words[i], words[i + 1]
    if first.text == second.text or second.power != 1:  # a unit twice, or thousands of cubes: not decided here
        return None
    if second.before == " " and not atoms_of(second.text) and _is_whole(first.text + second.text):
        return replace(first, text=first.text + second.text)
    if second.text in LAST_ONLY:  # m K is a metre kelvin
        return None
    if first.text in PREFIX_WORDS.values() or first.text == "K":
        return replace(first, text=first.text.replace("K", "k") + second.text, power=second.power)
    if first.text.lower() in PREFIX_WORDS:
        return replace(first, text=first.text.lower() + second.text.lower(), power=second.power)
    return None


def _is_whole(text: str) -> bool:
    return any(a.cost == PLAIN for a in atoms_of(text))


# --- one word ---------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=1 << 14)
def _steps(word: Word) -> tuple[_Step, ...]:
    """Each reading of a word, the least believed last."""
    found: list[_Step] = []
    for atoms in _believed(word.text, _runs(word.text, word.below or word.power < 0)):
        *first, last = atoms
        parts = tuple(p for atom in first for p in atom.parts) + tuple((n, k * word.power) for n, k in last.parts)
        worst = max(a.cost for a in atoms)
        cost = worst + GLUE * (len(atoms) - 1) + (REPAIRED if word.before == "-" else 0)
        said: tuple[tuple[str, str], ...] = (("-", "·"),) if word.before == "-" else ()
        if worst >= REPAIRED:
            said += ((word.text, unit_name(tuple(p for atom in atoms for p in atom.parts))),)
        below = tuple((n, -k) for n, k in parts)
        found.append(_Step(below if word.below else parts, cost, said))
        if word.loose:
            found.append(_Step(parts, cost + SWAPPED, said))
    return tuple(sorted(found, key=lambda s: s.cost))[:MOST_READINGS]


def _believed(text: str, runs: tuple[tuple[Atom, ...], ...]) -> tuple[tuple[Atom, ...], ...]:
    """Without repairs where the text is right letter for letter, unless people use it for something else (`kn`)."""
    is_right = any(max(a.cost for a in atoms) < REPAIRED for atoms in runs)
    if not is_right or is_casual(text):
        return runs
    return tuple(r for r in runs if max(a.cost for a in r) < REPAIRED or _is_mega(text, r))


def _is_mega(text: str, atoms: tuple[Atom, ...]) -> bool:
    return text in MILLI_FOR_MEGA and atoms[0].parts == (("M" + text[1:], 1),)


def _bare(parts: Parts) -> Parts:
    """The parts without powers, to be named."""
    return tuple((n, 1) for n, _ in parts)


def _runs(text: str, is_below: bool) -> tuple[tuple[Atom, ...], ...]:
    """The readings of a run of letters, and of one that has a letter once too many (`kNN`, `MPaa`, `Nn`)."""
    found = _as_written(text, is_below)
    if len(text) > LONGEST_RUN or any(_worst(atoms) < REPAIRED for atoms in found):
        return found
    less = {t: _as_written(t, is_below) for t in _with_a_letter_less(text, bool(found)) if t.lower() not in NO_DOUBLES}
    meant = (
        run for runs in less.values() for run in runs if _worst(run) == PLAIN or (not found and _worst(run) != LOOSE)
    )
    return (*map(_believed_less, meant), *found)


@lru_cache(maxsize=1 << 14)
def _as_written(text: str, is_below: bool) -> tuple[tuple[Atom, ...], ...]:
    """A run of letters as one sign or word, or as up to four signs written without a gap (`kNm`, `kgm`, `kWh`)."""
    found: list[tuple[Atom, ...]] = [(atom,) for atom in atoms_of(text)]
    squared = SQUARED.match(text)
    if squared:
        power = 2 if squared[0].lower() == "sq" else 3
        found += [(Atom(tuple((n, k * power) for n, k in a.parts), a.cost),) for a in atoms_of(text[2:])]
    if 2 <= len(text) <= LONGEST_RUN:
        for pieces in _pieces(text, MOST_GLUED):
            found += [a for a in itertools.product(*map(_signs, pieces)) if _may_be_glued(pieces, a, is_below)]
    if LONGEST_RUN < len(text) <= LONGEST_WORDS:
        found += _two_words(text)
    return tuple(sorted(found, key=_cost))[:MOST_READINGS]


def _with_a_letter_less(text: str, exactly: bool) -> Iterator[str]:
    """A text without one of two letters side by side that are the same, or differ in nothing but capitals."""
    for at, (letter, following) in enumerate(itertools.pairwise(text)):
        if letter == following or (not exactly and letter.lower() == following.lower()):
            yield from dict.fromkeys((text[:at] + text[at + 1 :], text[: at + 1] + text[at + 2 :]))


def _believed_less(atoms: tuple[Atom, ...]) -> tuple[Atom, ...]:
    return tuple(replace(atom, cost=max(atom.cost, MISSPELT), glues=False) for atom in atoms)


def _worst(atoms: tuple[Atom, ...]) -> int:
    return max(a.cost for a in atoms)


def _cost(atoms: tuple[Atom, ...]) -> int:
    return _worst(atoms) + GLUE * len(atoms)


@lru_cache(maxsize=1 << 14)
def _signs(text: str) -> tuple[Atom, ...]:
    return tuple(a for a in atoms_of(text) if a.glues)


def _pieces(text: str, most: int, least: int = 2) -> Iterator[tuple[str, ...]]:
    """Each way to cut a text into `least` to `most` signs of the whitelist."""
    if least < 2 and _signs(text):
        yield (text,)
    if most > 1:
        for at in range(1, len(text)):
            if _signs(text[:at]):
                yield from ((text[:at], *rest) for rest in _pieces(text[at:], most - 1, 1))


def _may_be_glued(pieces: tuple[str, ...], atoms: tuple[Atom, ...], is_below: bool) -> bool:
    """False where two neighbours make one sign (`mm` is not m m), a kelvin does not end the run, or a sign is twice."""
    names = [atom.parts[0][0] for atom in atoms]
    if LAST_ONLY.intersection(names[:-1]) or len(set(names)) < len(names) or names[-2:] == ["h", "s"]:
        return False
    if len({measure(name).dimension for name in names}) < len(names):  # kNN is a slip for kN, not kilonewton newtons
        return False
    for i, pair in enumerate(itertools.pairwise(pieces)):
        is_right = atoms[i].cost == atoms[i + 1].cost == PLAIN
        may_be_cut = i == len(pieces) - 2 and is_below and pair in CUT_ALL_THE_SAME
        if not may_be_cut and _is_one_sign("".join(pair), is_right):
            return False
    return True


def _is_one_sign(text: str, letter_for_letter: bool) -> bool:
    if letter_for_letter:
        return any(a.cost == PLAIN for a in WHITELIST.exact.get(text, ()))
    return fold(text) not in CASUAL and any(a.glues for a in WHITELIST.folded.get(fold(text), ()))


def _two_words(text: str) -> Iterator[tuple[Atom, ...]]:
    """Two long words written as one (`newtonmetres`)."""
    lowered = text.lower()
    for at in range(4, len(text) - 3):
        for first in WHITELIST.words.get(lowered[:at], ()):
            yield from ((first, second) for second in WHITELIST.words.get(lowered[at:], ()))


# --- parts ------------------------------------------------------------------------------------------------------------


def _merged(parts: Parts) -> Parts:
    if len(parts) < 2:
        return parts
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
