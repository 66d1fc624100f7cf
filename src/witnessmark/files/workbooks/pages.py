"""A workbook as pages of cells, whatever it was read from; and how much of it is taken in."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from witnessmark.files.workbooks.cell_texts import EMPTY, Cell

MOST_CELLS = 500_000  # of the rectangles that hold everything on a page, of all pages together
MOST_FILLED = 200_000  # cells of a book that hold something
MOST_PAGES = 100
LONGEST_TEXT = 32_767  # characters of a cell: what spreadsheet programs hold (ECMA-376; Excel's specifications)
MOST_TEXT = 5_000_000  # characters of a book
CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")


class TooMuch(Exception):
    """Raised when a workbook holds more than is taken in: what is `expected` at most, and what was `found`."""

    def __init__(self, expected: str, found: str) -> None:
        self.expected, self.found = expected, found
        super().__init__(f"{expected}; found {found}")


@dataclass(frozen=True, slots=True)
class PageCells:
    """One page: its rows from the first, each from column A to its last filled cell."""

    name: str
    rows: tuple[tuple[Cell, ...], ...]

    def at(self, cell: str) -> Cell:
        """The cell at an address such as `B2`; empty outside what is filled."""
        match = CELL.fullmatch(cell)
        if not match:
            return EMPTY
        row, column = int(match[2]) - 1, column_number(match[1]) - 1
        within = 0 <= row < len(self.rows) and column < len(self.rows[row])
        return self.rows[row][column] if within else EMPTY


@dataclass(frozen=True, slots=True)
class WorkbookCells:
    """A workbook: pages, page and cell by defined name, added properties, when it was saved (ISO 8601, or empty)."""

    pages: tuple[PageCells, ...]
    names: Mapping[str, tuple[str, str]]
    properties: Mapping[str, str]
    saved: str = ""

    def page(self, name: str) -> PageCells | None:
        """The page of this name; None when there is none."""
        return next((page for page in self.pages if page.name == name), None)


class Room:
    """How many cells a book may still span, over all its pages."""

    def __init__(self, cells: int = MOST_CELLS) -> None:
        self.left = cells

    def take(self, rows: int, columns: int) -> None:
        """Count the rectangle of one page; raises TooMuch."""
        self.left -= rows * columns
        if self.left < 0:
            raise TooMuch(f"at most {MOST_CELLS} cells in a book", f"a page of {rows} rows by {columns} columns")


def column_number(letters: str) -> int:
    """1 for A, 27 for AA."""
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


def column_letters(number: int) -> str:
    """A for 1, AA for 27."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
