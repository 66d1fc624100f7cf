"""Numbers and units as they stand in print, read by our own few lines: nothing of the package's reading or units.

Factors to SI: SI Brochure, 9th ed. (2019), tables 4 to 8; NIST SP 811 (2008), App. B.8; pi from `math`.
"""

import math
import re

ATOMS = {
    "m": 1.0, "cm": 1e-2, "mm": 1e-3, "µm": 1e-6, "km": 1e3,
    "s": 1.0, "min": 60.0, "h": 3600.0, "d": 86400.0,
    "g": 1e-3, "kg": 1.0, "t": 1e3,
    "N": 1.0, "kN": 1e3, "MN": 1e6,
    "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "bar": 1e5, "mbar": 1e2,
    "J": 1.0, "kJ": 1e3, "MJ": 1e6, "W": 1.0, "kW": 1e3, "mW": 1e-3, "Wh": 3600.0, "kWh": 3.6e6,
    "A": 1.0, "mA": 1e-3, "V": 1.0, "mV": 1e-3, "kV": 1e3, "Ω": 1.0, "mΩ": 1e-3, "kΩ": 1e3, "Ah": 3600.0, "C": 1.0,
    "K": 1.0, "mol": 1.0, "rad": 1.0, "°": math.pi / 180, "′": math.pi / 10800, "%": 0.01, "L": 1e-3, "mL": 1e-6,
    "Hz": 1.0,
}  # fmt: skip
SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
ZERO_CELSIUS = 273.15
NUMBER = r"−?\d[\d\u202f]*(?:\.\d+)?(?:\u00a0?×\u00a0?10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)?"
AMOUNT = re.compile(rf"({NUMBER})(?:[\u00a0\u202f]?(°C|[^\s,;:?!]+))?")


def number(text: str) -> float:
    """`−12 500`, `2.1 × 10¹¹` as a float."""
    digits, _, power = re.sub(r"\s", "", text).replace("−", "-").partition("×10")
    return float(digits) * 10.0 ** int(power.translate(SUPERSCRIPTS) or 0)


def factor(unit: str) -> float:
    """The size of a printed unit in SI: `N/mm²`, `µm/(m·K)`, `1/min`; KeyError for what is no unit."""
    over, *under = unit.split("/")
    size = math.prod(_power(atom) for atom in over.split("·"))
    return size / math.prod(_power(atom) for part in under for atom in part.strip("()").split("·"))


def _power(atom: str) -> float:
    if atom == "1":
        return 1.0
    name, power = re.fullmatch(r"(.*?)([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]*)", atom).groups()  # type: ignore[union-attr]
    return ATOMS[name] ** int(power.translate(SUPERSCRIPTS) or 1)


def amount(text: str) -> float:
    """The SI value of the amount with which a text begins (`20 mm thick`); a word that is no unit is left aside."""
    found = AMOUNT.match(text)
    assert found, f"{text!r} begins with no number"
    value, unit = number(found[1]), (found[2] or "").rstrip(".")
    if unit == "°C":
        return value + ZERO_CELSIUS
    try:
        return value * factor(unit)
    except KeyError:
        return value


def half_a_step(text: str, figures: int) -> float:
    """Half a unit of the last of so many significant figures of a printed amount, in SI."""
    found = AMOUNT.match(text)
    assert found, f"{text!r} begins with no number"
    value = abs(number(found[1]))
    step = 10.0 ** (math.floor(math.log10(value)) - figures + 1) if value else 0.0
    return 0.5 * step * (1.0 if found[2] in (None, "°C") else factor(found[2]))
