"""The rows of a class table, from a workbook or from text with separators, each cell with its place."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.tables.csv_cells import SEPARATORS, outside_quotes, rows_of
from witnessmark.files.workbooks.cell_texts import Cell, error_cell
from witnessmark.files.workbooks.pages import PageCells, column_letters
from witnessmark.files.workbooks.reader import read_workbook
from witnessmark.words.problems import Place, Problem

WORKBOOKS = (".xlsx", ".ods")
TEXTS = (".csv", ".txt", ".tsv")
UTF_16_MARKS = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}
LARGEST = 5_000_000  # bytes
TOP = 20  # lines among which the table begins
ERRORS = frozenset({"#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!"})
OLD_ENCODING = "the file is not UTF-8 and was read as Windows-1252"


@dataclass(frozen=True, slots=True)
class PlacedCell:
    """A cell with its place in the file, and its column counted from 0."""

    cell: Cell
    place: Place
    column: int

    @property
    def text(self) -> str:
        """The text without blanks around it."""
        return self.cell.text.strip()

    @property
    def where(self) -> str:
        """The place inside the file: `Class table!F7`, or `line 7, cell F7` in a file of text."""
        return self.place.inside


Row = tuple[PlacedCell, ...]
Rows = tuple[Row, ...]


def filled_cell(row: Row, column: int | None) -> PlacedCell | None:
    """The cell of a column where something stands in it, or None."""
    return row[column] if column is not None and column < len(row) and row[column].text else None


def read_tables(path: Path) -> tuple[tuple[Rows, ...], tuple[Problem, ...]]:
    """Every page of a workbook, or the one table of a text file, as rows that hold something; and the problems."""
    file, kind = str(path), path.suffix.lower()
    if kind in WORKBOOKS:
        book, problems = read_workbook(path)
        return tuple(_page_rows(page, file) for page in book.pages) if book else (), problems
    if kind in TEXTS:
        return _text_rows(path, file)
    found = f"a file of type '{path.suffix}'" if path.suffix else "a file without a type"
    expected = "a class table (.xlsx, .ods or .csv)"
    remedy = "open it in the spreadsheet program and save it as .xlsx"
    return (), (Problem("unsupported-type", Place(file), expected, found, remedy),)


def _page_rows(page: PageCells, file: str) -> Rows:
    rows = (
        tuple(
            PlacedCell(cell, Place(file, cell=f"{page.name}!{column_letters(column + 1)}{number}"), column)
            for column, cell in enumerate(cells)
        )
        for number, cells in enumerate(page.rows, 1)
    )
    return tuple(row for row in rows if any(cell.text for cell in row))


def _text_rows(path: Path, file: str) -> tuple[tuple[Rows, ...], tuple[Problem, ...]]:
    data, problems = read_bounded(path, LARGEST, file)
    if problems:
        return (), problems
    text, encoding, undecoded = decoded(data, file)
    read, problems = rows_of(_without_title(text), file)
    rows = (
        tuple(
            PlacedCell(_from_text(cell.text, encoding), cell.place(file), column) for column, cell in enumerate(cells)
        )
        for cells in read
    )
    return (tuple(row for row in rows if not _names_separator(row)),), (*undecoded, *problems)


def decoded(data: bytes, file: str) -> tuple[str, str, tuple[Problem, ...]]:
    """The text of a file and its encoding, by this rule: UTF-16 where a mark or the noughts of plain letters say so;
    UTF-8 where every byte fits; else Windows-1252. A problem with the place of the first byte that fits none."""
    encoding = _encoding(data)
    problems: tuple[Problem, ...] = ()
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        before = data[: error.start].decode(encoding, errors="replace")
        lines = before.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        place = Place(file, len(lines), len(lines[-1]) + 1)
        found, remedy = f"the byte {data[error.start]:02X}", "save it again as CSV UTF-8"
        problems = (Problem("not-text", place, "text in UTF-8, UTF-16 or Windows-1252", found, remedy),)
        text = ""
    return text.replace("\r\n", "\n").replace("\r", "\n"), encoding, problems


def _without_title(text: str) -> str:
    """The text with what stands above the table made blank, so that the table's own first line shows the separator.
    Separators in quotes part no cells: an answer such as "1c, 2a, 3d" has many."""
    lines = text.split("\n")
    parts = [max(map(outside_quotes(line).count, SEPARATORS)) for line in lines[:TOP]]
    first = next((n for n, count in enumerate(parts) if 2 * count >= max(parts) > 0), 0)
    return "\n".join([""] * first + lines[first:])


def _encoding(data: bytes) -> str:
    if data[:2] in UTF_16_MARKS:
        return UTF_16_MARKS[data[:2]]
    start = data[:400]
    if len(start) >= 4 and start[1::2].count(0) > len(start) // 3:
        return "utf-16-le"
    if len(start) >= 4 and start[::2].count(0) > len(start) // 3:
        return "utf-16-be"
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8-sig"


def _from_text(text: str, encoding: str) -> Cell:
    if text in ERRORS:
        return error_cell(text)
    cell = Cell(text)
    return replace(cell, note=OLD_ENCODING) if encoding == "cp1252" and not text.isascii() else cell


def _names_separator(row: Sequence[PlacedCell]) -> bool:
    """True of the line `sep=;` that spreadsheet programs put first."""
    return row[0].place.line == 1 and row[0].text in ("sep=", "sep=,", "sep=;") and not any(c.text for c in row[1:])
