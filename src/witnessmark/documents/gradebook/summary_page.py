"""The summary: a row for each student with marks by question, total, share, and whether anything waits."""

from collections.abc import Sequence
from decimal import Decimal

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData, StudentRow
from witnessmark.documents.gradebook.days_columns import DAYS_WIDTHS, write_days
from witnessmark.documents.gradebook.writer import GradePage, area, cell, filled
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in

OUT_OF_ROW, MEAN_ROW, HEADINGS_ROW, FIRST = 2, 3, 4, 5
MARKS_WIDTH = 12
WHO = ("student", "name", "group")
WHO_WIDTHS = (11, 24, 20)
QUESTIONS = len(WHO)  # the first column of marks
NOTE = (
    "The machine's marks are proposals; yours stand. Type yours into the green columns of the next pages and read them "
    "back with witnessmark moderate CLASS FILE. The means are of the rows that the filter shows"
)
NONE_YET = "none yet"


def write_summary(page: GradePage, data: GradebookData) -> None:
    """Write the summary page."""
    total = QUESTIONS + len(data.questions)
    last = FIRST + len(data.students) - 1
    page.text(0, 0, f"{data.class_title}: {data.task_title}", looks.TITLE)
    page.height(0, 24)
    _headings(page, data, total)
    for row, student in enumerate(data.students, FIRST):
        _student(page, row, student, data)
    _means(page, data, total, last)
    widths: tuple[float, ...] = (*WHO_WIDTHS, *(MARKS_WIDTH for _ in data.questions), 9, 9, 14, 11, 11)
    last_column = total + 4
    if data.has_days:
        write_days(page, data, (HEADINGS_ROW, MEAN_ROW, OUT_OF_ROW), FIRST, total)
        widths, last_column = (*widths, *DAYS_WIDTHS), last_column + len(DAYS_WIDTHS)
    page.across(1, f"{NOTE}{_left_out(data)}.", widths, looks.NOTE_ACROSS)
    page.widths(widths)
    page.print_rules()
    page.freeze(FIRST, 2)
    page.filter(HEADINGS_ROW, 0, max(last, FIRST), last_column)
    page.print_wide(HEADINGS_ROW, HEADINGS_ROW, f"{data.task_title}: gradebook, holds names and marks")


def _left_out(data: GradebookData) -> str:
    """How many students the means leave out: their marks are not final while an answer waits for the teacher's."""
    count = sum(student.unmarked > 0 for student in data.students)
    students = "the student who has" if count == 1 else f"the {count} students who have"
    return f", without {students} answers to mark" if count else ""


def _headings(page: GradePage, data: GradebookData, total: int) -> None:
    page.row_of_texts(HEADINGS_ROW, WHO, looks.HEADING)
    page.row_of_texts(OUT_OF_ROW, ("out of", "", ""), looks.ABOVE)
    for column, question in enumerate(data.questions, QUESTIONS):
        page.text(HEADINGS_ROW, column, f"{question.number} {question.title}", looks.HEADING_CENTRED)
        page.number(OUT_OF_ROW, column, None if data.has_own_questions else question.out_of, looks.ABOVE_NUMBER)
    for column, text in enumerate(("total", "share", "state", "in-tray", "to mark"), total):
        page.text(HEADINGS_ROW, column, text, looks.HEADING_CENTRED)
    if data.has_own_questions:
        page.text(OUT_OF_ROW, total, "", looks.ABOVE_NUMBER)
    elif data.questions:
        formula = f"=SUM({_questions(OUT_OF_ROW, total)})"
        page.formula(OUT_OF_ROW, total, formula, float(data.out_of), looks.ABOVE_NUMBER)
    for column in range(total + 1, total + 5):
        page.text(OUT_OF_ROW, column, "", looks.ABOVE)
    lines = max((lines_in(f"{q.number} {q.title}", MARKS_WIDTH) for q in data.questions), default=1)
    page.height(HEADINGS_ROW, LINE_HEIGHT * lines + 4)


def _questions(row: int, total: int) -> str:
    return f"{cell(row, QUESTIONS)}:{cell(row, total - 1)}"


def _student(page: GradePage, row: int, student: StudentRow, data: GradebookData) -> None:
    total = QUESTIONS + len(data.questions)
    who = (student.code, student.name, student.group)
    for column, text in enumerate(who):
        page.text(row, column, text, looks.WRAPPED)
    page.height(row, LINE_HEIGHT * max(map(lines_in, who, WHO_WIDTHS)))
    for column, marks in enumerate(student.marks, QUESTIONS):
        page.number(row, column, marks, looks.NUMBER)
    marks_area, sum_cell = _questions(row, total), cell(row, total)
    page.formula(row, total, f'=IF(COUNT({marks_area})=0,"",SUM({marks_area}))', _or_empty(student.total), looks.TOTAL)
    own = student.own_out_of
    out_of = cell(OUT_OF_ROW, total, fixed_row=True, fixed_column=True) if own is None else f"{own.normalize():f}"
    share = _or_empty(_share(student, data))
    page.formula(row, total + 1, f'=IF(OR({sum_cell}="",{out_of}=0),"",{sum_cell}/{out_of})', share, looks.SHARE)
    look = filled(looks.NUMBER, looks.WAITING) if student.state == "waiting" else looks.NUMBER
    page.text(row, total + 2, student.state, look)
    page.number(row, total + 3, student.in_tray or None, look)
    page.number(row, total + 4, student.unmarked or None, look)


def _share(student: StudentRow, data: GradebookData) -> float | None:
    out_of = data.out_of if student.own_out_of is None else student.own_out_of
    return None if student.total is None or not out_of else float(student.total / out_of)


def _or_empty(value: Decimal | float | None) -> float | str:
    return "" if value is None else float(value)


def _means(page: GradePage, data: GradebookData, total: int, last: int) -> None:
    """Means of the rows that the filter shows, without students of whom an answer waits for the teacher's mark."""
    page.row_of_texts(MEAN_ROW, ("mean", "", ""), looks.ABOVE)
    columns: list[list[Decimal | float | None]] = [
        [s.marks[n] for s in data.students] for n in range(len(data.questions))
    ]
    columns += [[s.total for s in data.students], [_share(s, data) for s in data.students]]
    rows = (FIRST, max(last, FIRST))
    for column, found in enumerate(columns, QUESTIONS):
        marked = [v for v, s in zip(found, data.students, strict=True) if not s.unmarked]
        look = looks.ABOVE_SHARE if column == total + 1 else looks.ABOVE_MEAN
        page.formula(MEAN_ROW, column, _mean(column, total + 4, rows), _mean_of(found, marked), look)
    for column in range(total + 2, total + 5):
        page.text(MEAN_ROW, column, "", looks.ABOVE)


def _mean_of(found: Sequence[Decimal | float | None], marked: Sequence[Decimal | float | None]) -> float | str:
    values = [float(v) for v in marked if v is not None]
    if values:
        return sum(values) / len(values)
    return "" if all(v is None for v in found) else NONE_YET


def _mean(column: int, to_mark: int, rows: tuple[int, int]) -> str:
    """One row at a time goes through SUBTOTAL (109 sums, 102 counts), which leaves out rows that the filter hides."""
    first, last = rows
    here, waiting = area(first, column, last, column), area(first, to_mark, last, to_mark)
    row = f"OFFSET({cell(first, column)},ROW({here})-ROW({cell(first, column)}),0)"
    earned, count = (f"SUMPRODUCT(SUBTOTAL({n},{row}),--({waiting}=0))" for n in (109, 102))
    return f'=IF(COUNT({here})=0,"",IFERROR({earned}/{count},"{NONE_YET}"))'
