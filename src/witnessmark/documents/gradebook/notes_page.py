"""What students wrote to the teacher, a row for each note: read it, answer it; it is no answer and earns nothing."""

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData
from witnessmark.documents.gradebook.writer import GradePage
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in

NOTES = "Notes"
HEADINGS = ("student", "name", "sheet code", "received", "what the student wrote to you")
WIDTHS = (11, 24, 13, 12, 80)
STUDENT, NAME, SHEET, RECEIVED, WORDS = range(len(HEADINGS))
MOST_LINES = 27  # a spreadsheet row holds no more (409 points)


def write_notes(page: GradePage, data: GradebookData) -> None:
    """Write the page of notes."""
    page.row_of_texts(0, HEADINGS, looks.HEADING)
    for row, note in enumerate(data.notes, 1):
        page.text(row, STUDENT, note.student, looks.PLAIN)
        page.text(row, NAME, note.name, looks.WRAPPED)
        page.text(row, SHEET, note.sheet_code, looks.PLAIN)
        page.text(row, RECEIVED, note.received.isoformat(), looks.PLAIN)
        page.text(row, WORDS, note.words, looks.TYPED)
        lines = max(lines_in(note.words, WIDTHS[WORDS]), lines_in(note.name, WIDTHS[NAME]))
        page.height(row, LINE_HEIGHT * min(lines, MOST_LINES))
    page.widths(WIDTHS)
    page.keep_as_text(1, WORDS, len(data.notes), WORDS)
    page.freeze(1, NAME)
    page.filter(0, STUDENT, len(data.notes), WORDS)
    page.print_wide(0, 0, f"{data.task_title}: what students wrote, holds names")
