"""Text as it can be shown: a sign that no font of ours has, and one that nobody could see, stands there by its name.

PDF/UA refuses a page with a sign that no font has, so every text that goes on paper passes here first. Which fonts have
what is in `assets/fonts/coverage.json` (scripts/font_coverage.py).
"""

import json
import re
import unicodedata
from functools import cache, lru_cache
from pathlib import Path

COVERAGE = Path(__file__).parents[1] / "assets" / "fonts" / "coverage.json"
LINE_ENDS = re.compile(r"\r\n?")
UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})  # Unicode 15, table 4-4: controls, formats, halves, ...
JOINERS = "\u200c\u200d\ufe0e\ufe0f"
HARMLESS = frozenset(f"\t\n\u00ad\u200e\u200f\u2060\u2061\u2062\u2063\u2064{JOINERS}")
"""Signs without a shape that belong to words, to emoji or to formulae, and turn nothing round."""
PRINTABLE = bytes(range(0x20, 0x7F))
"""The signs of ASCII that can be seen: every font has them, and they are most of a text."""
PLAINEST = "Libertinus Serif Regular"


def on_paper(text: str) -> str:
    """The text for a PDF, with the names of what its fonts cannot show: `[thumbs up sign]`, `[U+0007]`."""
    if (text.isascii() and text.isprintable()) or _each_alone().issuperset(_beyond_ascii(text)):
        return text
    named = _not_on_paper().sub(lambda found: visible_name(found[0]), LINE_ENDS.sub("\n", text))
    return _joined_signs().sub(lambda found: _with_marks(found[0]), named)


def plainest(text: str) -> str:
    """The text for a PDF that refused the finer one: nothing but signs that the main font has, and no joined ones."""
    return "".join(c if c in "\t\n" or c in _plain_signs() else visible_name(c) for c in LINE_ENDS.sub("\n", text))


def on_screen(text: str) -> str:
    """The text for a page of the browser, which finds fonts itself: only what nobody could see is named."""
    if text.isascii() and text.isprintable():
        return text
    if "\r" in text:
        text = LINE_ENDS.sub("\n", text)
    unseen = {ord(sign): visible_name(sign) for sign in set(_beyond_ascii(text)) if is_unseen(sign)}
    return text.translate(unseen) if unseen else text


def _beyond_ascii(text: str) -> str:
    """What is left of a text without the signs that need no looking at."""
    return text.encode("utf-8", "surrogatepass").translate(None, PRINTABLE).decode("utf-8", "surrogatepass")


@lru_cache(maxsize=4096)
def is_unseen(sign: str) -> bool:
    """True of a control, of half a pair, of what turns the text around, and of what Unicode has given to nobody."""
    return unicodedata.category(sign) in UNSEEN and sign not in HARMLESS


@lru_cache(maxsize=4096)
def visible_name(sign: str) -> str:
    """What stands for a sign: its name in brackets, or its number where it has none that says more."""
    name = unicodedata.name(sign, "")
    if name.startswith("CJK UNIFIED IDEOGRAPH") or not name:
        return f"[U+{ord(sign):04X}]"
    return f"[{name.lower()}]"


@cache
def _fonts() -> dict[str, frozenset[str]]:
    """The signs that each font shows, by the font's name."""
    ranges: dict[str, list[tuple[int, int]]] = json.loads(COVERAGE.read_text(encoding="utf-8"))["fonts"]
    return {
        name: frozenset(chr(code) for first, last in pairs for code in range(first, last + 1))
        for name, pairs in ranges.items()
    }


@cache
def _shown() -> frozenset[str]:
    return frozenset().union(*_fonts().values()) | HARMLESS


@cache
def _each_alone() -> frozenset[str]:
    """The signs that stand on paper as they are, whatever stands beside them."""
    return _shown() - _marks() - {"\r"}


@cache
def _marks() -> frozenset[str]:
    """The signs that join the sign before them."""
    return frozenset(sign for sign in _shown() if unicodedata.category(sign)[0] == "M") | set(JOINERS)


@cache
def _plain_signs() -> frozenset[str]:
    return frozenset(sign for sign in _fonts()[PLAINEST] if not is_unseen(sign) and not unicodedata.combining(sign))


@cache
def _not_on_paper() -> re.Pattern[str]:
    return re.compile(f"[^{_class_of(_shown())}]")


@cache
def _joined_signs() -> re.Pattern[str]:
    """A sign with the marks that stand on it, which one font must have together."""
    marks = _class_of(_marks())
    return re.compile(f"[^{marks}\n]?[{marks}]+")


def _class_of(signs: frozenset[str]) -> str:
    return "".join(map(re.escape, sorted(signs)))


def _with_marks(joined: str) -> str:
    """A sign with its marks as it is where one font has them all, else with the names of the marks."""
    if any(_has(font, joined) for font in _fonts().values()):
        return joined
    return joined[0] + "".join(c if c in HARMLESS else visible_name(c) for c in joined[1:])


def _has(font: frozenset[str], joined: str) -> bool:
    """True where a font has each sign, or each of what they are composed to."""
    return any(set(form) - HARMLESS <= font for form in (joined, unicodedata.normalize("NFC", joined)))
