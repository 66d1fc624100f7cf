"""Numbers as people type them: grouping, decimal commas, powers of ten, fractions, multiples of π.

Figures. Noughts in front never count; all digits after a decimal point count. Noughts at the end of a whole number
without a point count as long as the number then has no more than three figures, which is what tasks ask for; beyond
that they only hold the place. So `70` has 2, `700` 3, `70 000` 3, `94 200` 3, `69 995` 5, `70.0` 3, `7.0e4` 2. `least`
does not count such noughts at all, `most` counts every one; a point with no digit after it changes nothing. A fraction
and a multiple of π are exact: they have the figures of their decimal, 15 where that never ends.
"""

import re
from dataclasses import dataclass, replace
from decimal import Context, Decimal
from fractions import Fraction

from witnessmark.reading.number.forms import FRACTION, NUMBER, PI, TEN_ALONE, THOUSANDS, WORTH
from witnessmark.reading.result import Repair

FIGURES_OF_WHOLE_NUMBERS = 3
EXACT = 15  # about what a double holds
EXACTLY = Context(prec=220)
TWENTY = Context(prec=20)
PI_EXACT = Decimal("3.14159265358979323846264338327950288")  # OEIS A000796
LARGEST_EXPONENT = 400
LARGEST_MAGNITUDE = 290  # a float holds it, in any unit of the list
LONGEST_DIGITS = 200  # as many as an entry can hold
MOST_IMPROPER = 99  # 22/7 is a number; 300/8 is a division left to do
DENOMINATORS = frozenset({2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 32, 64, 100, 1000})

COMMA_SAID = Repair("The comma was read as a decimal point.")
POINTS_SAID = Repair("The points were read as marks between thousands.")
LAKHS_SAID = Repair("The commas were read as marks between groups of digits.")
SPACE_SAID = Repair("The space beside the decimal point was left out.")
HYPHEN_SAID = Repair("The hyphen was read as joining a mixed number.")
PI_SAID = Repair("π was left in the answer and has been multiplied out.")
POWER_SAID = {
    "lost": Repair("The number after 10 was read as its power.", True),
    "glued": Repair("The digits after 10 were read as its power.", True),
    "bare": Repair("The power of ten without a times sign was read as a factor.", True),
    "keys": Repair("The letters before the power were read as times ten to the power.", True),
    "spaced": Repair("The letter e was read as times ten to the power."),
}


@dataclass(frozen=True, slots=True)
class Number:
    """One number: its exact value, the figures to rely on, the fewest and the most that can be meant, its repairs, and
    whether it was written with a decimal point, so that its noughts are figures."""

    value: Decimal
    figures: int
    least: int
    most: int
    repairs: tuple[Repair, ...] = ()
    pointed: bool = False


@dataclass(frozen=True, slots=True)
class Numbers:
    """What stands at the beginning of a text as a number (more than one where it can be read in two ways), and where
    it ends."""

    numbers: tuple[Number, ...]
    end: int


def read_number(text: str) -> Numbers | None:
    """The number at the beginning of a text in plain characters; None when none begins there that is understood."""
    found = (
        (_ten_alone(text) if text.startswith(("10", "-", "+")) else None)
        or (_multiple_of_pi(text) if "π" in text or "i" in text or "I" in text else None)
        or (_fraction(text) if "/" in text else None)
        or _decimal(text)
    )
    return _thousands(text, found) if found and found.end < len(text) else found


def of_digits(digits: str, exponent: int = 0, repairs: tuple[Repair, ...] = ()) -> Number | None:
    """The number of a decimal text (`-0.0700`) times a power of ten; None when no float can hold it."""
    if abs(exponent) > LARGEST_EXPONENT or len(digits) > LONGEST_DIGITS:
        return None
    value = Decimal(digits).scaleb(exponent, EXACTLY)
    if value and abs(value.adjusted()) > LARGEST_MAGNITUDE:
        return None
    figures, least, most = figures_of(digits)
    return Number(value, figures, least, most, repairs, is_pointed(digits))


def is_pointed(digits: str) -> bool:
    """True where figures stand behind a point."""
    return "." in digits.rstrip(".")


def figures_of(digits: str) -> tuple[int, int, int]:
    """The significant figures of a decimal text: to rely on, the fewest, the most (see the rule above)."""
    digits = digits.rstrip(".")
    bare = digits.lstrip("+-").replace(".", "").lstrip("0")
    if not bare:
        count = max(1, len(digits.partition(".")[2]))
        return count, count, count
    most = len(bare)
    if "." in digits:
        return most, most, most
    least = len(bare.rstrip("0"))
    return max(least, min(most, FIGURES_OF_WHOLE_NUMBERS)), least, most


