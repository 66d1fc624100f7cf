"""A file is not a text: what a cell of a spreadsheet holds, turned back into what was typed, where that is certain."""

import math
import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import ROUND_HALF_UP, Context, Decimal

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
AS_NUMBER = "the spreadsheet stored this entry as a number, so zeros at its end may be missing"
AS_PERCENTAGE = "the spreadsheet stored this entry as a percentage; it was taken as the cell shows it"
AS_LOGICAL = "the spreadsheet stored this entry as a logical value"
TURNED = "the spreadsheet turned this entry into"
DECIMALS = re.compile(r"(?:^|[0#?])(?:[.,](?P<least>0*)(?P<further>[#?]*))?(?=[^0-9.,#?eE]*%)")  # of a number format
SHOWN_DECIMALS = re.compile(r"^[-−]?[\d ]*(?:[.,](?P<least>\d+))?(?P<further>)\s*%$")  # of a text that is shown
EXACTLY = Context(prec=400)
MOST_DECIMALS = 30  # more than a spreadsheet shows
PLAIN_FORMATS = ("", "General", "@", "0", "0.00", "GENERAL", "Standard")
LARGEST_PLAIN, SMALLEST_PLAIN = 15, -7  # powers of ten that are written out in full


@dataclass(frozen=True, slots=True)
class Cell:
    """What was typed into a cell, what the spreadsheet did to it (`note`), and whether that spoiled it for reading."""

    text: str
    note: str = ""
    spoiled: bool = False


EMPTY = Cell("")
Value = str | float | int | bool | date | datetime | time | timedelta | None


def cell_of(value: Value, number_format: str = "") -> Cell:
    """The cell of a value as a workbook gives it; `number_format` tells percentages from other numbers."""
    match value:
        case None | "":
            return EMPTY
        case str():
            return Cell(value)
        case bool():
            return Cell("TRUE" if value else "FALSE", AS_LOGICAL)
        case int() | float():
            return _number(value, number_format)
        case datetime():
            return _date(value)
        case date():
            return Cell(value.isoformat(), f"{TURNED} a date ({_day(value)})", spoiled=True)
        case time():
            return _time(value.isoformat())
        case timedelta():
            return _time(_clock(value))


def error_cell(name: str, formula: str = "") -> Cell:
    """A cell that shows an error, such as `#DIV/0!`."""
    if formula:
        return Cell(formula, f"the formula {formula} gives the error {name}", spoiled=True)
    return Cell(name, f"the cell holds the error {name}", spoiled=True)


def formula_cell(formula: str, result: Cell | None) -> Cell:
    """A cell that holds a formula: its saved result with a note, or the formula itself when no result was saved."""
    if result is None:
        note = f"the cell holds the formula {formula} and the file does not hold its result"
        return Cell(formula, note, spoiled=True)
    if formula.upper() in ("=TRUE()", "=FALSE()"):  # how LibreOffice saves a logical value
        return cell_of(formula.upper() == "=TRUE()")
    said = f"worked out by the spreadsheet from {formula}"
    return Cell(result.text, f"{said}; {result.note}" if result.spoiled else said, result.spoiled)


def number_text(value: float) -> str:
    """A number in its shortest form: 69995.0 -> `69995`, 0.1 -> `0.1`, 1e22 -> `1e22`."""
    exact = Decimal(repr(float(value)))
    if not exact.is_finite():
        return str(value)
    if exact == 0:
        return "0"
    if SMALLEST_PLAIN <= exact.adjusted() <= LARGEST_PLAIN:
        return f"{exact.normalize():f}"
    mantissa = exact.scaleb(-exact.adjusted()).normalize()
    return f"{mantissa:f}e{exact.adjusted()}"


def _number(value: float, number_format: str) -> Cell:
    if "%" in _outside_quotes(number_format):
        return percentage_cell(value, DECIMALS.search(_outside_quotes(number_format)))
    if number_format in PLAIN_FORMATS:
        return Cell(number_text(value), AS_NUMBER)
    return Cell(number_text(value), f"{AS_NUMBER}; the cell shows it in the format {number_format}")


def percentage_cell(value: float, decimals: re.Match[str] | None) -> Cell:
    """A share as the per cent that its cell shows: with the `least` decimals, and `further` ones where they are not 0.

    Where the decimals are not known, with all that there are. The note tells what the cell holds beyond what it shows.
    """
    held = _hundredfold(value)
    if decimals is None or not math.isfinite(value):
        return Cell(f"{held} %", AS_PERCENTAGE)
    least = min(len(decimals["least"] or ""), MOST_DECIMALS)
    further = min(len(decimals["further"] or ""), MOST_DECIMALS)
    shown = Decimal(held).quantize(Decimal(1).scaleb(-least - further), ROUND_HALF_UP, EXACTLY)
    text = f"{shown:f}"
    while further and text.endswith("0"):
        text, further = text[:-1], further - 1
    beyond = "" if shown == Decimal(held) else f"; it holds {Decimal(held):.12g} %"
    return Cell(f"{text.rstrip('.')} %", f"{AS_PERCENTAGE}{beyond}")


def _outside_quotes(number_format: str) -> str:
    return "".join(number_format.split('"')[::2])


def _hundredfold(value: float) -> str:
    exact = Decimal(repr(float(value)))
    return f"{(exact * 100).normalize():f}" if exact.is_finite() else str(value)


def _day(value: date) -> str:
    return f"{value.day} {MONTHS[value.month - 1]} {value.year}"


def _date(value: datetime) -> Cell:
    shown = _day(value) if value.time() == time() else f"{_day(value)}, {value.time().isoformat()}"
    return Cell(value.isoformat(" "), f"{TURNED} a date ({shown})", spoiled=True)


def _time(shown: str) -> Cell:
    return Cell(shown, f"{TURNED} a time ({shown})", spoiled=True)


def _clock(value: timedelta) -> str:
    sign = "-" if value < timedelta() else ""
    minutes, seconds = divmod(round(abs(value).total_seconds()), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{sign}{hours}:{minutes:02d}:{seconds:02d}"
