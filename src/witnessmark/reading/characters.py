"""The characters of an entry made plain: one space, one minus, one slash, digits 0 to 9, raised digits as powers.

What is set right here without a word looks the same on paper (a thin space, the true minus, `²` for `^2`); the rest is
said in a repair.
"""

import re
import unicodedata
from functools import lru_cache

from witnessmark.reading.repairs import Repair

NOTHING = re.compile("[\u00ad\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufe00-\ufe0f\ufeff]")
RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺"
RAISED_RUN = re.compile(f"(?:\\^|\\*\\*)? ?([{RAISED}]+)")
LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
FRACTION_SIGNS = re.compile("[¼½¾⅐-⅞↉]")
SAME_LOOK = {
    "−": "-", "∕": "/", "⁄": "/", "⋅": "·", "∙": "·", "•": "·", "‧": "·", "⸱": "·", "・": "·", "･": "·", "✕": "×", "✖": "×",
    "╳": "×", "⨯": "×", "∗": "*", "μ": "µ", "Ω": "Ω", "K": "K", "Å": "Å", "℃": "°C", "℉": "°F", "’": "'", "‘": "'", "ʹ": "'",
    "ʼ": "'", "´": "'", "`": "'", "”": '"', "“": '"', "„": '"', "″": "″", "«": '"', "»": '"', "≃": "≈", "≅": "≈", "∼": "~",
    "˜": "~", "，": ",", "؍": ",", "٫": ".", "٬": "'", "٪": "%", "∶": ":", "′": "′", "ʺ": "″", "…": "...", "ﬁ": "fi", "㎜": "mm",
}  # fmt: skip
SAID_LOOK = {
    "–": ("-", "The dash was read as a minus sign."), "—": ("-", "The dash was read as a minus sign."),
    "‒": ("-", "The dash was read as a minus sign."), "―": ("-", "The dash was read as a minus sign."),
    "‐": ("-", "The dash was read as a minus sign."), "‑": ("-", "The dash was read as a minus sign."),
    "﹣": ("-", "The dash was read as a minus sign."), "－": ("-", "The dash was read as a minus sign."),
    "˗": ("-", "The dash was read as a minus sign."), "º": ("°", "The sign º was read as a degree sign."),
    "˚": ("°", "The sign ˚ was read as a degree sign."), "ᵒ": ("°", "The sign ᵒ was read as a degree sign."),
    "⁰C": ("°C", "The raised nought was read as a degree sign."), "÷": ("/", "The sign ÷ was read as a slash."),
    "¸": (",", "The sign ¸ was read as a comma."),
}  # fmt: skip
DIGITS_SAID = "Digits of another script were read as 0 to 9."
WIDE_SAID = "Wide or styled letters were read as plain ones."


@lru_cache(maxsize=4096)
def _plain(char: str) -> tuple[str, str]:
    """What stands for one character, and the sentence to say, if any."""
    if char in SAME_LOOK:
        return SAME_LOOK[char], ""
    if char in SAID_LOOK:
        return SAID_LOOK[char]
    if char.isspace() or unicodedata.category(char) == "Zs":
        return " ", ""
    if char in RAISED:
        return char, ""
    if char.isdecimal():
        return str(unicodedata.decimal(char)), DIGITS_SAID
    compatible = unicodedata.normalize("NFKC", char)
    if compatible != char and compatible.isascii() and len(compatible) <= 3 and not FRACTION_SIGNS.match(char):
        return compatible, WIDE_SAID
    return char, ""


def plain(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text in plain characters with single spaces, and what had to be said about it."""
    if text.isascii():
        return " ".join(text.split()), ()
    said: dict[str, None] = {}
    text = NOTHING.sub("", unicodedata.normalize("NFC", text))
    if re.search("⁰ ?C", text):
        text = re.sub("⁰ ?C", "°C", text)
        said[SAID_LOOK["⁰C"][1]] = None
    pieces = []
    for char in text:
        if char.isascii():
            pieces.append(char)
            continue
        stands, sentence = _plain(char)
        pieces.append(stands)
        if sentence:
            said[sentence] = None
    text = RAISED_RUN.sub(_power, "".join(pieces))
    text = FRACTION_SIGNS.sub(_fraction, text)
    return " ".join(text.split()), tuple(Repair(s) for s in said)


def _power(match: re.Match[str]) -> str:
    return "^" + unicodedata.normalize("NFKC", match[1]).replace("−", "-")


def _fraction(match: re.Match[str]) -> str:
    return " " + unicodedata.normalize("NFKC", match[0]).replace("⁄", "/")
