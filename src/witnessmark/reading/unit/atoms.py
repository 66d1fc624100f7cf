"""The whitelist of unit_spellings.py unfolded into tables: every single sign or word, and the unit it stands for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from witnessmark.reading.unit.phrases import CYRILLIC, LOOK_ALIKES
from witnessmark.reading.unit.spellings import CASUAL, GLUED, PREFIX_WORDS, SHORT, SPELLED, TON_UNITS, TONS, Spelled

Parts = tuple[tuple[str, int], ...]  # units of maths/units.txt with their powers
Table = dict[str, list["Atom"]]

# How much has to be believed for a reading: the smaller the better. From REPAIRED on it is said.
PLAIN, REPAIRED, LOOSE, MISSPELT, OTHER_CASE, OTHER_SCRIPT = 0, 8, 10, 14, 20, 26
MOST_CHANGES = 5  # so that other capitals stay on one level of belief
SHORTEST_MISSPELT = 6


@dataclass(frozen=True, slots=True)
class Atom:
    """What one sign or word stands for, and how much has to be believed; `glues`: it may be written next to others
    without a gap; `sign`: what it was compared with when capitals did not count."""

    parts: Parts
    cost: int = PLAIN
    glues: bool = False
    sign: str = ""

    def changes_from(self, text: str) -> int:
        """How many letters of a text differ from the sign, in capitals too."""
        return sum(a != b for a, b in zip(self.sign, text, strict=False))


def fold(text: str) -> str:
    """Without capitals, and with u for the micro sign."""
    return text.lower().replace("µ", "u")


@dataclass(frozen=True, slots=True)
class Whitelist:
    """All spellings: letter for letter, words in lower case, signs and loose spellings without capitals, and words
    with one letter left out."""

    exact: Table
    words: Table
    folded: Table
    gapped: dict[str, set[str]]


def _forms(row: Spelled) -> Iterator[tuple[str, str, str]]:
    """Each way to write the unit: (text, unit, kind)."""
    yield from ((text, row.unit, "sign") for text in row.signs)
    yield from ((text, row.unit, "word") for text in row.words)
    yield from ((text, row.unit, "loose") for text in row.loose)
    long_prefixes = {sign: word for word, sign in PREFIX_WORDS.items()}
    for prefix in row.prefixes:
        unit = prefix + row.unit
        yield from ((prefix + text, unit, "sign") for text in row.signs)
        yield from ((long_prefixes[prefix] + text, unit, "word") for text in row.words)
        yield from ((prefix + text, unit, "sign") for text in row.words if len(text) > 2)
        yield from ((long_prefixes[prefix] + text, unit, "loose") for text in row.signs)


def _all_forms() -> Iterator[tuple[str, Parts, str]]:
    for row in SPELLED:
        yield from ((text, ((unit, 1),), kind) for text, unit, kind in _forms(row))
    for texts, parts, plain in SHORT:
        yield from ((text, parts, "sign" if plain else "loose") for text in texts.split())
    yield from ((text, ((unit, 1),), "word") for text in TONS for unit in TON_UNITS)


def _whitelist() -> Whitelist:
    w = Whitelist({}, {}, {}, {})
    for text, parts, kind in _all_forms():
        if kind == "word":
            _keep(w.words, text.lower(), Atom(parts))
            if len(text) >= SHORTEST_MISSPELT:
                for gapped in _with_a_gap(text.lower()):
                    w.gapped.setdefault(gapped, set()).add(text.lower())
        else:
            glues = kind == "sign" and len(parts) == 1 and parts[0][0] in GLUED
            _keep(w.exact, text, Atom(parts, PLAIN if kind == "sign" else LOOSE, glues))
            if text not in {"o", "oC", "oF"}:  # a letter for the degree sign; no word of theirs, such as "of"
                _keep(w.folded, fold(text), Atom(parts, OTHER_CASE, glues, text))
    return w


def _keep(table: Table, key: str, atom: Atom) -> None:
    atoms = table.setdefault(key, [])
    for i, known in enumerate(atoms):
        if known.parts == atom.parts:
            atoms[i] = min(known, atom, key=lambda a: (a.cost, not a.glues))
            return
    atoms.append(atom)


def _with_a_gap(text: str) -> set[str]:
    """The text, and the text without any one of its letters."""
    return {text} | {text[:i] + text[i + 1 :] for i in range(len(text))}


WHITELIST = _whitelist()
LONGEST_SPELLING = max(map(len, (*WHITELIST.exact, *WHITELIST.words))) + 1


@lru_cache(maxsize=1 << 14)
def atoms_of(text: str) -> tuple[Atom, ...]:
    """Everything that one sign or word can stand for, the most believed last; () when it is not of the whitelist."""
    if len(text) > LONGEST_SPELLING:
        return ()
    found: dict[Parts, Atom] = {}
    for atom in list(_candidates(text)) or _misspelt(text.lower()):
        known = found.get(atom.parts)
        if known is None or (atom.cost, not atom.glues) < (known.cost, not known.glues):
            found[atom.parts] = atom
    return tuple(sorted(found.values(), key=lambda a: a.cost))


def _candidates(text: str) -> Iterator[Atom]:
    yield from WHITELIST.exact.get(text, ())
    yield from WHITELIST.words.get(text.lower(), ())
    for other in _as_large(text, WHITELIST.folded.get(fold(text), ())):
        yield replace(other, cost=OTHER_CASE + min(MOST_CHANGES, other.changes_from(text)))
    if not text.isascii():
        yield from _other_script(text)


def _as_large(text: str, others: Sequence[Atom]) -> Sequence[Atom]:
    """Those that a wrong capital may stand for: who writes `Mpa` thinks of mega, not of milli."""
    if not text.startswith("M"):
        return others
    mega = {atom.parts[0][0][1:] for atom in others if atom.parts[0][0].startswith("M")} - {""}
    return [atom for atom in others if not (atom.parts[0][0].startswith("m") and atom.parts[0][0][1:] in mega)]


def _other_script(text: str) -> Iterator[Atom]:
    if text in CYRILLIC:
        yield Atom(((CYRILLIC[text], 1),), OTHER_SCRIPT, CYRILLIC[text] in GLUED)
    latin = text.translate(LOOK_ALIKES)
    if latin != text:
        found = WHITELIST.exact.get(latin) or WHITELIST.words.get(latin.lower()) or WHITELIST.folded.get(fold(latin))
        yield from (Atom(a.parts, OTHER_SCRIPT + 1, a.glues) for a in found or ())


def _misspelt(text: str) -> Iterator[Atom]:
    """A long word with one letter wrong, left out, put in or swapped, if only one unit is so near."""
    if len(text) < SHORTEST_MISSPELT:
        return
    near = {w for gapped in _with_a_gap(text) for w in WHITELIST.gapped.get(gapped, ()) if abs(len(w) - len(text)) < 2}
    parts = {a.parts for w in near for a in WHITELIST.words[w]}
    if len(parts) == 1:
        yield Atom(parts.pop(), MISSPELT)


def is_casual(text: str) -> bool:
    """True of a spelling that people use for something else than it says: one letter, `kn`, or a loose spelling."""
    is_loose = any(a.cost == LOOSE for a in WHITELIST.exact.get(text, ()))
    return is_loose or text in CASUAL or (len(text) == 1 and text.isupper())
