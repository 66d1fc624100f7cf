"""A file of separated cells as spreadsheets save it, read into cells with their line and their name in a spreadsheet.

Kept: commas, semicolons or tabs (whichever the first line uses), quotes, a byte-order mark, any line ends, UTF-8, and
UTF-16 where a mark says so. Lines that start with `#` and lines without text are passed over.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from witnessmark.files.workbooks.pages import column_letters
from witnessmark.words.problems import Place, Problem

SEPARATORS = ",;\t"
QUOTE = '"'
COMMENT = "#"
MOST_LINES, MOST_CELLS = 20_000, 200_000
LONGEST_LINE = 100_000  # characters


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of one cell without the blanks around it, where it starts (line and column from 1), and its column and
    row (from 1) where a spreadsheet program shows the file: a row may go over several lines."""

    text: str
    line: int
    column: int
    number: int
    row: int

    def place(self, file: str) -> Place:
        """Where the cell stands in a file."""
        return Place(file, self.line, self.column, self.name)

    @property
    def name(self) -> str:
        """What a spreadsheet program calls the cell: `B3`."""
        return f"{column_letters(self.number)}{self.row}"


def rows_of(text: str, file: str) -> tuple[tuple[tuple[Cell, ...], ...], tuple[Problem, ...]]:
    """The rows that hold text, and the problems of quotes and of characters that cannot be printed.

    Of a text with more cells or lines than any table has, nothing is read.
    """
    crowded = _crowded(text, file)
    if crowded:
        return (), (crowded,)
    problems: list[Problem] = []
    rows = tuple(row for row in _Scanner(text, file, problems).rows() if any(cell.text for cell in row))
    for row in rows:
        for cell in row:
            if cell.text.isprintable():
                continue
            strange = next((c for c in cell.text if not c.isprintable() and c not in "\n\u00ad\u200c\u200d"), "")
            if strange:
                found, expected = f"the character U+{ord(strange):04X}", "text that can be printed"
                problems.append(Problem("unprintable", cell.place(file), expected, found, "delete it"))
    return rows, tuple(problems)


def _crowded(text: str, file: str) -> Problem | None:
    lines = text.count("\n") + 1
    cells = lines + max(text.count(separator) for separator in SEPARATORS)
    if lines <= MOST_LINES and cells <= MOST_CELLS and max(map(len, text.split("\n"))) <= LONGEST_LINE:
        return None
    expected = f"at most {MOST_LINES} lines of {LONGEST_LINE} characters, and {MOST_CELLS} cells"
    return Problem("file-too-large", Place(file), expected, "more", "keep only what belongs there, or split it")


def separator_of(text: str) -> str:
    """The separator that the first line with text uses most, outside quotes; a comma when it uses none."""
    for line in text.split("\n"):
        if line.strip() and not line.startswith(COMMENT):
            return max(SEPARATORS, key=outside_quotes(line).count)
    return SEPARATORS[0]


def outside_quotes(line: str) -> str:
    """What of a line stands outside quotes."""
    return "".join(line.split(QUOTE)[::2])


class _Scanner:
    """Walks over the text once, keeping count of line and column."""

    def __init__(self, text: str, file: str, problems: list[Problem]) -> None:
        self.text, self.file, self.problems = text, file, problems
        self.separator = separator_of(text)
        self.at, self.line, self.line_start = 0, 1, 0
        self.number = self.row = 1

    def rows(self) -> Iterator[tuple[Cell, ...]]:
        while self.at < len(self.text):
            if self.text.startswith(COMMENT, self.at):
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
                self._end_line()
            else:
                yield tuple(self._row())
            self.row += 1

    def _row(self) -> Iterator[Cell]:
        for self.number in count(1):
            yield self._cell()
            if self.at >= len(self.text) or self.text[self.at] == "\n":
                self._end_line()
                return
            self.at += 1

    def _cell(self) -> Cell:
        while self.at < len(self.text) and self.text[self.at] in " \t" and self.text[self.at] != self.separator:
            self.at += 1
        line, column = self.line, self.at - self.line_start + 1
        quoted = self._quoted(line, column) if self.text.startswith(QUOTE, self.at) else None
        start = self.at
        while self.at < len(self.text) and self.text[self.at] not in (self.separator, "\n"):
            self.at += 1
        rest = self.text[start : self.at].strip()
        if quoted is None:
            return Cell(rest, line, column, self.number, self.row)
        cell = Cell(quoted.strip(), line, column, self.number, self.row)
        if rest:
            expected, remedy = "the end of the cell after the closing quote", "put the quotes round the whole cell"
            self.problems.append(Problem("after-quote", cell.place(self.file), expected, f"'{rest}'", remedy))
        return cell

    def _quoted(self, line: int, column: int) -> str:
        pieces: list[str] = []
        self.at += 1
        while True:
            end = self.text.find(QUOTE, self.at)
            piece = self.text[self.at :] if end < 0 else self.text[self.at : end]
            pieces.append(piece)
            if "\n" in piece:
                self.line += piece.count("\n")
                self.line_start = self.at + piece.rfind("\n") + 1
            if end < 0:
                self.at = len(self.text)
                place = Cell("", line, column, self.number, self.row).place(self.file)
                self.problems.append(Problem("open-quote", place, "a closing quote", "none", 'type " at its end'))
                return "".join(pieces)
            self.at = end + 1
            if not self.text.startswith(QUOTE, self.at):
                return "".join(pieces)
            pieces.append(QUOTE)
            self.at += 1

    def _end_line(self) -> None:
        self.at += 1
        self.line += 1
        self.line_start = self.at
