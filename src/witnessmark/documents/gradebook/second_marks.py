"""The table for a second teacher: a sample of answers without anybody's marks, and a place for the second's own."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.documents.page.wordings import marks_text
from witnessmark.documents.sheet.answer_book import what_is_asked
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in
from witnessmark.documents.workbook.writer import Book, Look
from witnessmark.questions.sheet.task import Ask, Sheet

SHEET, PART, ASKED, TYPED, OUT_OF, MARKS = "sheet code", "part", "what is asked", "typed", "out of", "marks"
HEADINGS = (SHEET, PART, ASKED, TYPED, OUT_OF, MARKS)
WIDTHS = {"A": 13.0, "B": 8.0, "C": 62.0, "D": 26.0, "E": 8.0, "F": 10.0}
HEADING = Look(bold=True, colour="FFFFFF", fill="2F4F4F")
PLAIN = Look()
OPEN = Look(fill="FFF9E0", border="7F7F7F", is_open=True)


@dataclass(frozen=True, slots=True)
class ToMark:
    """One answer for the second teacher: whose sheet, which answer, what was typed, the marks available."""

    sheet: Sheet
    ask: Ask
    typed: str
    out_of: Decimal


def second_marks(title: str, sample: Sequence[ToMark]) -> bytes:
    """The table as xlsx; it holds no name and nobody's marks."""
    book = Book(f"{title}: second marks", title)
    page = book.page("Second marks")
    page.write_row(1, {column: (text, HEADING) for column, text in zip(WIDTHS, HEADINGS, strict=True)})
    for row, one in enumerate(sample, 2):
        asked = what_is_asked(one.ask, one.sheet.variants[one.ask.number - 1])
        texts = (one.sheet.code, one.ask.label, asked, one.typed, marks_text(one.out_of), "")
        looks = (PLAIN, PLAIN, PLAIN, PLAIN, PLAIN, OPEN)
        page.write_row(row, {c: (t, look) for c, t, look in zip(WIDTHS, texts, looks, strict=True)})
        page.height(row, LINE_HEIGHT * max(lines_in(asked, WIDTHS["C"]), lines_in(one.typed, WIDTHS["D"])) + 4)
    page.widths(WIDTHS)
    page.freeze("A2")
    page.lock()
    page.print_on_a4("1:1", f"{title}: second marks", landscape=True)
    return book.data()