def _ten_alone(text: str) -> Numbers | None:
    match = TEN_ALONE.match(text)
    if match is None:
        return None
    number = of_digits(match["sign"] + "1", int(match["p"].replace(" ", "")))
    return Numbers((number,), match.end()) if number else None


def _multiple_of_pi(text: str) -> Numbers | None:
    match = PI.match(text)
    if match is None:
        return None
    top, bottom = Decimal(match["factor"] or 1), Decimal(match["over"] or 1)
    if not bottom:
        return None
    value = TWENTY.divide(EXACTLY.multiply(top, PI_EXACT), bottom)
    return Numbers((Number(-value if match["sign"] == "-" else value, EXACT, EXACT, EXACT, (PI_SAID,)),), match.end())


def _fraction(text: str) -> Numbers | None:
    match = FRACTION.match(text)
    if match is None:
        return None
    top, bottom, whole = int(match["top"]), int(match["bottom"]), int(match["whole"] or 0)
    is_mixed = match["whole"] is not None
    if (
        bottom not in DENOMINATORS
        or top % bottom == 0
        or (is_mixed and top > bottom)
        or top > max(bottom, MOST_IMPROPER)
    ):
        return None
    exact = whole + Fraction(top, bottom)
    value = EXACTLY.divide(Decimal(exact.numerator), Decimal(exact.denominator))
    ends = Fraction(value) == exact
    value = value.normalize(EXACTLY) if ends else TWENTY.create_decimal(value)
    figures = min(EXACT, len(value.as_tuple().digits)) if ends else EXACT
    repairs = (HYPHEN_SAID,) if "-" in (match["gap"] or "") else ()
    signed = -value if match["sign"] == "-" else value
    return Numbers((Number(signed, figures, figures, figures, repairs),), match.end())


def _decimal(text: str) -> Numbers | None:
    match = NUMBER.match(text)
    if match is None:
        return None
    exponent, repairs = _exponent(match)
    mantissas = _mantissas(match)
    if match["glued"] is not None and any(len(digits.partition(".")[0]) > 1 for digits, _ in mantissas):
        return None  # 35 x 104 is a product, 3.5 x 104 a power that lost its raise
    found = [of_digits(match["sign"] + digits, exponent, (*said, *repairs)) for digits, said in mantissas]
    numbers = tuple(n for n in found if n is not None)
    return Numbers(numbers, match.end()) if numbers else None


def _exponent(match: re.Match[str]) -> tuple[int, tuple[Repair, ...]]:
    for name in ("e", "p", "spaced", "bare", "lost", "glued", "keys"):
        if match[name] is not None:
            said = POWER_SAID.get(name)
            return int(match[name].replace(" ", "")), (said,) if said else ()
    return 0, ()


def _mantissas(match: re.Match[str]) -> list[tuple[str, tuple[Repair, ...]]]:
    """Each way to read the digits before a power of ten, as a decimal text."""
    if digits := match["plain"]:
        return [_with_point(digits.replace(" ", ""), (SPACE_SAID,) if match["gap"] else ())]
    if match["grouped"]:
        return [_with_point(re.sub("[ ']", "", match["grouped"]) + (match["gdec"] or ""), ())]
    if match["lakhs"]:
        return [(match["lakhs"].replace(",", ""), (LAKHS_SAID,))]
    if match["commas"]:
        return _comma_groups(match["commas"], match["cdec"])
    if match["points"]:
        return [(match["points"].replace(".", "") + "." + match["pdec"], (POINTS_SAID, COMMA_SAID))]
    return [(match["manypoints"].replace(".", ""), (POINTS_SAID,))]


def _with_point(digits: str, said: tuple[Repair, ...]) -> tuple[str, tuple[Repair, ...]]:
    return (digits.replace(",", "."), (*said, COMMA_SAID)) if "," in digits else (digits, said)


def _comma_groups(grouped: str, decimals: str | None) -> list[tuple[str, tuple[Repair, ...]]]:
    """Commas between groups of three; one comma alone may as well be a decimal comma, unless noughts follow it."""
    whole = grouped.replace(",", "")
    if decimals is not None:
        return [(whole + decimals, ())] if not grouped.startswith("0") else []
    with_point = grouped.replace(",", ".")
    if grouped.startswith("0"):
        return [(with_point, (COMMA_SAID,))] if grouped.startswith("0,") and grouped.count(",") == 1 else []
    if grouped.count(",") > 1 or grouped.endswith(",000"):
        return [(whole, ())]
    return [(whole, ()), (with_point, (COMMA_SAID,))]


def _thousands(text: str, found: Numbers) -> Numbers:
    """The number times the word after it (`70 thousand`)."""
    match = THOUSANDS.match(text, found.end)
    if match is None:
        return found
    power = WORTH[match[1].lower()]
    return Numbers(tuple(replace(n, value=n.value.scaleb(power, EXACTLY)) for n in found.numbers), match.end())
