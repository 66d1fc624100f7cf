"""Quantities of more than one number: degrees with minutes, feet with inches, hours with minutes, ratios."""

import re
from dataclasses import replace
from decimal import Decimal

from witnessmark.reading.number.numbers import EXACT, EXACTLY, TWENTY, Number, read_number
from witnessmark.reading.result import Repair
from witnessmark.reading.unit.units import UnitReading, read_unit

# What must be there before the longer expressions are tried: two numbers, and a unit of these between them.
MAY_BE = re.compile(r"\d ?(?:°|'|′|deg|f|h|m|k|l|p)[^\d^/*]*\d", re.IGNORECASE)
RATIO = re.compile(
    r"(?P<first>\d{1,6}(?:[.,]\d{1,6})?)(?: ?(?P<sign>:) ?| (?P<word>in|to) )(?P<second>\d{1,6}(?:[.,]\d{1,6})?)"
)
NUM = r"(\d{1,3} \d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,5}(?:[.,]\d{1,9})?)"
ARC = rf"(?:°|deg(?:rees?)?\.?) ?{NUM} ?(?:'|′|min(?:ute)?s?\.?|m)?(?: ?{NUM} ?(?:\"|″|''|s(?:ec(?:ond)?s?)?\.?)?)?"
CLOCK = rf"(?:h|hrs?|hours?) ?(?:and )?{NUM} ?(?:m|mins?|minutes?)?(?: ?(?:and )?{NUM} ?(?:s|secs?|seconds?))?"
_FORMS = (
    # (the form after the first number, its units, how many of each make the first)
    (ARC, ("deg", "arcminute", "arcsecond"), (1, 60, 3600)),
    (rf"(?:['′](?!\d{{3}}(?!\d))|ft\.?|feet|foot)[ -]*{NUM} ?(?:\"|″|''|ins?\.?|inch(?:es)?)?", ("ft", "in"), (1, 12)),
    (CLOCK, ("h", "min", "s"), (1, 60, 3600)),
    (rf"(?:mins?|minutes?) ?(?:and )?{NUM} ?(?:s|secs?|seconds?)", ("min", "s"), (1, 60)),
    (rf"(?:m|metres?) ?(?:and )?{NUM} ?(?:cm|centimetres?)", ("m", "cm"), (1, 100)),
    (rf"(?:m|metres?) ?(?:and )?{NUM} ?(?:mm|millimetres?)", ("m", "mm"), (1, 1000)),
    (rf"(?:kg|kilos?) ?(?:and )?{NUM} ?(?:g|grams?)", ("kg", "g"), (1, 1000)),
    (rf"(?:lbs?|pounds?) ?(?:and )?{NUM} ?(?:oz|ounces?)", ("lb", "oz"), (1, 16)),
)  # fmt: skip
FORMS = tuple(
    (re.compile(rf"([-+]?) ?{NUM} ?{form}", re.IGNORECASE), units, shares) for form, units, shares in _FORMS
)  # fmt: skip


def read_composed(text: str, asked: str) -> tuple[Number, UnitReading] | None:
    """One number in the largest of its units; None when it is not of these forms or not of the asked dimension."""
    if not MAY_BE.search(text):
        return None
    for form, units, shares in FORMS:
        match = form.fullmatch(text)
        unit = read_unit(units[0], asked) if match else None
        if match is not None and unit is not None and unit.fits:
            number = _number(match, shares)
            return None if number is None else (number, unit)
    return None


def read_ratio(text: str) -> tuple[Number, ...]:
    """`1:12`, `1 to 12`, `1 in 12` as a pure number: 12, and 1/12; () when it is no ratio with a one in it."""
    match = RATIO.fullmatch(text)
    if match is None:
        return ()
    first, second = (read_number(match[name]) for name in ("first", "second"))
    if first is None or second is None or len(second.numbers) > 1 or not second.numbers[0].value:
        return ()
    a, b = first.numbers[0], second.numbers[0]
    other = b if a.value == 1 else a
    if 1 not in {a.value, b.value} or not other.value or (match["word"] == "to" and a.value != 1):
        return ()
    said = Repair(f"The ratio {text} was read as one number.")
    share = TWENTY.divide(Decimal(1), other.value).normalize()
    return (replace(other, repairs=(*other.repairs, said)), Number(share, EXACT, EXACT, EXACT, (said,)))


def _number(match: re.Match[str], shares: tuple[int, ...]) -> Number | None:
    read = [read_number(group) for group in match.groups()[1:] if group is not None]
    numbers = [r.numbers[0] for r in read if r is not None and len(r.numbers) == 1]
    values = [n.value for n in numbers]
    if len(values) < len(read) or any(v % 1 for v in values[:-1]):
        return None
    if any(value * shares[i] >= shares[i + 1] for i, value in enumerate(values[1:], 0)):
        return None
    total = sum((EXACTLY.divide(v, Decimal(shares[i])) for i, v in enumerate(values)), Decimal(0))
    total = Decimal(f"{total:.25g}").normalize()
    last = numbers[-1]
    step = 10.0 ** min(0, int(last.value.as_tuple().exponent)) / shares[len(values) - 1]
    figures = max(1, len(str(int(float(total) / step + 0.5))))
    signed = -total if match[1] == "-" else total
    repairs = tuple(r for n in numbers for r in n.repairs)
    return Number(signed, figures, figures, figures, repairs)
