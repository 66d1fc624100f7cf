"""The text of a unit cut into words with powers, above or below the line."""

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache

from witnessmark.reading.result import Repair
from witnessmark.reading.unit.phrases import (
    CUBE_AFTER,
    CUBE_BEFORE,
    MAY_HOLD_PHRASE,
    PHRASES,
    SQUARE_AFTER,
    SQUARE_BEFORE,
)

MOST_WORDS = 6
BARE_POWERS = frozenset({2, 3, 4, 6, -1, -2, -3, -4})  # powers that people write as a digit and nothing else
LONGEST_UNIT = 60
TOKEN = re.compile(
    r" ?(?:"
    r"(?:\^|\*\*) ?(?:(?P<power>-? ?\d)|\( ?(?P<round>-? ?\d) ?\)|\{ ?(?P<brace>-? ?\d) ?\})(?!\d|\.\d)"
    r"|(?P<slash>/|(?:per|PER|Per)(?![^\W\d_]))"
    r"|(?P<times>[·*×.-](?![\d.·*×-]))"
    r"|(?P<open>[(\[{])|(?P<close>[)\]}])"
    r"|(?P<word>''|[^\W\d_]+|[°%′″'\"])"
    r"|(?P<digit>-?\d)(?!\d|\.\d))"
)


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a unit: its text, its power, whether it stands below a slash, and the sign before it ("" or " " where
    there was none). `loose`: below a slash after a product, where some people mean above again."""

    text: str
    power: int = 1
    below: bool = False
    loose: bool = False
    before: str = ""


@dataclass(frozen=True, slots=True)
class UnitWords:
    """The words of one unit, and the repairs that were needed to cut it."""

    words: tuple[Word, ...]
    repairs: tuple[Repair, ...] = ()


@dataclass(slots=True)
class _Line:
    """A unit as far as it was cut."""

    words: list[Word] = field(default_factory=list)
    repairs: list[Repair] = field(default_factory=list)
    below: bool = False
    depth: int = 0
    lone_below: bool = False  # a bracket below the slash was closed: what follows is above again
    before: str = ""

    def take(self, match: re.Match[str]) -> bool:
        """Takes one token; False when it cannot stand here."""
        kind = match.lastgroup or ""
        if kind in {"power", "round", "brace"}:
            return self._raise(match[kind])
        if kind == "digit":
            return self._digit(match)
        if kind == "word":
            return self._word(match)
        if kind == "slash":
            return self._slash()
        if kind == "times":
            return self._times(match[kind])
        return self._bracket(1 if kind == "open" else -1)

    def _word(self, match: re.Match[str]) -> bool:
        if self.before == "1":  # as in 1/K, with its slash
            return False
        below = self.below and not self.lone_below
        loose = below and self.depth == 0 and self.before != "/"
        before = self.before or (" " if match[0].startswith(" ") else "")
        self.words.append(Word(match["word"], 1, below, loose, before))
        self.before = ""
        return len(self.words) <= MOST_WORDS

    def _raise(self, power: str) -> bool:
        if not self.words or self.words[-1].power != 1 or self.before:
            return False
        self.words[-1] = replace(self.words[-1], power=int(power.replace(" ", "")))
        return self.words[-1].power not in {0, 1}

    def _digit(self, match: re.Match[str]) -> bool:
        if match.start() == 0 and match["digit"] == "1":
            self.before = "1"
            return True
        if int(match["digit"]) not in BARE_POWERS or not self._raise(match["digit"]):
            return False
        if match[0].startswith(" "):
            said = f"The {match['digit']} after {self.words[-1].text} was read as its power."
            self.repairs.append(Repair(said, True))
        return True

    def _slash(self) -> bool:
        if self.before not in {"", "1"} or (not self.words and self.before != "1" and self.below):
            return False
        self.below, self.lone_below, self.before = True, False, "/"
        return True

    def _times(self, sign: str) -> bool:
        if not self.words or self.before:
            return False
        self.before = sign
        return True

    def _bracket(self, step: int) -> bool:
        self.depth += step
        if step < 0 and self.depth == 0:
            self.lone_below = self.below
        return self.depth >= 0 and not (step < 0 and self.before)

    @property
    def is_whole(self) -> bool:
        """True when nothing is left open."""
        return bool(self.words) and self.depth == 0 and (not self.before or self.before in ".-·")


@lru_cache(maxsize=1 << 14)
def unit_words(text: str) -> UnitWords | None:
    """The words of a unit's text (characters already made plain); None when it is not made like a unit."""
    if len(text) > LONGEST_UNIT:
        return None
    line = _Line()
    if MAY_HOLD_PHRASE.search(text):
        text = _without_phrases(text, line.repairs)
    text, at = text.strip(" ,;"), 0
    while at < len(text):
        match = TOKEN.match(text, at)
        if match is None or not line.take(match):
            return None
        at = match.end()
    if not line.is_whole or line.before == "-":
        return None
    return UnitWords(tuple(line.words), tuple(line.repairs))


def _without_phrases(text: str, repairs: list[Repair]) -> str:
    for form, stands, plain in PHRASES:
        found = form.search(text)
        if found:
            if not plain:
                repairs.append(Repair(f"{found[0].strip()} was read as {found.expand(stands)}.", True))
            text = form.sub(stands, text)
    for before, after, power in ((SQUARE_BEFORE, SQUARE_AFTER, 2), (CUBE_BEFORE, CUBE_AFTER, 3)):
        text = before.sub(rf"\1^{power}", text)
        found = after.search(text)
        if found:
            if not found[2].endswith("ed"):
                repairs.append(Repair(f"{found[0]} was read as {found[1]} to the power {power}.", True))
            text = after.sub(rf"\1^{power}", text)
    return text
