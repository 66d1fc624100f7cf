"""The headings of a class table: which column holds whose sheet it is, and which holds which answer."""

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.files.tables.class_table_cells import PlacedCell, Row, Rows
from witnessmark.questions.sheet.class_table_columns import GROUP, NAME, NOTE_HEADING, SHEET, STUDENT, asks_of
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.words.problems import Place, Problem

WORDS_FOR = {
    SHEET: ("sheet code", "sheet"),
    STUDENT: ("student", "student code", "code"),
    NAME: ("name", "student name"),
    GROUP: ("group",),
}
WORDS_FOR_NOTE = (NOTE_HEADING, "notes", "note to the teacher", "note to teacher")
SOUGHT_IN = 20  # rows from the top in which the headings may stand
FILLING = re.compile(r"[^0-9a-z_]+")


@dataclass(frozen=True, slots=True)
class Headings:
    """Where the columns are (from 0): who it is by word (`sheet code`, ...), answers by column, notes to the teacher
    where there are some. `width` reaches to the last heading, `cells` to the end of the row of headings."""

    row: int
    who: Mapping[str, int]
    asks: Mapping[int, Ask]
    width: int
    cells: int
    note: int | None = None


def find_headings(
    tables: Sequence[Rows], sheets: Iterable[Sheet], file: str, problems: list[Problem]
) -> tuple[Rows, Headings] | None:
    """The table with the row of headings (the one that knows most of its words); None with a problem when none does."""
    asks = asks_of(sheets)
    best: tuple[int, Rows, int] = (0, (), 0)
    for rows in tables:
        for number, row in enumerate(rows[:SOUGHT_IN]):
            known = sum(bool(_who(cell)) or ask_of(cell.text, asks) is not None for cell in row)
            if known > best[0] and any(_who(cell) for cell in row):
                best = (known, rows, number)
    score, rows, number = best
    nobodys = None if score else _row_of_answers(tables, asks)
    if nobodys:
        expected = f"a column {SHEET}, {STUDENT} or {NAME} beside the answers, which says whose row it is"
        remedy = f"put a column in front, with {STUDENT} above it and a student code in each row"
        problems.append(Problem("no-code-column", nobodys[0].place, expected, "none", remedy))
        return None
    if not score or not any(ask_of(cell.text, asks) for cell in rows[number]):
        labels = ", ".join(ask.label for ask in asks[:3])
        expected = f"a row of headings with {SHEET}, {STUDENT} or {NAME}, and {labels or 'answers'} ..."
        remedy = "fill in the class table that was issued with the sheets"
        problems.append(Problem("no-headings", Place(file), expected, "none", remedy))
        return None
    return rows, _headings(rows, number, asks, problems)


def _row_of_answers(tables: Sequence[Rows], asks: Sequence[Ask]) -> Row | None:
    """The first row that has nothing but headings of answers, two at least."""
    rows = (row for rows in tables for row in rows[:SOUGHT_IN])
    return next((row for row in rows if sum(ask_of(cell.text, asks) is not None for cell in row) > 1), None)


def _headings(rows: Rows, number: int, asks: Sequence[Ask], problems: list[Problem]) -> Headings:
    who: dict[str, int] = {}
    by_column: dict[int, Ask] = {}
    seen: dict[str, PlacedCell] = {}
    strange: set[str] = set()
    width = max(cell.column + 1 for cell in rows[number] if cell.text)
    for cell in rows[number][:width]:
        ask = None if _who(cell) else ask_of(cell.text, asks)
        what = _who(cell) or (ask.label if ask else _note(cell))
        if not cell.text or not what:
            if cell.text and cell.text.casefold() in strange:
                continue  # named once
            strange.add(cell.text.casefold())
            _unknown(cell, rows[number + 1 :], asks, problems)
        elif what in seen:
            found = f"'{cell.text}' again, as in {seen[what].where}"
            remedy = "delete one of the two columns; the first was read"
            problems.append(Problem("heading-twice", cell.place, "each heading once", found, remedy))
        else:
            seen[what] = cell
            if ask:
                by_column[cell.column] = ask
            elif what != NOTE_HEADING:
                who[what] = cell.column
    note = seen[NOTE_HEADING].column if NOTE_HEADING in seen else None
    return Headings(number, who, by_column, width, len(rows[number]), note)


def _who(cell: PlacedCell) -> str:
    return next((what for what, words in WORDS_FOR.items() if _plain(cell) in words), "")


def _note(cell: PlacedCell) -> str:
    return NOTE_HEADING if _plain(cell) in WORDS_FOR_NOTE else ""


def _plain(cell: PlacedCell) -> str:
    return " ".join(cell.text.replace("_", " ").casefold().split())


def ask_of(text: str, asks: Sequence[Ask]) -> Ask | None:
    """The ask that a heading means: its label (`1a A_s`), whatever its capitals, blanks and signs between."""
    exact = [ask for ask in asks if " ".join(text.split()) in (ask.label, ask.key)]
    if exact:
        return exact[0]
    near = [ask for ask in asks if text.strip() and _squeezed(text) == _squeezed(ask.label)]
    return near[0] if len(near) == 1 else None


def _squeezed(text: str) -> str:
    return FILLING.sub("", text.casefold())


def _unknown(cell: PlacedCell, below: Rows, asks: Sequence[Ask], problems: list[Problem]) -> None:
    """A problem with a column that holds something and has no heading of ours."""
    held = [c for row in below if len(row) > cell.column and (c := row[cell.column]).text]
    if not held:
        return
    if not cell.text:
        remedy = "type the label of the answer above it"
        problems.append(Problem("no-heading", held[0].place, "a heading above it", "none", remedy))
        return
    labels = [ask.label for ask in asks]
    longest_first = sorted((label for label in labels if cell.text.startswith(label)), key=len, reverse=True)
    near = longest_first or difflib.get_close_matches(cell.text, labels, n=1)
    remedy = f"did you mean {near[0]}? Units belong into the cells" if near else "it was not read"
    expected = f"one of {', '.join([SHEET, STUDENT, NAME, GROUP, *labels])}"
    problems.append(Problem("unknown-heading", cell.place, expected, f"'{cell.text}'", remedy))
