"""One returned answer book: whose sheet it says it is, and where each answer stands, also after rows moved."""

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from witnessmark.files.workbooks.cell_texts import EMPTY, Cell
from witnessmark.files.workbooks.pages import PageCells, WorkbookCells, column_letters, column_number
from witnessmark.questions.sheet.answer_places import (
    ANSWER,
    CODE_CELL,
    CODE_PROPERTY,
    HEADING_ROW,
    HIDDEN_CODE_CELL,
    HIDDEN_PAGE,
    HIDDEN_TASK_CELL,
    LABELS,
    NOTE_LABEL,
    NOTE_NAME,
    PAGE,
    UNIT,
    AnswerPlace,
    answer_places,
    note_row,
)
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Entry, Sheet

COLUMNS = 5  # of an answer book
BEHIND = 2  # columns of it behind the answer: unit, and how to answer
TITLE_TEXT = re.compile(r"[0-9]+  \S")  # as `documents.sheet.answer_book` writes the title of a question
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class CodeSeen:
    """A text that stands where a sheet code belongs: the cell (or what else), the text, the code it is (or None)."""

    where: str
    text: str
    code: str | None


@dataclass(frozen=True, slots=True)
class Found:
    """Where an answer was found: page, row and column (from 1), what the cell holds, what its unit cell holds."""

    page: str
    row: int
    column: int
    answer: Cell
    unit: Cell

    @property
    def where(self) -> str:
        """The cell with its page: `Answers!C8`."""
        return f"{self.page}!{column_letters(self.column)}{self.row}"


def codes_seen(book: WorkbookCells) -> tuple[CodeSeen, ...]:
    """What stands where a sheet code belongs: the visible cell, the hidden page, the property of the file."""
    front, hidden = front_page(book), book.page(HIDDEN_PAGE)
    places = [
        (f"{front.name}!{CODE_CELL}" if front else "", front.at(CODE_CELL).text if front else ""),
        (f"{HIDDEN_PAGE}!{HIDDEN_CODE_CELL}", hidden.at(HIDDEN_CODE_CELL).text if hidden else ""),
        (f"the property '{CODE_PROPERTY}'", book.properties.get(CODE_PROPERTY, "")),
    ]
    return tuple(CodeSeen(where, text.strip(), repaired_code(text)) for where, text in places if text.strip())


def task_said(book: WorkbookCells) -> str:
    """The key of the task that the book was written for; empty when it does not say."""
    hidden = book.page(HIDDEN_PAGE)
    return hidden.at(HIDDEN_TASK_CELL).text.strip() if hidden else ""


def front_page(book: WorkbookCells) -> PageCells | None:
    """The page with the answers: by its name, else the first that is not the hidden one."""
    others = (page for page in book.pages if page.name != HIDDEN_PAGE)
    return book.page(PAGE) or next(others, None)


def find_answers(book: WorkbookCells, sheet: Sheet) -> tuple[dict[str, Found], tuple[AnswerPlace, ...]]:
    """The answers by ask key, and the places that were not found.

    A place is where it always was when its label stands in its row; else in the one row that begins with its label, on
    any page; else where its defined name points, unless that row has the label of another.
    """
    found: dict[str, Found] = {}
    lost: list[AnswerPlace] = []
    front = front_page(book)
    labels = {place.ask.label for place in answer_places(sheet)}
    for place in answer_places(sheet):
        home = (place.row, f"{UNIT}{place.row}")
        by_name = (place.name, place.unit_name if place.unit else "")
        label = place.ask.label
        answer = _at_home(front, label, *home) or _by_label(book, label, UNIT) or _by_name(book, by_name, labels)
        if answer:
            found[place.ask.key] = answer
        else:
            lost.append(place)
    return found, tuple(lost)


def find_note(book: WorkbookCells, sheet: Sheet, answers: Iterable[Found]) -> Found | None:
    """The cell for a note to the teacher; None in a book that has none, or where an answer stands in its row."""
    places = answer_places(sheet)
    labels = {NOTE_LABEL, *(place.ask.label for place in places)}
    home = _at_home(front_page(book), NOTE_LABEL, note_row(places), "")
    note = home or _by_label(book, NOTE_LABEL, "") or _by_name(book, (NOTE_NAME, ""), labels)
    taken = {(answer.page, answer.row) for answer in answers}
    return note if note and (note.page, note.row) not in taken else None


