"""Numbers as people type them: grouping, decimal commas, powers of ten, fractions, letters that stand for digits.

Figures. Zeros in front never count; all digits after a decimal point count. Zeros at the end of a whole number without a
point count as long as the number then has no more than three figures, as tasks ask for three; beyond that they only hold
the place. So `70` has 2, `700` 3, `70 000` 3, `94 200` 3, `69 995` 5, `70.0` 3, `7.0e4` 2. `least` does not count
such zeros at all, `most` counts every one. A fraction is exact: it has the figures of its decimal, 15 if that never ends.
"""

import re
from dataclasses import dataclass, replace
from decimal import Context, Decimal
from fractions import Fraction

from witnessmark.reading.repairs import Repair

FIGURES_OF_WHOLE_NUMBERS = 3
EXACT = 15  # figures of a fraction whose decimal never ends: about what a double holds
EXACTLY = Context(prec=60)
TWENTY = Context(prec=20)
LARGEST_EXPONENT = 400
DENOMINATORS = frozenset({2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 32, 64, 100, 1000})

COMMA_SAID = Repair("The comma was read as a decimal point.")
GROUPS_SAID = Repair("The points were read as marks between thousands.")
LAKHS_SAID = Repair("The commas were read as marks between groups of digits.")
RAISE_SAID = Repair("The number after 10 was read as its power.", True)

SIGN = r"(?P<sign>[-+]?) ?"
MANTISSA = (
    r"(?:(?P<grouped>\d{1,3}(?:(?P<mark>[ '])\d{3})(?:(?P=mark)\d{3})*)(?P<gdec>[.,]\d+)?(?![\d]| \d)"
    r"|(?P<lakhs>\d{1,2}(?:,\d{2})+,\d{3}(?:\.\d*)?)(?![\d,.]\d)"
    r"|(?P<commas>\d{1,3}(?:,\d{3})+)(?P<cdec>\.\d*)?(?![\d])(?!,\d)"
    r"|(?P<points>\d{1,3}(?:\.\d{3})+),(?P<pdec>\d+)(?![\d.,])"
    r"|(?P<manypoints>\d{1,3}(?:\.\d{3}){2,})(?![\d])(?![.,]\d)"
    r"|(?P<plain>(?:\d+(?P<sep>[.,])(?:\d{3}(?: \d{3})+(?: \d{1,2})?|\d{3} \d{1,2}(?![\d/]|\.\d)|\d*)|\d+|[.,]\d+))(?![.,]?\d))"
)
TEN = r"10 ?(?:\^|\*\*) ?[({\[]? ?(?P<NAME>[-+]? ?\d{1,4}) ?[)}\]]?(?![\d.])"
POWER = (
    r"(?: ?[eE] ?(?P<e>[-+]? ?\d{1,4})(?![\d.])"
    r"| ?(?:[x×X*·хХ]|\. ?(?=10\^)) ?" + TEN.replace("NAME", "p") + r"| " + TEN.replace("NAME", "bare")
    + r"| ?[x×X*·хХ] ?10 ?(?P<lost>[-+]? ?\d{1,2})(?![\d.,])"
    r"| ?(?:EE|ee|exp|EXP) ?(?P<ee>[-+]? ?\d{1,4})(?![\d.]))?"
)  # fmt: skip
NUMBER = re.compile(SIGN + MANTISSA + POWER)
TEN_ALONE = re.compile(SIGN + TEN.replace("NAME", "p"))
FRACTION = re.compile(
    SIGN + r"(?:(?P<whole>\d{1,4})(?P<gap>[ -]| - | and ) ?)?(?P<top>\d{1,4}) ?/ ?(?P<bottom>\d{1,4})(?![\d.,/])"
)
THOUSANDS = re.compile(r" ?(thousand|million|billion|hundred|lakh|crore)s?\b", re.IGNORECASE)
WORTH = {"hundred": 2, "thousand": 3, "lakh": 5, "million": 6, "crore": 7, "billion": 9}
LETTERS = re.compile(
    r"(?<![^\W\d_])(?=[OolI|.,]*\d|[.,]?[OolI|]+[.,]?[OolI|]*\d)[\dOolI|]+(?:[.,][\dOolI|]+)?(?![^\W\d_])"
)


@dataclass(frozen=True, slots=True)
class Number:
    """One number: its exact value, the figures to rely on, the fewest and the most that may be meant, and its repairs."""

    value: Decimal
    figures: int
    least: int
    most: int
    repairs: tuple[Repair, ...] = ()


@dataclass(frozen=True, slots=True)
class Numbers:
    """What stands at the beginning of a text as a number (more than one where it can be read in two ways), and where
    it ends."""

    numbers: tuple[Number, ...]
    end: int


def read_number(text: str) -> Numbers | None:
    """The number at the beginning of a text in plain characters; None when none begins there."""
    for read in (_ten_alone, _fraction, _decimal):
        found = read(text)
        if found is not None:
            return _thousands(text, found)
    return None


def of_digits(digits: str, exponent: int = 0, repairs: tuple[Repair, ...] = ()) -> Number | None:
    """The number of a decimal text (`-0.0700`) times a power of ten; None when no float can hold it."""
    if abs(exponent) > LARGEST_EXPONENT or len(digits) > 100:
        return None
    value = Decimal(digits).scaleb(exponent, EXACTLY)
    if value and not -300 < value.adjusted() < 300:
        return None
    most, least = figures_of(digits)
    figures = least if "." in digits else max(least, min(most, FIGURES_OF_WHOLE_NUMBERS))
    return Number(value, figures, least, most, repairs)


