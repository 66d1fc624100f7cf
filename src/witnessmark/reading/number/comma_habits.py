"""What a comma before three digits stands for, which one entry alone cannot tell: `1,295` is 1295 or 1.295.

How the same person writes other numbers tells it: `12,5` and `0,25` have decimal commas; `12.5` has a point, so that a
comma parts thousands.
"""

import re
from collections import Counter
from collections.abc import Iterable
from enum import StrEnum


class CommaHabit(StrEnum):
    """What somebody writes a comma for."""

    DECIMAL = "decimal"
    THOUSANDS = "thousands"


IN_DOUBT = re.compile(r"(?<![\d.,])([1-9]\d{0,2}),(\d{3})(?!\d|[.,]\d)")
DECIMAL = re.compile(r"(?<![\d.,])(?:\d+,(?:\d{1,2}|\d{4,})|0,\d+)(?!\d|[.,]\d)|\d\.\d{3},\d")
THOUSANDS = re.compile(r"(?<![\d.,])\d+\.\d+(?!\d|[.,]\d)|\d,\d{3}[.,]\d")
SAID = {
    CommaHabit.DECIMAL: "The comma was read as a decimal point, as in other answers.",
    CommaHabit.THOUSANDS: "The comma was read as parting thousands, as in other answers.",
}
OTHER = {CommaHabit.DECIMAL: CommaHabit.THOUSANDS, CommaHabit.THOUSANDS: CommaHabit.DECIMAL}
LEAST_OF_CLASS = 3  # students whose habit is seen, before it is taken for that of the others


def is_in_doubt(text: str) -> bool:
    """True of an entry with one comma before three digits and no other sign that tells what it stands for."""
    return "," in text and IN_DOUBT.search(text) is not None


def habit_of(texts: Iterable[str]) -> CommaHabit | None:
    """The habit that a person's entries show; None where they show none, or both."""
    shown = {
        habit
        for text in texts
        for habit, seen in ((CommaHabit.DECIMAL, DECIMAL), (CommaHabit.THOUSANDS, THOUSANDS))
        if seen.search(text)
    }
    return shown.pop() if len(shown) == 1 else None


def habit_of_class(habits: Iterable[CommaHabit | None]) -> CommaHabit | None:
    """The habit of a class: that of all who show one, where enough do."""
    counted = Counter(habit for habit in habits if habit is not None)
    return next(iter(counted)) if len(counted) == 1 and counted.total() >= LEAST_OF_CLASS else None


def read_by(text: str, habit: CommaHabit) -> str:
    """The entry with every comma in doubt written as this habit has it."""
    return IN_DOUBT.sub(r"\1.\2" if habit is CommaHabit.DECIMAL else r"\1\2", text)
