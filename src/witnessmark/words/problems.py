"""Problems: what a person wrote that cannot be used, as data, so that all of them can be shown at once."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a problem is: a file, and a line and column (counted from 1) or a cell of a workbook."""

    file: str
    line: int = 0
    column: int = 0
    cell: str = ""

    def __str__(self) -> str:
        if self.cell:
            return f"{self.file}!{self.cell}"
        if self.line:
            return f"{self.file}:{self.line}:{self.column}"
        return self.file


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem: a stable code, the place, what was expected, what was found, what to type instead."""

    code: str
    place: Place
    expected: str
    found: str
    remedy: str = ""

    def __str__(self) -> str:
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{self.place}: [{self.code}] expected {self.expected}, found {self.found}{remedy}"


def in_reading_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems by file, line and column; those without a place first."""
    return tuple(sorted(problems, key=lambda p: (p.place, p.code, p.found)))
