"""How people type a number and its unit: digits, decimal signs, thousands, powers, labels, units in many forms."""

import math
import re
from collections.abc import Mapping
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal

import numpy as np

Chance = np.random.Generator

SIGNS: dict[str, tuple[str, ...]] = {
    "MPa": ("MPa", "Mpa", "N/mm2", "N/mm²", "N/mm^2", "megapascal"), "N/mm^2": ("N/mm²", "N/mm2", "MPa"),
    "kPa": ("kPa", "kpa", "kilopascal"), "GPa": ("GPa",), "bar": ("bar", "bars"),
    "kN": ("kN", "kn", "KN", "kilonewtons"), "N": ("N", "newtons", "Newton"), "mm": ("mm", "millimetres", "mm."),
    "m": ("m", "metres"), "µm": ("µm", "um", "μm"),
    "mm^2": ("mm²", "mm2", "mm^2", "sq mm"), "m^2": ("m²", "m2", "m^2"), "mm^3": ("mm³", "mm3", "mm^3"),
    "cm^3": ("cm³", "cm3", "cm^3"), "cm^4": ("cm⁴", "cm4", "cm^4"), "N*m": ("Nm", "N m", "N·m", "N*m"),
    "J": ("J", "joules"), "kJ": ("kJ", "kilojoules"), "W": ("W", "watts"), "kW": ("kW", "kilowatts"),
    "deg": ("°", "deg", "degrees"), "rad": ("rad", "radians"), "degC": ("°C", "deg C", "C"), "K": ("K", "kelvin"),
    "s": ("s", "sec", "seconds"), "h": ("h", "hours", "hrs"), "day": ("days",), "min": ("min", "minutes"),
    "kg": ("kg", "kilograms"), "g": ("g", "grams"), "A": ("A", "amps"), "mA": ("mA",), "V": ("V", "volts"),
    "ohm": ("ohm", "Ω", "ohms"), "milliohm": ("mΩ", "milliohm"), "A*h": ("Ah", "A h"), "L": ("L", "litres", "l"),
    "L/min": ("L/min", "l/min"), "m/min": ("m/min",), "mm/s": ("mm/s",), "rad/s": ("rad/s",),
    "1/min": ("1/min", "rpm"), "percent": ("%", "percent"), "kg/m^3": ("kg/m³", "kg/m3"),
}  # fmt: skip
PLAIN_SHARE = 0.55
MOST_PLAIN, LEAST_PLAIN = 1e6, 1e-3
GROUPED = 10_000
SURE_FIGURES = 3
ONE_COMMA = re.compile(r"(?<![\d,])\d{1,3},\d{3}(?![\d,.])")
DECIMAL_COMMA = re.compile(r"(?<![\d,])\d+,(?!\d{3}(?!\d))\d")
BETWEEN_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")


def digits(number: float, figures: int, *, cut: bool = False) -> Decimal:
    """A number to so many figures, rounded half up or cut off."""
    exact = _shown(number)
    place = exact.adjusted() - figures + 1
    found = exact.quantize(Decimal(1).scaleb(place), ROUND_DOWN if cut else ROUND_HALF_UP)
    more = found.adjusted() - exact.adjusted()  # 9.996 to three figures is 10.0, not 10.00
    return found.quantize(Decimal(1).scaleb(place + more)) if more > 0 else found


def to_decimals(number: float, decimals: int) -> Decimal:
    """A number to so many decimals."""
    return _shown(number).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)


def _shown(number: float) -> Decimal:
    """A number as a calculator works with it, to twelve figures: what is half of a digit is rounded up."""
    return Decimal(f"{number:.11e}")


def typed(value: Decimal, unit: str, chance: Chance, label: str = "", *, comma: bool = False) -> str:
    """A number with its unit as somebody types it; `comma` writes a decimal comma where that can only be one."""
    sign = _sign(unit, chance)
    text = _number(value, chance)
    after = text.partition(".")[2]
    if comma and after and len(after) != 3 and "e" not in text and "10" not in after:
        text = text.replace(",", " ").replace(".", ",")
    close = sign in ("°", "%") or chance.random() < 0.15
    gap = "" if close and not sign[:1].isdigit() else " "
    entry = f"{text}{gap}{sign}" if sign else text
    if label and chance.random() < 0.06:
        return f"{label} = {entry}"
    return entry if chance.random() > 0.02 else f"  {entry} "


def before_it(entries: Mapping[str, str], last: str) -> dict[str, str]:
    """Entries as they are typed before the last one by the same hand: who writes a decimal comma parts thousands by a
    space."""
    has_comma = DECIMAL_COMMA.search(last) is not None
    return {key: BETWEEN_THOUSANDS.sub(" ", text) if has_comma else text for key, text in entries.items()}


def is_in_doubt(text: str) -> bool:
    """True of what one reader takes for thousands and another for a decimal comma."""
    return ONE_COMMA.search(text) is not None


def _sign(unit: str, chance: Chance) -> str:
    forms = SIGNS.get(unit)
    if forms is None:
        return unit.replace("*", " ") if unit != "number" else ""
    return forms[0] if chance.random() < PLAIN_SHARE else forms[int(chance.integers(len(forms)))]


def _number(value: Decimal, chance: Chance) -> str:
    size = abs(float(value))
    plain = f"{value:f}"
    if size and not LEAST_PLAIN <= size < MOST_PLAIN:
        return _with_power(value, chance)
    if size >= GROUPED and chance.random() < 0.25 and "." not in plain:
        return f"{int(value):,}".replace(",", (" ", ",")[int(chance.integers(2))])
    return plain


def _with_power(value: Decimal, chance: Chance) -> str:
    power = value.adjusted()
    front = value.scaleb(-power)
    form = int(chance.integers(3))
    return (f"{front}e{power}", f"{front} x 10^{power}", f"{front}*10^{power}")[form]


def stands_for(value: Decimal) -> float:
    """The number that digits stand for."""
    return float(value)


def as_seen(value: Decimal) -> Decimal:
    """A number as its reader sees it: noughts that end a whole number in plain digits need not be figures, behind the
    third."""
    _, numbers, exponent = value.as_tuple()
    if not isinstance(exponent, int) or exponent < 0 or not LEAST_PLAIN <= abs(value) < MOST_PLAIN:
        return value
    figures = max(len(value.normalize().as_tuple().digits), SURE_FIGURES)
    return value.quantize(Decimal(1).scaleb(value.adjusted() - figures + 1)) if figures < len(numbers) else value


def read_with_decimal_comma(text: str, value: Decimal) -> Decimal | None:
    """What somebody else may read where the comma of thousands is the only one; None where there is no such comma."""
    return value.scaleb(-3) if is_in_doubt(text) else None


def half_digit(value: Decimal) -> float:
    """Half a unit of the last digit written, relative to the number."""
    size = abs(float(value))
    _, _, exponent = value.as_tuple()
    return 0.5 * 10.0 ** int(exponent) / size if size and isinstance(exponent, int) else math.inf
