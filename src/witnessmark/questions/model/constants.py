"""Named constants for every expression, with the spread in which students rightly take them, and the source."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Constant:
    """`value` in full and the interval of values in use, SI; `habits` are the values people take, with their shares."""

    name: str
    symbol: str
    value: float
    low: float
    high: float
    unit: str
    habits: tuple[tuple[float, float], ...]
    source: str


CONSTANTS: dict[str, Constant] = {
    "pi": Constant(
        "pi", "π", math.pi, 3.14, 22 / 7, "", ((math.pi, 0.75), (3.14, 0.15), (3.142, 0.07), (22 / 7, 0.03)),
        "mathematics; 3.14, 3.142 and 22/7 are common practice, no source",
    ),
    "g": Constant(
        "g", "g", 9.81, 9.8, 9.81, "m/s^2", ((9.81, 0.80), (9.80665, 0.05), (9.8, 0.15)),
        "standard value 9.80665 m/s^2: SI Brochure 9th ed. (2019); 9.81 and 9.8 are common practice, no source",
    ),
}  # fmt: skip
