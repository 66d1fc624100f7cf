"""Two values in one entry, in either order: `25.000 to 25.021 mm`, `max 25.021, min 25.000`, `25 +0.021/0`."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.reading.quantity.entries import read_quantity
from witnessmark.reading.result import Certainty
from witnessmark.reading.text.plain_words import is_blank, too_long

LONGEST_LIMITS = 300
BOTH = 2
GROUPED = r"(?:\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:\.\d{3})+,\d+)(?![.,]?\d)"
DIGITS = rf"(?:{GROUPED}|\d+(?:[.,]\d+)?|[.,]\d+)"
TENS = r"(?:[eE][-+]?\d+|\s*[x×*·]\s*10\s*\^?\s*[-+−]?\d+)?"
NUMBER = re.compile(rf"(?<![\w^.])(?P<sign>±\s*|[-+−])?(?P<digits>{DIGITS}{TENS})")
NAMED = re.compile(r"[^\W\d]\w*\s*[=:≈]")
WORDS = re.compile(
    r"\b(?:and|to|from|up to|between|both|is|are|of|the|its|max(?:imum)?|largest|biggest|greatest|upper|highest|high|"
    r"min(?:imum)?|smallest|least|lower|lowest|low|limits?|sizes?|clearances?|interference|values?|holes?|bores?|"
    r"shafts?|pins?|diameters?|dia)\b\.?",
    re.IGNORECASE,
)
AROUND = " \t\n\r,;:/|()[]=&+-–—.ø⌀Ø"
BELOW = ("-", "−")
THREE_BEHIND = re.compile(r"\d{1,3},\d{3}")
OPEN = re.compile(r"\b(?:or|either|maybe|perhaps)\b|\?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class LimitsReading:
    """Two entries in one: their texts as each would have been typed alone (one where only one stands there); `pointed`
    are the same with points for their commas, where both have one before three digits (`25,000; 25,021`)."""

    certainty: Certainty
    texts: tuple[str, ...] = ()
    pointed: tuple[str, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Number:
    """A number of the entry: its sign, its digits as typed, and the unit behind it."""

    sign: str
    digits: str
    unit: str

    @property
    def text(self) -> str:
        """As one would type it alone."""
        return f"{self.sign}{self.digits} {self.unit}".strip()


def read_limits(text: str) -> LimitsReading:
    """The two values of an entry, in the order in which they stand. Never raises an error."""
    if reason := too_long(text, LONGEST_LIMITS):
        return _unread(reason)
    if is_blank(text):
        return LimitsReading(Certainty.BLANK)
    if OPEN.search(text):
        return _unread("it leaves open which values are meant")
    found = _numbers(text)
    if not found:
        return _unread("no number stands there")
    if spread := _with_deviations(found):
        return spread
    if len(found) > BOTH:
        return _unread(f"two values are asked, and {len(found)} numbers stand there")
    if any(number.sign.startswith("±") for number in found):
        return _unread("± needs a value before it")
    unit = found[-1].unit or found[0].unit
    texts = tuple(_Number(n.sign, n.digits, n.unit or unit).text for n in found)
    commas = all(THREE_BEHIND.fullmatch(number.digits) for number in found)
    pointed = tuple(text.replace(",", ".") for text in texts) if commas and len(texts) == BOTH else ()
    return LimitsReading(Certainty.CERTAIN, texts, pointed)


def in_order(texts: tuple[str, str], unit: str) -> bool | None:
    """True where the first of two values is not the smaller; None where that cannot be told. In one unit they are read
    alike, a comma as a point in both."""
    first, second = (_numbers(text)[0] for text in texts)
    exact = [_exact(number.digits) for number in (first, second)]
    if first.unit == second.unit and exact[0] is not None and exact[1] is not None:
        one, other = (
            -v if n.sign in BELOW else v for n, v in zip((first, second), exact, strict=True) if v is not None
        )
        return one >= other
    readings = [read_quantity(text, unit).readings for text in texts]
    return readings[0][0].si >= readings[1][0].si if all(readings) else None


def _numbers(text: str) -> list[_Number]:
    matches = list(NUMBER.finditer(text))
    ends = [*(match.start() for match in matches), len(text)][1:]
    return [
        _Number((m["sign"] or "").strip(), m["digits"], _unit(text[m.end() : end]))
        for m, end in zip(matches, ends, strict=True)
    ]


def _unit(behind: str) -> str:
    """What stands behind a number without names of values, words and signs that part."""
    return WORDS.sub(" ", NAMED.sub(" ", behind)).strip(AROUND)


def _with_deviations(found: Sequence[_Number]) -> LimitsReading | None:
    """A size with its deviations, as drawings write it: `25 +0.021/0`, `25 -0.007 -0.020`, `25 ±0.01`."""
    first, *rest = found
    spread = len(rest) == 1 and rest[0].sign == "±"
    signed = len(rest) == BOTH and rest[0].sign in ("+", *BELOW) and (rest[1].sign or not _exact(rest[1].digits))
    if first.sign or not (spread or signed):
        return None
    units = {number.unit for number in found if number.unit}
    values = [_exact(number.digits) for number in found]
    if len(units) > 1 or any(value is None for value in values):
        return _unread("a size and its deviations are in two units, or not all numbers")
    size, *by = (value for value in values if value is not None)
    signed_by = [-value if n.sign in BELOW else value for n, value in zip(rest, by, strict=True)]
    limits = [size + by[0], size - by[0]] if spread else [size + deviation for deviation in signed_by]
    unit = next(iter(units), "")
    texts = tuple(f"{limit:f} {unit}".strip() for limit in limits)
    said = f"a size with its deviations was read as {texts[0]} and {texts[1]}"
    return LimitsReading(Certainty.CERTAIN, texts, repairs=(said,))


def _exact(digits: str) -> Decimal | None:
    """The number of plain digits with at most one comma or point; None for any other."""
    plain = digits.replace(",", ".")
    return Decimal(plain) if re.fullmatch(r"\d*\.?\d+", plain) and len(plain) < LONGEST_LIMITS else None


def _unread(reason: str) -> LimitsReading:
    return LimitsReading(Certainty.UNREADABLE, reason=reason)
