"""Misconceptions by student: in how many answers each student shows each of them."""

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData
from witnessmark.documents.gradebook.writer import GradePage, cell
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in

BELIEVES, KEY, STUDENTS, FIRST_STUDENT = 0, 1, 2, 3
FIRST = 1
WIDTHS = (50, 28, 10)


def write_misconceptions(page: GradePage, data: GradebookData) -> None:
    """Write the matrix, the misconception that most students show first."""
    page.row_of_texts(0, ("what the student believes", "key in the bank", "students"), looks.HEADING)
    for column, student in enumerate(data.students, FIRST_STUDENT):
        page.text(0, column, student.code, looks.UPRIGHT)
    page.height(0, 60)
    last_column = max(FIRST_STUDENT, FIRST_STUDENT + len(data.students) - 1)
    for row, misconception in enumerate(data.misconceptions, FIRST):
        page.text(row, BELIEVES, misconception.words, looks.WRAPPED)
        page.text(row, KEY, misconception.key, looks.QUIET)
        lines = max(lines_in(misconception.words, WIDTHS[BELIEVES]), lines_in(misconception.key, WIDTHS[KEY]))
        page.height(row, LINE_HEIGHT * lines)
        counted = f"{cell(row, FIRST_STUDENT)}:{cell(row, last_column)}"
        page.formula(row, STUDENTS, f'=COUNTIF({counted},">0")', misconception.students, looks.TOTAL)
        for column, count in enumerate(misconception.counts, FIRST_STUDENT):
            page.number(row, column, count or None, looks.NUMBER)
    last = max(FIRST, len(data.misconceptions))
    if not data.misconceptions:
        page.text(FIRST, BELIEVES, "none was named in this task", looks.NOTE)
    page.widths((*WIDTHS, *(5.5 for _ in data.students)))
    page.freeze(FIRST, FIRST_STUDENT)
    page.filter(0, BELIEVES, last, STUDENTS)
    page.stress((FIRST, FIRST_STUDENT, last, last_column), f"={cell(FIRST, FIRST_STUDENT)}>0", looks.SHOWN)
    page.print_rules()
    page.print_wide(0, 0, f"{data.task_title}: misconceptions by student")
