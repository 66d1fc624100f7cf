"""One returned answer book: whose sheet it says it is, and where each answer stands, also after rows moved."""

from collections.abc import Iterator
from dataclasses import dataclass

from witnessmark.files.cell_texts import EMPTY, Cell
from witnessmark.files.workbook_archive import column_letters
from witnessmark.files.workbook_cells import PageCells, WorkbookCells
from witnessmark.questions.answer_places import (
    ANSWER,
    CODE_CELL,
    CODE_PROPERTY,
    FIRST_ROW,
    HIDDEN_CODE_CELL,
    HIDDEN_PAGE,
    HIDDEN_TASK_CELL,
    PAGE,
    UNIT,
    AnswerPlace,
    answer_places,
)
from witnessmark.questions.sheet_codes import repaired_code
from witnessmark.questions.task import Entry, Sheet

COLUMNS = 5  # of an answer book; whatever stands beyond was typed by somebody


@dataclass(frozen=True, slots=True)
class CodeSeen:
    """A text that stands where a sheet code belongs: the cell (or what else), the text, the code it is (or None)."""

    where: str
    text: str
    code: str | None


@dataclass(frozen=True, slots=True)
class Found:
    """Where an answer was found: the cell with its page (`Answers!C8`), what it holds, what its unit cell holds."""

    where: str
    answer: Cell
    unit: Cell


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

    A place is where it always was when its label stands in its row; else where its defined name points; else in the
    one row that begins with its label, on any page.
    """
    found: dict[str, Found] = {}
    lost: list[AnswerPlace] = []
    front = front_page(book)
    for place in answer_places(sheet):
        answer = _at_home(front, place) or _by_name(book, place) or _by_label(book, place)
        if answer:
            found[place.ask.key] = answer
        else:
            lost.append(place)
    return found, tuple(lost)


def _at_home(front: PageCells | None, place: AnswerPlace) -> Found | None:
    if front is None or not _is_label(front.at(place.label), place):
        return None
    return _found(front, place.answer, f"{UNIT}{place.row}")


def _by_name(book: WorkbookCells, place: AnswerPlace) -> Found | None:
    page_name, cell = book.names.get(place.name, ("", ""))
    page = book.page(page_name)
    if page is None:
        return None
    unit_page, unit_cell = book.names.get(place.unit_name, ("", ""))
    return _found(page, cell, unit_cell if place.unit and unit_page == page_name else "")


def _by_label(book: WorkbookCells, place: AnswerPlace) -> Found | None:
    rows = [
        (page, row, column)
        for page in book.pages
        for row, cells in enumerate(page.rows, 1)
        for column, cell in enumerate(cells[:COLUMNS], 1)
        if _is_label(cell, place)
    ]
    if len(rows) != 1:
        return None
    page, row, column = rows[0]
    shift = column - 1
    return _found(page, f"{_shifted(ANSWER, shift)}{row}", f"{_shifted(UNIT, shift)}{row}")


def _shifted(letters: str, by: int) -> str:
    return column_letters(ord(letters) - ord("A") + 1 + by)


def _is_label(cell: Cell, place: AnswerPlace) -> bool:
    return " ".join(cell.text.split()) == place.ask.label


def _found(page: PageCells, answer: str, unit: str) -> Found:
    return Found(f"{page.name}!{answer}", page.at(answer), page.at(unit) if unit else EMPTY)


def entry_of(found: Found) -> Entry:
    """The entry as received: what the answer cell holds and, behind a blank, what the unit cell holds."""
    texts = [cell.text for cell in (found.answer, found.unit) if cell.text.strip()]
    notes = [cell.note for cell in (found.answer, found.unit) if cell.note]
    spoiled = found.answer.spoiled or found.unit.spoiled
    return Entry(" ".join(texts) or found.answer.text, found.where, "; ".join(dict.fromkeys(notes)), spoiled)


def typed_outside(book: WorkbookCells, sheet: Sheet) -> Iterator[tuple[str, str]]:
    """Page and cell (`Answers!G3`), and text, of what stands beyond the columns or below the rows of the book."""
    last = max((place.row for place in answer_places(sheet)), default=FIRST_ROW)
    front = front_page(book)
    for page in book.pages:
        if page.name == HIDDEN_PAGE:
            continue
        for row, cells in enumerate(page.rows, 1):
            outside = cells if page is not front or row > last else ((EMPTY,) * COLUMNS + cells[COLUMNS:])
            for column, cell in enumerate(outside, 1):
                if cell.text.strip():
                    yield f"{page.name}!{column_letters(column)}{row}", cell.text
