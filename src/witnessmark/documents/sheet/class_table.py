"""The class table of a task: a row for each student, a column for each answer, for a teacher who types them in."""

from collections.abc import Sequence

from witnessmark.documents.kinds.dispatch import manner_of
from witnessmark.documents.workbook.writer import Book, Look, column_letter
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.questions.sheet.class_table_columns import NOTE_HEADING, PAGE, UNITS_ROW, WHO, asks_of
from witnessmark.questions.sheet.task import Ask, Sheet

HEADING = Look(bold=True, colour="FFFFFF", fill="2F4F4F")
HINT = Look(italic=True, colour="595959", fill="DDE5E5")
WHO_LOOK = Look()
OPEN = Look(fill="FFF9E0", border="7F7F7F", is_open=True)
OPEN_LINE = Look(border="7F7F7F", is_open=True)
WHO_WIDTHS = (13.0, 11.0, 24.0, 18.0)
ANSWER_WIDTH = 14.0
WORDS_WIDTH = 26.0
NOTE_HINT = "what the student wrote to you"


def class_table(sheets: Sequence[Sheet]) -> bytes:
    """The empty class table of the sheets of one task, as xlsx. It holds names, so it stays with the teacher."""
    task = sheets[0].task if sheets else None
    title = task.title if task else ""
    book = Book(f"{title}: class table", title)
    page = book.page(PAGE)
    asks = asks_of(sheets)
    columns = {ask.label: column_letter(n) for n, ask in enumerate(asks, len(WHO) + 1)}
    note = column_letter(len(WHO) + len(asks) + 1)
    who = [column_letter(n) for n in range(1, len(WHO) + 1)]
    page.write_row(1, {c: (text, HEADING) for c, text in zip(who, WHO, strict=True)})
    page.write_row(1, {columns[ask.label]: (ask.label, HEADING) for ask in asks})
    page.write_row(1, {note: (NOTE_HEADING, HEADING)})
    page.write_row(2, {note: (NOTE_HINT, HINT)})
    page.write_row(2, {c: (UNITS_ROW if c == who[0] else "", HINT) for c in who})
    page.write_row(2, {columns[ask.label]: (hint_of(ask), HINT) for ask in asks})
    for row, sheet in enumerate(sheets, 3):
        told = (sheet.code, sheet.student.code, sheet.student.name, sheet.student.group)
        page.write_row(row, {c: (text, WHO_LOOK) for c, text in zip(who, told, strict=True)})
        page.write_row(row, {columns[ask.label]: ("", OPEN_LINE if ask.line else OPEN) for ask in sheet.asks})
        page.write(f"{note}{row}", "", OPEN_LINE)
    page.widths(dict(zip(who, WHO_WIDTHS, strict=True)))
    page.widths({columns[ask.label]: _width(ask) for ask in asks})
    page.widths({note: WORDS_WIDTH})
    if asks and sheets:
        page.keep_as_text(f"{columns[asks[0].label]}3", f"{note}{len(sheets) + 2}")
    page.freeze(f"{column_letter(len(WHO))}3")
    page.lock()
    page.print_on_a4("1:2", f"{title}: class table, holds names", landscape=True)
    return book.data()


def hint_of(ask: Ask) -> str:
    """What an answer is asked in: a unit, or a word such as `letter`."""
    if ask.line:
        return unit_text(ask.line.unit) or "no unit"
    return manner_of(ask.part).hint


def _width(ask: Ask) -> float:
    long = ask.line is None and manner_of(ask.part).in_words
    return WORDS_WIDTH if long else max(ANSWER_WIDTH, len(ask.label) + 4.0)
