"""The marks that a teacher typed into a gradebook, or into any table with the same headings, read back with places.

The table may have been saved by any spreadsheet program, as .xlsx or .ods; rows and columns may stand in any order.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.tables.class_table_cells import WORKBOOKS, PlacedCell, Row, Rows, read_tables
from witnessmark.files.tables.class_table_students import Students
from witnessmark.questions.model.parts import HandPart
from witnessmark.questions.sheet import gradebook_columns as columns
from witnessmark.questions.sheet.task import Ask, Sheet, ask_labelled
from witnessmark.words.problems import Place, Problem

SOUGHT_IN = 20  # rows from the top in which the headings may stand
FORMULA = ("worked out by the spreadsheet from", "the cell holds the formula")


@dataclass(frozen=True, slots=True)
class TypedMark:
    """What stands in the teacher's cells of one row. `place` is that of the mark, `written` what the row said of itself
    when it was written: the mark that stood, what tells a change since, what tells a touched cell (none in a table of
    the teacher's own). `criteria` hold the text and place of each criterion of a part that is marked by hand."""

    sheet: Sheet
    ask: Ask
    place: Place
    mark: str
    spoiled: str
    reason: str
    reason_place: Place
    say: str
    shown: str
    written: tuple[str, ...]
    criteria: tuple[tuple[str, Place], ...] = ()

    @property
    def cells(self) -> tuple[str, ...]:
        """The texts of all cells that a teacher fills in."""
        return (*(text for text, _ in self.criteria), self.mark, self.reason, self.say)

    @property
    def is_touched(self) -> bool:
        """True where something was typed since the row was written."""
        if len(self.written) < 3:
            return any(self.cells)
        return self.written[2] != columns.filled_mark(self.cells)


def read_marks_back(path: Path, sheets: Mapping[str, Sheet]) -> tuple[tuple[TypedMark, ...], tuple[Problem, ...]]:
    """Every row of every page that has a column for the teacher's mark; `sheets` are those it may tell of, by code."""
    if path.suffix.lower() not in WORKBOOKS:
        found, remedy = f"'{path.name}'", "save it in the spreadsheet program as .xlsx or .ods"
        return (), (Problem("unsupported-type", Place(str(path)), "a gradebook (.xlsx or .ods)", found, remedy),)
    tables, unread = read_tables(path)
    problems, found_rows = list(unread), list[TypedMark]()
    with_marks = [(rows, *headed) for rows in tables if (headed := _headings(rows))]
    if tables and not with_marks:
        expected = f"a page with the headings {columns.PART}, {columns.MARK} and {columns.STUDENT} or {columns.SHEET}"
        problems.append(Problem("no-marks-page", Place(str(path)), expected, "none", "take the gradebook of the class"))
    for rows, number, heads in with_marks:
        found_rows += _typed(rows[number + 1 :], heads, Students(sheets), problems)
    return tuple(found_rows), tuple(problems)


Headings = Mapping[str, int]


def _headings(rows: Rows) -> tuple[int, Headings] | None:
    """The row of the headings and the column of each."""
    for number, row in enumerate(rows[:SOUGHT_IN]):
        heads = {" ".join(cell.text.split()).casefold(): cell.column for cell in reversed(row) if cell.text}
        whose = columns.STUDENT in heads or columns.SHEET in heads
        if whose and columns.PART in heads and columns.MARK in heads:
            return number, heads
    return None


def _typed(rows: Rows, heads: Headings, students: Students, problems: list[Problem]) -> Iterator[TypedMark]:
    who = {what: heads[what] for what in (columns.SHEET, columns.STUDENT) if what in heads}
    for row in rows:
        label = _cell(row, heads, columns.PART)
        if label is None or not label.text:
            if any((cell := _cell(row, heads, what)) and cell.text for what in (columns.MARK, columns.REASON)):
                expected = f"the label of an answer under '{columns.PART}'"
                problems.append(Problem("no-answer", row[0].place, expected, "none", "the row was not read"))
            continue
        sheet = students.sheet_of(row, who, problems)
        if sheet is None:
            continue
        ask = ask_labelled(sheet.asks, label.text)
        if ask is None:
            expected = f"one of {', '.join(a.label for a in sheet.asks)}"
            problems.append(Problem("no-answer", label.place, expected, f"'{label.text}'", "the row was not read"))
            continue
        yield _typed_mark(row, heads, sheet, ask)


def _typed_mark(row: Row, heads: Headings, sheet: Sheet, ask: Ask) -> TypedMark:
    def text(what: str) -> str:
        cell = _cell(row, heads, what)
        return columns.plain(cell.cell.text) if cell else ""

    mark, reason = _cell(row, heads, columns.MARK), _cell(row, heads, columns.REASON)
    criteria = _criteria(row, heads, ask)
    typed = text(columns.MARK)
    is_sum = bool(criteria) and mark is not None and mark.cell.note.startswith(FORMULA)
    if is_sum:
        typed = ""  # the criteria are read one by one
    place = mark.place if mark else row[0].place
    spoiled = mark.cell.note if mark and mark.cell.spoiled and not is_sum else ""
    return TypedMark(
        sheet, ask, place, typed, spoiled, text(columns.REASON), reason.place if reason else place, text(columns.SAY),
        text(columns.MARKS), tuple(text(columns.WRITTEN).split()), criteria,
    )  # fmt: skip


def _criteria(row: Row, heads: Headings, ask: Ask) -> tuple[tuple[str, Place], ...]:
    """The criteria of a part that is marked by hand, where this page has a column for each."""
    if not isinstance(ask.part, HandPart):
        return ()
    names = [columns.criterion_heading(*one).casefold() for one in ask.part.criteria]
    if not set(names) <= heads.keys():
        return ()
    cells = [_cell(row, heads, name) for name in names]
    return tuple((cell.text if cell else "", cell.place if cell else row[0].place) for cell in cells)


def _cell(row: Sequence[PlacedCell], heads: Headings, what: str) -> PlacedCell | None:
    column = heads.get(what)
    return row[column] if column is not None and column < len(row) else None
