"""One class table (.xlsx, .ods, .csv), into which a teacher typed the answers of many students, read into returns."""

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path

from witnessmark.files.tables.class_table_cells import PlacedCell, Row, Rows, filled_cell, read_tables
from witnessmark.files.tables.class_table_headings import Headings, find_headings
from witnessmark.files.tables.class_table_students import Students
from witnessmark.files.workbooks.returns import ReturnsRead, short
from witnessmark.questions.sheet.class_table_columns import UNITS_ROW
from witnessmark.questions.sheet.task import NOTE, Entry, Return, Sheet
from witnessmark.words.problems import Problem, capped

MOST_ROWS = 20  # of one sheet


def read_class_table(path: Path, sheets: Mapping[str, Sheet]) -> ReturnsRead:
    """The returns in a class table, with `sheets` by sheet code: one for each row with an answer in it.

    Text files may have commas, semicolons or tabs between the cells; for encodings see `class_table_cells.decoded`. Of
    two rows for one sheet both are kept.
    """
    tables, unread = read_tables(path)
    problems = list(unread)
    found = find_headings(tables, sheets.values(), str(path), problems) if tables else None
    if found is None:
        return ReturnsRead((), capped(problems), is_table=True)
    rows, headings = found
    returns = tuple(_returns(rows[headings.row + 1 :], headings, sheets, str(path), problems))
    return ReturnsRead(returns, capped(problems), is_table=True)


def _returns(
    rows: Rows, headings: Headings, sheets: Mapping[str, Sheet], file: str, problems: list[Problem]
) -> Iterator[Return]:
    students = Students(sheets)
    seen: dict[str, Row] = {}
    rows_of: Counter[str] = Counter()
    for row in rows:
        if any(cell.text.casefold() == UNITS_ROW for cell in row):
            continue
        shifted = _shifted(row, headings)
        if shifted:
            problems.append(shifted)
            continue
        problems += _outside(row, headings)
        note = filled_cell(row, headings.note)
        if note is None and not any(filled_cell(row, column) for column in headings.asks):
            continue
        sheet = students.sheet_of(row, headings.who, problems)
        if sheet is None:
            continue
        rows_of[sheet.code] += 1
        if rows_of[sheet.code] > MOST_ROWS:
            problems.append(_too_many(sheet, row))
            continue
        if sheet.code in seen:
            problems.append(_twice(sheet, seen[sheet.code], row))
        seen[sheet.code] = row
        yield Return(sheet.code, file, (*_entries(row, headings, sheet), *(((NOTE, _entry(note)),) if note else ())))


def _shifted(row: Row, headings: Headings) -> Problem | None:
    """A problem with a line of text that holds more cells than the headings, so that nobody knows which is which."""
    extra = row[headings.cells :]
    if not extra or not row[0].place.line:
        return None
    if not any(cell.text for cell in extra) and not any(_split_number(a, b) for a, b in pairwise(row)):
        return None
    expected, found = f"{headings.cells} cells, as in the headings", str(len(row))
    remedy = 'put numbers with a comma in quotes ("94,2"), or part the cells with semicolons; the row was not read'
    return Problem("too-many-cells", row[0].place, expected, found, remedy)


def _split_number(first: PlacedCell, second: PlacedCell) -> bool:
    """True of two cells that look like the two sides of a decimal comma."""
    return first.text.lstrip("+-−").isdecimal() and second.text[:1].isdecimal()


def _outside(row: Row, headings: Headings) -> Iterator[Problem]:
    for cell in row[headings.width :]:
        if cell.text:
            expected, remedy = "answers below their headings", "look whether it belongs to an answer"
            yield Problem("text-outside", cell.place, expected, f"'{short(cell.text)}'", remedy)


def _entries(row: Row, headings: Headings, sheet: Sheet) -> tuple[tuple[str, Entry], ...]:
    """The answers of a row; none of a row that holds nothing but a note, since it hands nothing in."""
    if not any(filled_cell(row, column) for column in headings.asks):
        return ()
    columns = {ask.key: column for column, ask in headings.asks.items()}
    return tuple((ask.key, _entry(filled_cell(row, columns[ask.key]))) for ask in sheet.asks if ask.key in columns)


def _entry(placed: PlacedCell | None) -> Entry:
    if placed is None:
        return Entry("")
    return Entry(placed.cell.text, placed.where, placed.cell.note, placed.cell.spoiled)


def _too_many(sheet: Sheet, row: Row) -> Problem:
    expected = f"at most {MOST_ROWS} rows for sheet {sheet.code} ({sheet.student.code})"
    return Problem("too-many-rows", row[0].place, expected, "another row", "delete what is not meant; it was not read")


def _twice(sheet: Sheet, first: Row, second: Row) -> Problem:
    expected = f"one row for sheet {sheet.code} ({sheet.student.code})"
    found = f"another row, {second[0].where}"
    remedy = "both are kept and nothing is replaced where they differ; delete the wrong one"
    return Problem("returned-twice", first[0].place, expected, found, remedy)
