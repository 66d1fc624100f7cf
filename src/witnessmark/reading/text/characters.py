"""The characters of an entry made plain: one space, one minus, one slash, digits 0 to 9, raised digits as powers.

What is set right here without a word looks the same on paper (a thin space, the true minus, `²` for `^2`); the rest is
said in a repair.
"""

import re
import unicodedata
from functools import lru_cache

from witnessmark.reading.result import Repair

INVISIBLE = frozenset({"Cf", "Cn", "Co", "Cs"})  # joiners, marks of direction, unassigned: nothing anybody sees
RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺"
RAISED_RUN = re.compile(f"(?:\\^|\\*\\*)? ?([{RAISED}]+)([0-9]?)")
RAISED_NOUGHT = re.compile("(?<=[0-9 ])⁰(?= ?[CFcf]?(?![0-9⁰-⁹]))")
LOWERED = "₀₁₂₃₄₅₆₇₈₉"
LOWERED_RUN = re.compile(f"[{LOWERED}]+")
FRACTION_SIGN = re.compile("[¼½¾⅐-⅞↉]")
KHA = re.compile(r"(?<=\d) ?[хХΧχ] ?(?=10)")
DASH_SAID = "The dash was read as a minus sign."
DIGITS_SAID = "Digits of another script were read as 0 to 9."
WIDE_SAID = "Wide or styled characters were read as plain ones."
DEGREE_SAID = "The sign {} was read as a degree sign."

LOOKS_THE_SAME = {
    "−": "-", "∕": "/", "⁄": "/", "⋅": "·", "∙": "·", "•": "·", "‧": "·", "⸱": "·",
    "・": "·", "･": "·", "●": "·", "✕": "×", "✖": "×", "╳": "×", "⨯": "×", "⨉": "×",
    "∗": "*", "μ": "µ", "Ω": "Ω", "K": "K", "Å": "Å", "℃": "°C", "℉": "°F", "’": "'",
    "‘": "'", "ʹ": "'", "ʼ": "'", "´": "'", "`": "'", "”": '"', "“": '"', "„": '"',
    "‟": '"', "«": '"', "»": '"', "ʺ": "″", "≃": "≈", "≅": "≈", "∼": "~", "˜": "~",
    "٫": ".", "٬": "'", "٪": "%", "∶": ":", "…": "...", "㎜": "mm", "㎝": "cm", "㎡": "m²",
    "㎥": "m³", "㎏": "kg", "㎪": "kPa", "㎫": "MPa", "㎬": "GPa", "㎞": "km", "㎟": "mm²",
    "㎣": "mm³", "㎾": "kW", "⇒": "=>", "→": "->", "⟹": "=>", "⟶": "->",
}  # fmt: skip
SAID = {
    **dict.fromkeys("–—‒―‐‑﹣－˗‾", ("-", DASH_SAID)),
    **{sign: ("°", DEGREE_SAID.format(sign)) for sign in "º˚ᵒ"},
    "÷": ("/", "The sign ÷ was read as a slash."),
    "，": (",", WIDE_SAID),
    "،": (",", "The sign ، was read as a comma."),
}  # fmt: skip


@lru_cache(maxsize=4096)
def _plain(char: str) -> tuple[str, str]:
    """What stands for one character, and the sentence to say, if any."""
    if char in LOOKS_THE_SAME:
        return LOOKS_THE_SAME[char], ""
    if char in SAID:
        return SAID[char]
    category = unicodedata.category(char)
    if char.isspace() or category == "Zs":
        return " ", ""
    if category in INVISIBLE or 0xFE00 <= ord(char) <= 0xFE0F:
        return "", ""
    if char in RAISED or char in LOWERED or FRACTION_SIGN.match(char):
        return char, ""
    if char.isdecimal():
        return str(unicodedata.decimal(char)), DIGITS_SAID
    if category in {"No", "Nl"}:  # digits in circles, Roman numerals
        return char, ""
    compatible = unicodedata.normalize("NFKC", char)
    if compatible != char and compatible.isascii() and len(compatible) <= 3:
        return compatible, WIDE_SAID
    return char, ""


@lru_cache(maxsize=1 << 12)
def plain(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text in plain characters with single spaces, and what had to be said about it."""
    if text.isascii():
        return " ".join(text.split()), ()
    said: dict[str, None] = {}
    pieces = []
    for char in unicodedata.normalize("NFC", text):
        stands, sentence = (char, "") if char.isascii() else _plain(char)
        pieces.append(stands)
        if sentence:
            said[sentence] = None
    text = "".join(pieces)
    if RAISED_NOUGHT.search(text):
        text = RAISED_NOUGHT.sub("°", text)
        said[DEGREE_SAID.format("⁰")] = None
    if KHA.search(text):
        text = KHA.sub(" x ", text)
        said["A letter of another script was read as a times sign."] = None
    text = RAISED_RUN.sub(_power, text)
    text = LOWERED_RUN.sub(_index, text)
    text = FRACTION_SIGN.sub(_fraction, text)
    return " ".join(text.split()), tuple(Repair(s) for s in said)


def _power(match: re.Match[str]) -> str:
    after = f" {match[2]}" if match[2] else ""  # a digit on the line is none of the raised ones
    return "^" + unicodedata.normalize("NFKC", match[1]).replace("−", "-") + after


def _index(match: re.Match[str]) -> str:
    return "_" + unicodedata.normalize("NFKC", match[0])


def _fraction(match: re.Match[str]) -> str:
    return " " + unicodedata.normalize("NFKC", match[0]).replace("⁄", "/")
