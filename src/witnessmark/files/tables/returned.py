"""Whatever is named to be taken in: a folder of books, one book, an archive of books, or a class table."""

from collections.abc import Mapping
from pathlib import Path

from witnessmark.files.tables.class_tables import read_class_table
from witnessmark.files.workbooks.answer_texts import is_answer_text
from witnessmark.files.workbooks.reader import read_workbook
from witnessmark.files.workbooks.returns import ARCHIVE, READ, ReturnsRead, Told, nobody, read_book_files, read_returns
from witnessmark.questions.sheet.answer_places import HIDDEN_PAGE, PAGE
from witnessmark.questions.sheet.class_table_columns import PAGE as CLASS_TABLE
from witnessmark.questions.sheet.task import Sheet


def read_returned(path: Path, sheets: Mapping[str, Sheet], told: Told = nobody) -> ReturnsRead:
    """The returns in a folder, or in one file by what it is, with `sheets` by sheet code."""
    if path.is_dir():
        return read_returns(path, sheets, told)
    if path.suffix.lower() == ARCHIVE or is_answer_text(path) or _is_answer_book(path):
        return read_book_files([path], path.parent, sheets)
    return read_class_table(path, sheets)


def _is_answer_book(path: Path) -> bool:
    book = read_workbook(path)[0] if path.suffix.lower() in READ else None
    return book is not None and not book.page(CLASS_TABLE) and bool(book.page(HIDDEN_PAGE) or book.page(PAGE))
