"""Collects the problems of one file: each is put at its place in the text, with a near word where one helps."""

import re
from decimal import Decimal
from typing import Any

from witnessmark.files.shapes.yaml_text import Path, YamlText
from witnessmark.maths.quantities import unit
from witnessmark.words.errors import UnitError
from witnessmark.words.nearest import near
from witnessmark.words.problems import Place, Problem, in_reading_order

COMMON_UNITS = (
    "m", "mm", "cm", "km", "m^2", "mm^2", "cm^2", "m^3", "mm^3", "mm^4", "L", "kg", "t", "N", "kN", "MN", "N*m", "kN*m",
    "Pa", "kPa", "MPa", "GPa", "bar", "N/mm^2", "s", "min", "h", "m/s", "knot", "rpm", "rad/s", "Hz", "J", "kJ", "W",
    "kW", "A", "V", "ohm", "K", "degC", "deg", "rad", "percent", "number", "kg/m^3", "L/min", "m^3/s", "N/m", "N/mm",
    "W/(m*K)", "J/(kg*K)", "Pa*s",
)  # fmt: skip
CURRENCY = re.compile(r"[€$£¥]|\b(?:EUR|USD|GBP|CHF|euros?|dollars?|cents?)\b", re.IGNORECASE)
MONEY_IS_A_NUMBER = "no currency is a unit: type number, and name the currency in ask and in is"
LONGEST_SHOWN = 60
LONGEST_UNIT = 40
_FACTOR = r"(?:[^\W\d_][^\W\d]*|[°%]\w?)(?:\^-?[1-9])?"
UNIT_TEXT = re.compile(rf"(?:1|{_FACTOR})(?:[*/](?:{_FACTOR}|\({_FACTOR}(?:[*/]{_FACTOR})*\)))*")


class Placed:
    """The problems of one file as they are found."""

    def __init__(self, text: YamlText) -> None:
        self.text = text
        self.problems: list[Problem] = []

    def in_order(self) -> tuple[Problem, ...]:
        """All problems found, in the order of the text."""
        return in_reading_order(self.problems)

    def add(self, code: str, path: Path, expected: str, found: str, remedy: str = "") -> None:
        """A problem with the value at this path."""
        self.problems.append(Problem(code, self.text.place(path), expected, found, remedy))

    def add_key(self, code: str, path: Path, expected: str, found: str, remedy: str = "") -> None:
        """A problem with the key at the end of this path."""
        self.problems.append(Problem(code, self.text.key_place(path), expected, found, remedy))

    def add_at(self, code: str, place: Place, expected: str, found: str, remedy: str = "") -> None:
        """A problem at a place that is already known."""
        self.problems.append(Problem(code, place, expected, found, remedy))

    def unit(self, path: Path, name: str) -> bool:
        """True when the unit is one of ours; else a problem."""
        try:
            if name and (len(name) > LONGEST_UNIT or not UNIT_TEXT.fullmatch(name)):
                raise UnitError(name)
            unit(name)
        except UnitError:
            remedy = f"{_near_unit(name) or 'products with *, powers with ^'}; number for a pure number"
            remedy = MONEY_IS_A_NUMBER if CURRENCY.search(name) else remedy
            self.add("unknown-unit", path, "a unit of the unit list", shown(name), remedy)
            return False
        return True


def _near_unit(name: str) -> str:
    """The common unit that differs in signs and capitals alone, else the nearest one."""
    ours = name.replace("meter", "metre").replace("liter", "litre")
    bare = [ours] if ours != name else [u for u in COMMON_UNITS if _letters(u) == _letters(name)]
    return f"did you mean {bare[0]}?" if bare else near(name, COMMON_UNITS)


def _letters(name: str) -> str:
    return re.sub(r"[\W_]", "", name.replace("²", "2").replace("³", "3").replace("°", "deg")).lower()


def shown(value: Any) -> str:
    """A value of a file as it is shown in a problem."""
    match value:
        case None:
            return "nothing"
        case bool():
            return "true" if value else "false"
        case Decimal() | int():
            return str(value)
        case dict():
            return "keys and values"
        case list():
            return "a list" if value else "an empty list"
    text = " ".join(str(value).split())
    return f"'{text}'" if len(text) <= LONGEST_SHOWN else f"'{text[:LONGEST_SHOWN]}...'"