def _at_home(front: PageCells | None, label: str, row: int, unit: str) -> Found | None:
    if front is None or _label(front.at(f"{LABELS}{row}")) != label:
        return None
    return _found(front, f"{ANSWER}{row}", unit)


def _by_label(book: WorkbookCells, label: str, unit: str) -> Found | None:
    """In the one row that begins with the label; `unit` is the column of its unit, empty where it has none."""
    rows = [
        (page, row, shift)
        for page in book.pages
        for row, cells in enumerate(page.rows, 1)
        for shift, cell in enumerate(cells[:COLUMNS])
        if _label(cell) == label
    ]
    if len(rows) != 1:
        return None
    page, row, shift = rows[0]
    return _found(page, f"{_shifted(ANSWER, shift)}{row}", f"{_shifted(unit, shift)}{row}" if unit else "")


def _by_name(book: WorkbookCells, names: tuple[str, str], labels: Collection[str]) -> Found | None:
    """Where the defined names of an answer and of its unit (or ``) point, unless that row has the label of another."""
    page_name, cell = book.names.get(names[0], ("", ""))
    page = book.page(page_name)
    if page is None or _label(page.at(LABELS + cell.lstrip(LETTERS))) in labels:
        return None
    unit_page, unit_cell = book.names.get(names[1], ("", ""))
    return _found(page, cell, unit_cell if names[1] and unit_page == page_name else "")


def _shifted(letters: str, by: int) -> str:
    return column_letters(ord(letters) - ord("A") + 1 + by)


def _label(cell: Cell) -> str:
    return " ".join(cell.text.split())


def _found(page: PageCells, answer: str, unit: str) -> Found:
    letters = answer.rstrip("0123456789")
    row, column = int(answer[len(letters) :]), column_number(letters)
    return Found(page.name, row, column, page.at(answer), page.at(unit) if unit else EMPTY)


def entry_of(found: Found) -> Entry:
    """The entry as received: what the answer cell holds and, behind a blank, what the unit cell holds."""
    texts = [cell.text for cell in (found.answer, found.unit) if cell.text.strip()]
    notes = [cell.note for cell in (found.answer, found.unit) if cell.note]
    spoiled = found.answer.spoiled or found.unit.spoiled
    return Entry(" ".join(texts) or found.answer.text, found.where, "; ".join(dict.fromkeys(notes)), spoiled)


def typed_outside(book: WorkbookCells, found: Iterable[Found]) -> Iterator[tuple[str, str]]:
    """Page and cell (`Answers!G3`), and text, of what stands below or right of the answers, or on pages without any."""
    ends: dict[str, tuple[int, int]] = {}
    for answer in found:
        row, column = ends.get(answer.page, (0, 0))
        ends[answer.page] = max(row, answer.row), max(column, answer.column + BEHIND)
    for page in book.pages:
        last_row, last_column = ends.get(page.name, (0, 0))
        for row, cells in enumerate(() if page.name == HIDDEN_PAGE else page.rows, 1):
            for column, cell in enumerate(cells, 1):
                if cell.text.strip() and (row > last_row or column > last_column):
                    yield f"{page.name}!{column_letters(column)}{row}", cell.text


def typed_between(
    book: WorkbookCells, found: Iterable[Found], lost: Iterable[AnswerPlace]
) -> Iterator[tuple[str, str]]:
    """The same of what stands among the answers in rows that are nobody's: put in by hand, or moved there.

    What the book itself has there is passed over: titles of questions, and all but the answer of a row that lost its
    label (`lost`).
    """
    rows: dict[str, set[int]] = {}
    for answer in found:
        rows.setdefault(answer.page, set()).add(answer.row)
    unlabelled = {place.row for place in lost}
    for page in book.pages:
        answered = rows.get(page.name, set())
        for number in range(HEADING_ROW + 1, max(answered, default=0)):
            cells = () if number in answered else page.rows[number - 1]
            filled = [(column, cell.text) for column, cell in enumerate(cells, 1) if cell.text.strip()]
            if number in unlabelled:
                filled = [(column, text) for column, text in filled if column_letters(column) in (ANSWER, UNIT)]
            elif filled and TITLE_TEXT.match(filled[0][1]):
                filled = filled[1:]
            yield from ((f"{page.name}!{column_letters(column)}{number}", text) for column, text in filled)
