"""Every answer: as it was typed, what it was read as, the mark and its reason, and room for the teacher's own.

What a teacher reads on paper stands first and is printed; the rest is for the screen and for reading the page back.
"""

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData, PartRow
from witnessmark.documents.gradebook.own_cells import heading_look, written_mark
from witnessmark.documents.gradebook.writer import GradePage, Look, cell, filled
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in
from witnessmark.questions.sheet import gradebook_columns as columns

HEADINGS = (
    columns.STUDENT, columns.PART, "typed", "read as", "verdict", columns.MARKS, columns.OUT_OF, columns.MARK,
    columns.REASON, columns.SAY, "because", "waits because", columns.SHEET, "machine's mark",
    "what the student believes", "sure", "notes", "counted", columns.WRITTEN,
)  # fmt: skip
WIDTHS = (9, 9, 15, 13, 12, 7, 7, 7, 22, 22, 42, 22, 12, 10, 34, 8, 28, 9, 10)
MOST_LINES = 12
STUDENT, PART, TYPED, READ_AS, VERDICT, MARKS, OUT_OF, MARK, REASON, SAY, BECAUSE, WAITS = range(12)
SHEET, MACHINE, BELIEVES, SURE, NOTES, COUNTED, WRITTEN = range(WAITS + 1, len(HEADINGS))
FIRST = 1


def write_answers(page: GradePage, data: GradebookData) -> None:
    """Write the page of answers; marks that a teacher changed stand out."""
    for column, heading in enumerate(HEADINGS):
        page.text(0, column, heading, heading_look(heading))
    page.height(0, 32)
    for row, part in enumerate(data.parts, FIRST):
        _part(page, row, part)
    last = max(FIRST, len(data.parts))
    page.widths(WIDTHS)
    page.hide(WRITTEN)
    page.keep_as_text(FIRST, TYPED, last, READ_AS)
    page.freeze(FIRST, PART + 1)
    page.filter(0, 0, last, len(HEADINGS) - 1)
    changed = f"{cell(FIRST, MARKS, fixed_column=True)}<>{cell(FIRST, MACHINE, fixed_column=True)}"
    page.stress((FIRST, MARKS, last, MARKS), f"={changed}", looks.MODERATED)
    page.print_wide(0, 0, f"{data.task_title}: answers")
    page.print_only(last, WAITS)
    page.narrow_margins()
    page.print_rules()


def _part(page: GradePage, row: int, part: PartRow) -> None:
    typed, wrapped = _waiting(looks.TYPED, part), _waiting(looks.WRAPPED, part)
    page.text(row, STUDENT, part.student, looks.PLAIN)
    page.text(row, PART, part.label, looks.PLAIN)
    page.text(row, TYPED, part.raw, typed)
    page.text(row, READ_AS, part.read_as, typed)
    page.text(row, VERDICT, part.verdict, wrapped)
    page.number(row, MARKS, part.marks, looks.NUMBER)
    page.number(row, OUT_OF, part.out_of, looks.NUMBER)
    _own(page, row, part)
    page.text(row, BECAUSE, part.because, looks.WRAPPED)
    page.text(row, WAITS, part.in_tray, wrapped)
    page.text(row, SHEET, part.sheet_code, looks.PLAIN)
    page.number(row, MACHINE, part.machine_marks, looks.NUMBER)
    page.text(row, BELIEVES, part.misconceptions, looks.WRAPPED)
    page.number(row, SURE, part.sure, looks.SHARE)
    page.text(row, NOTES, part.notes, looks.WRAPPED)
    page.text(row, COUNTED, part.counted, looks.PLAIN)
    page.height(row, LINE_HEIGHT * min(_lines(part), MOST_LINES))


def _own(page: GradePage, row: int, part: PartRow) -> None:
    """The teacher's mark, reason and words where there are some; a part with criteria has a page for them."""
    mine = None if part.criteria else part.moderation
    if part.criteria:
        page.text(row, MARK, columns.elsewhere(part.label), looks.QUIET)
    else:
        page.number(row, MARK, mine.marks if mine else None, looks.OWN_MARK)
    page.text(row, REASON, mine.why if mine else "", looks.OWN_WORDS)
    page.text(row, SAY, mine.say if mine else "", looks.OWN_WORDS)
    first = columns.elsewhere(part.label) if part.criteria else ""
    page.text(row, WRITTEN, written_mark(part, mine, first), looks.QUIET)


def _lines(part: PartRow) -> int:
    mine = None if part.criteria else part.moderation
    long = {TYPED: part.raw, READ_AS: part.read_as, VERDICT: part.verdict, BECAUSE: part.because}
    long |= {BELIEVES: part.misconceptions, WAITS: part.in_tray, NOTES: part.notes}
    long |= {MARK: columns.elsewhere(part.label)} if part.criteria else {}
    long |= {REASON: mine.why, SAY: mine.say} if mine else {}
    return max(lines_in(text, WIDTHS[column]) for column, text in long.items())


def _waiting(look: Look, part: PartRow) -> Look:
    return filled(look, looks.WAITING) if part.in_tray else look
