"""Numbers as they are printed: significant figures, groups of three, powers of ten, and a unit behind."""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from witnessmark.maths.printing.units import space_before, superscript, unit_text
from witnessmark.maths.rounding import decimal_to_figures

__all__ = ["Digits", "as_written", "digits_of", "quantity_text", "shown_number", "unit_text"]

NARROW_SPACE = "\u202f"  # does not break; SI Brochure 9th ed., 5.4.4: digits in groups of three parted by a thin space
GROUPED_FROM = 5
LARGEST_PLAIN, SMALLEST_PLAIN = 6, -3  # powers of ten of the first digit; common practice, no source
NOISE = 12  # significant figures of a float that are not binary noise
MOST_KEPT = 8192


@dataclass(frozen=True, slots=True)
class Digits:
    """A number ready for print: its digits (`−94.2`, `12 500`) and the power of ten behind `×`, if any."""

    text: str
    power: int | None = None

    @property
    def negative(self) -> bool:
        """True when it starts with a minus sign."""
        return self.text.startswith("−")

    def __str__(self) -> str:
        if self.power is None:
            return self.text
        return f"{self.text}\u00a0×\u00a010{superscript(self.power)}"


@lru_cache(maxsize=MOST_KEPT, typed=True)  # a float is not printed as the decimal that it is equal to
def digits_of(value: Decimal | float, figures: int | None = None) -> Digits:
    """The number rounded half up to significant `figures` (exactly as it is when None, without trailing zeros).

    From 10 million up and under 0.001 it is printed with a power of ten. ValueError when it is not finite.
    """
    exact = value if isinstance(value, Decimal) else Decimal(f"{value:.{NOISE}g}")
    if not exact.is_finite():
        raise ValueError(f"{value} cannot be printed")
    if exact == 0:
        return Digits("0")
    rounded = _bare(exact) if figures is None else decimal_to_figures(exact, figures)
    if figures is not None and rounded.adjusted() > exact.adjusted():  # 9.996 to three figures is 10.0, not 10.00
        rounded = decimal_to_figures(rounded, figures)
    power = rounded.adjusted()
    if SMALLEST_PLAIN <= power <= LARGEST_PLAIN:
        return Digits(as_written(rounded))
    sign, digits, _ = rounded.as_tuple()
    return Digits(as_written(Decimal((sign, digits, 1 - len(digits)))), power)


def _bare(exact: Decimal) -> Decimal:
    sign, digits, exponent = exact.as_tuple()
    assert isinstance(exponent, int)
    kept = len(digits)
    while kept > 1 and digits[kept - 1] == 0:
        kept -= 1
    return Decimal((sign, digits[:kept], exponent + len(digits) - kept))


def as_written(number: Decimal) -> str:
    """A decimal with all its digits, in groups of three, with a minus sign: `−0.3810`, `21 400`."""
    plain = f"{number.copy_abs():f}"
    whole, point, rest = plain.partition(".")
    if len(whole) >= GROUPED_FROM:
        whole = f"{int(whole):,}".replace(",", NARROW_SPACE)
    return ("−" if number < 0 else "") + whole + point + rest


def shown_number(value: Decimal | float, figures: int | None = None) -> str:
    """The number as text: `94.2`, `12 500`, `2.1 × 10¹¹`; see `digits_of`."""
    return str(digits_of(value, figures))


def quantity_text(value: Decimal | float, unit: str, figures: int | None = None) -> str:
    """The number with its unit as text: `0.5 mm`, `30°`, `300 N/mm²`; the space does not break."""
    return shown_number(value, figures) + space_before(unit) + unit_text(unit)
