"""Units as they are printed and spoken. Signs after the SI Brochure, 9th ed. (2019), chapter 3, tables 8 and 7."""

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from witnessmark.maths.printing.unit_names import LONG_NAMES

SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
NO_SPACE = frozenset({"°", "′", "″"})  # SI Brochure 9th ed., 5.4.3: no space before the signs of plane angle

SHORT_NAMES = {sign: name for name, (sign, _, _) in LONG_NAMES.items() if sign} | {
    "deg": "degree", "l": "litre", "mmH2O": "millimetre_of_water", "mH2O": "metre_of_water", "ftH2O": "foot_of_water",
}  # fmt: skip
PREFIXES = {
    "nano": "n", "micro": "µ", "milli": "m", "centi": "c", "deci": "d", "hecto": "h", "kilo": "k", "mega": "M",
    "giga": "G",
}  # fmt: skip
PREFIX_WORDS = {sign: word for word, sign in PREFIXES.items()} | {"u": "micro"}
POWER_WORDS = {2: "square ", 3: "cubic "}
TOKEN = re.compile(r"\s*(?:(\*\*|\^)\s*(-?\d+)|([*/()])|(\d+)|([^\W\d_][\w]*|[%°Ωµ]\w*))")


@dataclass(frozen=True, slots=True)
class UnitSign:
    """One sign of a unit with its power: a unit (`mm`, 2) with its spoken name, or punctuation (`·`, `/`, `(`, `)`)."""

    text: str
    power: int = 1
    name: str = ""

    @property
    def is_unit(self) -> bool:
        """False of punctuation."""
        return bool(self.name)


@cache
def unit_signs(unit: str) -> tuple[UnitSign, ...]:
    """The signs of an author's unit text, in its order; ValueError when it is not units, `*`, `/`, `^` and brackets."""
    signs: list[UnitSign] = []
    at = 0
    while at < len(unit.rstrip()):
        match = TOKEN.match(unit, at)
        if match is None:
            raise ValueError(f"{unit!r} is not a unit text")
        power, mark, number, name = match[2], match[3], match[4], match[5]
        if power and signs:
            signs[-1] = UnitSign(signs[-1].text, int(power), signs[-1].name)
        elif mark:
            signs.append(UnitSign("·" if mark == "*" else mark))
        else:
            signs.append(UnitSign(number) if number else _unit_sign(name))
        at = match.end()
    return _turned(signs)


def _turned(signs: list[UnitSign]) -> tuple[UnitSign, ...]:
    """`1/min` as `min⁻¹`: a one before a stroke reads as a digit of the number that stands before it."""
    match signs:
        case [UnitSign(text="1"), UnitSign(text="/"), UnitSign(text=text, power=power, name=name)] if name:
            return (UnitSign(text, -power, name),)
    return tuple(signs)


def _unit_sign(name: str) -> UnitSign:
    if long_name := _known(name):
        return UnitSign(LONG_NAMES[long_name][0], 1, long_name if long_name != "strain" else "")
    for word, sign in PREFIXES.items():
        if name.startswith(word) and (rest := _known(name[len(word) :])):
            return UnitSign(sign + LONG_NAMES[rest][0], 1, f"{word} {rest}")
    rest = _known(name[1:])
    if rest and name[0] in PREFIX_WORDS:
        return UnitSign(PREFIXES[PREFIX_WORDS[name[0]]] + LONG_NAMES[rest][0], 1, f"{PREFIX_WORDS[name[0]]} {rest}")
    return UnitSign(name, 1, name)


def _known(name: str) -> str:
    return name if name in LONG_NAMES else SHORT_NAMES.get(name, "")


def superscript(power: int) -> str:
    """The power in raised digits: `⁻⁵`."""
    return str(power).translate(SUPERSCRIPTS)


@lru_cache(maxsize=1024)
def unit_text(unit: str) -> str:
    """An author's unit text as printed: `N/mm^2` -> `N/mm²`, `kN*m` -> `kN·m`, `degC` -> `°C`, `` -> ``."""
    return "".join(s.text + (superscript(s.power) if s.power != 1 else "") for s in unit_signs(unit))


def space_before(unit: str) -> str:
    """What stands between a number and this unit: a space that does not break, or nothing before `°` and no unit."""
    text = unit_text(unit)
    return "" if not text or text in NO_SPACE else "\u00a0"


def unit_words(unit: str, many: bool = True) -> str:
    """The unit as spoken: `N/mm^2` -> `newtons per square millimetre`, `kN*m` -> `kilonewton metres`."""
    above, slash, below = _cut(unit_signs(unit))
    words = [_sign_words(sign, many=many and sign is above[-1]) for sign in above]
    words += ["per", *(_sign_words(sign, many=False) for sign in below)] if slash else []
    return " ".join(words)


def _cut(signs: tuple[UnitSign, ...]) -> tuple[list[UnitSign], bool, list[UnitSign]]:
    if len(signs) == 1 and signs[0].power < 0:
        return [], True, [UnitSign(signs[0].text, -signs[0].power, signs[0].name)]
    first = next((i for i, s in enumerate(signs) if s.text == "/"), len(signs))
    return [s for s in signs[:first] if s.is_unit], first < len(signs), [s for s in signs[first:] if s.is_unit]


def _sign_words(sign: UnitSign, many: bool) -> str:
    prefix, _, name = sign.name.rpartition(" ")
    one, several = LONG_NAMES[name][1:] if name in LONG_NAMES else (name, name)
    power, raised = POWER_WORDS.get(sign.power, ""), ""
    if not power and sign.power != 1:
        raised = f" to the power {sign.power}".replace("-", "minus ")
    return f"{power}{prefix}{several if many else one}{raised}"