def figures_of(digits: str) -> tuple[int, int]:
    """The most and the fewest significant figures of a decimal text."""
    bare = digits.lstrip("+-").replace(".", "").lstrip("0")
    if not bare:
        count = max(1, len(digits.partition(".")[2]))
        return count, count
    return (len(bare), len(bare)) if "." in digits else (len(bare), max(1, len(bare.rstrip("0"))))


def _ten_alone(text: str) -> Numbers | None:
    match = TEN_ALONE.match(text)
    if match is None:
        return None
    number = of_digits(match["sign"] + "1", int(match["p"].replace(" ", "")))
    return None if number is None else Numbers((number,), match.end())


def _fraction(text: str) -> Numbers | None:
    match = FRACTION.match(text)
    if match is None:
        return None
    top, bottom, whole = int(match["top"]), int(match["bottom"]), int(match["whole"] or 0)
    mixed = match["whole"] is not None
    if bottom not in DENOMINATORS or not top or (mixed and top >= bottom) or (top % bottom == 0):
        return None
    exact = whole + Fraction(top, bottom)
    value = EXACTLY.divide(Decimal(exact.numerator), Decimal(exact.denominator))
    ends = Fraction(value) == exact
    value = value.normalize(EXACTLY) if ends else TWENTY.create_decimal(value)
    figures = min(EXACT, len(value.as_tuple().digits)) if ends else EXACT
    repairs = (Repair("The hyphen was read as joining a mixed number."),) if "-" in (match["gap"] or "") else ()
    signed = -value if match["sign"] == "-" else value
    return Numbers((Number(signed, figures, figures, figures, repairs),), match.end())


def _decimal(text: str) -> Numbers | None:
    match = NUMBER.match(text)
    if match is None:
        return None
    exponent, repairs = _exponent(match)
    found = [of_digits(match["sign"] + digits, exponent, (*said, *repairs)) for digits, said in _mantissas(match)]
    numbers = tuple(n for n in found if n is not None)
    return Numbers(numbers, match.end()) if numbers else None


def _exponent(match: re.Match[str]) -> tuple[int, tuple[Repair, ...]]:
    for name in ("e", "p", "bare", "lost", "ee"):
        if match[name] is not None:
            exponent = int(match[name].replace(" ", ""))
            said = {
                "lost": (RAISE_SAID,),
                "bare": (Repair("The power of ten without a times sign was read as a factor."),),
                "ee": (Repair("The letters before the power were read as times ten to the power."),),
            }.get(name, ())
            return exponent, said
    return 0, ()


def _mantissas(match: re.Match[str]) -> list[tuple[str, tuple[Repair, ...]]]:
    """Each way to read the digits before a power of ten, as a decimal text."""
    if match["grouped"]:
        decimals = match["gdec"] or ""
        said = (COMMA_SAID,) if decimals.startswith(",") else ()
        return [(re.sub("[ ']", "", match["grouped"]) + decimals.replace(",", "."), said)]
    if match["lakhs"]:
        return [(match["lakhs"].replace(",", ""), (LAKHS_SAID,))]
    if match["commas"]:
        return _comma_groups(match["commas"], match["cdec"])
    if match["points"]:
        return [(match["points"].replace(".", "") + "." + match["pdec"], (GROUPS_SAID, COMMA_SAID))]
    if match["manypoints"]:
        return [(match["manypoints"].replace(".", ""), (GROUPS_SAID,))]
    digits = match["plain"].replace(" ", "")
    return [(digits.replace(",", "."), (COMMA_SAID,) if "," in digits else ())]


def _comma_groups(grouped: str, decimals: str | None) -> list[tuple[str, tuple[Repair, ...]]]:
    whole = grouped.replace(",", "")
    if decimals is not None:
        return [(whole + decimals, ())]
    with_point = grouped.replace(",", ".")
    if grouped.startswith("0"):
        return [(with_point, (COMMA_SAID,))] if grouped.count(",") == 1 else []
    if grouped.count(",") > 1 or grouped.endswith(",000"):
        return [(whole, ())]
    return [(whole, ()), (with_point, (COMMA_SAID,))]


def _thousands(text: str, found: Numbers) -> Numbers:
    match = THOUSANDS.match(text, found.end)
    if match is None:
        return found
    power = WORTH[match[1].lower()]
    raised = tuple(replace(n, value=n.value.scaleb(power, EXACTLY)) for n in found.numbers)
    return Numbers(raised, match.end())


def letters_as_digits(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text with O, o read as nought and l, I as one inside runs of digits."""
    said: list[Repair] = []

    def mended(match: re.Match[str]) -> str:
        run = match[0]
        if any(c in run for c in "Oo"):
            said.append(Repair(f"The letter {'O' if 'O' in run else 'o'} in {run} was read as a nought.", True))
        if any(c in run for c in "lI|"):
            said.append(Repair(f"The letter {next(c for c in run if c in 'lI|')} in {run} was read as a one.", True))
        return run.translate(str.maketrans("OolI|", "00111"))

    return LETTERS.sub(mended, text), tuple(said)
