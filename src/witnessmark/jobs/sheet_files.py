"""The files of sheets: each as PDF, as a page of the browser, and its answer book. Made wherever a crew works."""

from collections.abc import Callable, Sequence
from functools import cache, partial

from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.offline import offline_page
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.jobs.documents import WORKBOOK, Documents, file_name
from witnessmark.jobs.figures import Templates, figures_from
from witnessmark.questions.sheet.task import Sheet


def sheet_files(templates: Templates, sheets: Sequence[Sheet]) -> Documents:
    """The files of some sheets of a task, with the templates of their figures."""
    made = Documents()
    for sheet in sheets:
        add_files(made, file_name(sheet), sheet, partial(_page, sheet, templates))
    return made


def add_files(made: Documents, name: str, sheet: Sheet, page: Callable[[], Document]) -> None:
    """Make the three files of one sheet, which have this name; its page is made once, and can be filled in."""
    once = cache(page)
    made.add(f"sheets/{name}.pdf", lambda: pdf_of(once()), sheet.student)
    made.add(f"pages/{name}.html", lambda: offline_page(once(), sheet).encode(), sheet.student)
    made.add(f"books/{name}{WORKBOOK}", lambda: answer_book(sheet), sheet.student)


def _page(sheet: Sheet, templates: Templates) -> Document:
    return sheet_document(sheet, figures_from(sheet, templates))
