"""Every answer: as it was typed, what it was read as, the mark and its reason."""

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData, PartRow
from witnessmark.documents.gradebook.writer import GradePage, Look, cell, filled
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in

HEADINGS = (
    "student", "sheet code", "part", "typed", "read as", "verdict", "marks", "out of", "machine's mark", "because",
    "what the student believes", "sure", "waits because", "notes",
    "counted",
)  # fmt: skip
WIDTHS = (10, 12, 10, 17, 14, 14, 8, 8, 10, 54, 34, 8, 28, 28, 9)
MOST_LINES = 12
STUDENT, PART, MARKS, OUT_OF, MACHINE, COUNTED = 0, 2, 6, 7, 8, 14
YES, NO = "yes", "not yet"
FIRST = 1


def write_answers(page: GradePage, data: GradebookData) -> None:
    """Write the page of answers; marks that a teacher changed stand out."""
    page.row_of_texts(0, HEADINGS, looks.HEADING)
    page.height(0, 32)
    for row, part in enumerate(data.parts, FIRST):
        _part(page, row, part)
    last = max(FIRST, len(data.parts))
    page.widths(WIDTHS)
    page.keep_as_text(FIRST, 3, last, 4)
    page.freeze(FIRST, PART + 1)
    page.filter(0, 0, last, len(HEADINGS) - 1)
    changed = f"{cell(FIRST, MARKS, fixed_column=True)}<>{cell(FIRST, MACHINE, fixed_column=True)}"
    page.stress((FIRST, MARKS, last, MARKS), f"={changed}", looks.MODERATED)
    page.print_wide(0, 0, f"{data.task_title}: answers")


def _part(page: GradePage, row: int, part: PartRow) -> None:
    texts = (part.student, part.sheet_code, part.label)
    for column, text in enumerate(texts):
        page.text(row, column, text, looks.PLAIN)
    typed, wrapped = _waiting(looks.TYPED, part), _waiting(looks.WRAPPED, part)
    page.text(row, 3, part.raw, typed)
    page.text(row, 4, part.read_as, typed)
    page.text(row, 5, part.verdict, wrapped)
    page.number(row, MARKS, part.marks, looks.NUMBER)
    page.number(row, OUT_OF, part.out_of, looks.NUMBER)
    page.number(row, MACHINE, part.machine_marks, looks.NUMBER)
    page.text(row, 9, part.because, looks.WRAPPED)
    page.text(row, 10, part.misconceptions, looks.WRAPPED)
    page.number(row, 11, part.sure, looks.SHARE)
    page.text(row, 12, part.in_tray, wrapped)
    page.text(row, 13, part.notes, looks.WRAPPED)
    page.text(row, COUNTED, YES if part.is_marked else NO, looks.PLAIN)
    long = {3: part.raw, 4: part.read_as, 5: part.verdict, 9: part.because, 10: part.misconceptions}
    long |= {12: part.in_tray, 13: part.notes}
    lines = max(lines_in(text, WIDTHS[column]) for column, text in long.items())
    page.height(row, LINE_HEIGHT * min(lines, MOST_LINES))


def _waiting(look: Look, part: PartRow) -> Look:
    return filled(look, looks.WAITING) if part.in_tray else look
