"""The text of a unit cut into words with powers, above or below the line."""

import re
from dataclasses import dataclass, replace

from witnessmark.reading.repairs import Repair
from witnessmark.reading.unit_spellings import PHRASES

MOST_WORDS = 8
LONGEST_UNIT = 80
POWER = r"(?:\^|\*\*) ?[({\[]? ?(-?) ?(\d)(?:\.0)? ?[)}\]]?"
TOKEN = re.compile(
    rf" ?(?:{POWER}|(?P<slash>/|\bper\b|\bPER\b|\bPer\b)|(?P<times>[·*×.•-](?!\d)|⋅)|(?P<open>[(\[{{])|(?P<close>[)\]}}])"
    r"|(?P<word>[^\W\d_]+(?:_[^\W\d]+)?|[°%′″'\"]|'')|(?P<digit>-?\d))"
)
SQUARE = re.compile(r"\b(?:square|sq)\b\.? ?([^\W\d_]+)|\b([^\W\d_]+) ?(?:\bsquared\b|\bsq\b\.?|\^sq)", re.IGNORECASE)
CUBIC = re.compile(r"\b(?:cubic|cub|cu)\b\.? ?([^\W\d_]+)|\b([^\W\d_]+) ?(?:\bcubed\b)", re.IGNORECASE)
PHRASE_TABLE = tuple((re.compile(pattern, re.IGNORECASE), stands, plain) for pattern, stands, plain in PHRASES)


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a unit: its text, its power, whether it stands below a slash, and what stood before it.

    `loose` is true below a slash after a product: some people mean it to be above again.
    """

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


def unit_words(text: str) -> UnitWords | None:
    """The words of a unit's text (characters already made plain); None when it is not made like a unit."""
    if len(text) > LONGEST_UNIT:
        return None
    text, repairs = _phrases(text)
    words: list[Word] = []
    below, closed_below, before, at = False, False, "", 0
    depth = 0
    while at < len(text.rstrip(" ")):
        match = TOKEN.match(text, at)
        if match is None:
            return None
        spaced = match[0].startswith(" ")
        at = match.end()
        if match["word"]:
            loose = below and depth == 0 and bool(words) and words[-1].below and before != "/"
            words.append(Word(match["word"], 1, below and not closed_below, loose, before or (" " if spaced else "")))
            before = ""
        elif match[2]:
            if not words or words[-1].power != 1:
                return None
            words[-1] = replace(words[-1], power=int(match[1] + match[2]))
        elif match["digit"]:
            if not words and match["digit"] == "1":
                continue
            if not words or words[-1].power != 1 or before:
                return None
            words[-1] = replace(words[-1], power=int(match["digit"]))
            if spaced:
                repairs.append(Repair(f"The {match['digit']} after {words[-1].text} was read as its power.", True))
        elif match["slash"]:
            below, before, closed_below = True, "/", False
        elif match["times"]:
            before = match["times"]
        elif match["open"]:
            depth += 1
        else:
            depth -= 1
            if depth < 0:
                return None
            closed_below = below and depth == 0
        if len(words) > MOST_WORDS:
            return None
    if depth or before == "/" or not words:
        return None
    return UnitWords(tuple(words), tuple(repairs))


def _phrases(text: str) -> tuple[str, list[Repair]]:
    repairs: list[Repair] = []
    for pattern, stands, plain in PHRASE_TABLE:
        found = pattern.search(text)
        if found:
            text = pattern.sub(stands, text)
            if not plain:
                repairs.append(Repair(f"{found[0]} was read as {stands}.", True))
    for pattern, power, name in ((SQUARE, 2, "square"), (CUBIC, 3, "cubic")):
        if (found := pattern.search(text)) and found[2]:
            if found[0].lower().endswith(("sq", "sq.")):
                repairs.append(Repair(f"{found[0]} was read as {name} {found[2]}.", True))
        text = pattern.sub(lambda m: f"{m[1] or m[2]}^{power}", text)
    return text, repairs
