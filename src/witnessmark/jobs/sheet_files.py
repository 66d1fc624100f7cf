"""The files of sheets: each as PDF, as a page of the browser, and its answer book. Made wherever a crew works."""

from collections.abc import Callable, Iterable, Sequence
from functools import cache, partial

from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.pdf import pdf_to_come
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.offline import offline_page
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.jobs.documents import WORKBOOK, Documents, file_name
from witnessmark.jobs.figures import Templates, figures_from
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.faults import attempt
from witnessmark.words.problems import Place


def sheet_files(templates: Templates, sheets: Sequence[Sheet]) -> Documents:
    """The files of some sheets of a task, with the templates of their figures."""
    made = Documents()
    add_files(made, [(file_name(sheet), sheet, partial(_page, sheet, templates)) for sheet in sheets])
    return made


def add_files(made: Documents, sheets: Iterable[tuple[str, Sheet, Callable[[], Document]]]) -> None:
    """Make the three files of each sheet, which have its name; its page is made once, and can be filled in.

    What typst makes comes last: it leaves the processor's cache empty, and all else after it would be slower.
    """
    to_print = []
    for name, sheet, page in sheets:
        once = cache(page)
        made.add(f"pages/{name}.html", partial(_to_fill_in, once, sheet), sheet.student)
        made.add(f"books/{name}{WORKBOOK}", partial(answer_book, sheet), sheet.student)
        to_print.append((name, sheet, cache(partial(_to_print, once))))
    for _, _, begun in to_print:
        attempt(begun, Place(""))  # what fails here fails again below, and is noted there
    for name, sheet, begun in to_print:
        made.add(f"sheets/{name}.pdf", partial(_printed, begun), sheet.student)


def _to_fill_in(page: Callable[[], Document], sheet: Sheet) -> bytes:
    return offline_page(page(), sheet).encode()


def _to_print(page: Callable[[], Document]) -> Callable[[], bytes]:
    return pdf_to_come(page())


def _printed(begun: Callable[[], Callable[[], bytes]]) -> bytes:
    return begun()()


def _page(sheet: Sheet, templates: Templates) -> Document:
    return sheet_document(sheet, figures_from(sheet, templates))
