"""The mark book of a class as a workbook: shares of all tasks with their weighted mean, marks, every attempt, a chart.

Each mark is a formula of the attempts that it rests on, each share and mean one of the marks.
"""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.days_columns import serial, taken_off_formula
from witnessmark.documents.gradebook.mark_book_data import MarkBookData, StudentOfYear
from witnessmark.documents.gradebook.writer import Bars, GradeBook, GradePage, area, cell
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in
from witnessmark.marking.standing import AttemptStanding, TaskStanding
from witnessmark.questions.sheet.task import Task, Which

BOOK, MARKS, ATTEMPTS = "Mark book", "Marks", "Attempts"
WHO = ("student", "name", "group")
WHO_WIDTHS = (11, 24, 20)
TASKS = len(WHO)
TITLE, NOTE_ROW, WEIGHT, OUT_OF, MEAN, HEADINGS, FIRST = range(7)
TASK_WIDTH = 13
NOTE = (
    "Shares of the marks of each task, after what lateness took off. What is absent, exempt or not due yet stays out "
    "of the weighted mean; what did not come back by its day counts as nothing"
)
LEFT_OUT = "Follow-ups are left out: each student has other questions in them, and most have none."
ATTEMPT_HEADINGS = (
    "student", "task", "attempt", "sheet code", "due", "received", "days late", "earned", "taken off", "counts",
    "to mark", "state",
)  # fmt: skip
DUE, RECEIVED, LATE, EARNED, OFF, COUNTS = range(4, 10)


def mark_book(data: MarkBookData, made: datetime) -> bytes:
    """The mark book as xlsx; the same bytes for the same data and time. Formulas carry their results."""
    with GradeBook(f"{data.class_title}: mark book", made) as book:
        shares, marks, attempts = book.page(BOOK), book.page(MARKS), book.page(ATTEMPTS)
        rows = _attempts(attempts, data)
        _marks(marks, data, rows)
        _shares(shares, data)
    return book.data


def _rows_of(data: MarkBookData) -> tuple[int, int]:
    return FIRST, max(FIRST, FIRST + len(data.students) - 1)


def _attempts(page: GradePage, data: MarkBookData) -> dict[str, int]:
    """Every sheet of every student; its row by sheet code."""
    page.row_of_texts(0, ATTEMPT_HEADINGS, looks.HEADING)
    rows: dict[str, int] = {}
    for student in data.students:
        for of_year, standing in zip(data.tasks, student.standings, strict=True):
            for attempt in standing.attempts:
                rows[attempt.sheet] = len(rows) + 1
                _attempt(page, rows[attempt.sheet], student, of_year.task, standing, attempt)
    page.widths((11, 18, 9, 13, 12, 12, 8, 9, 9, 9, 9, 14))
    page.freeze(1, 0)
    page.filter(0, 0, max(len(rows), 1), len(ATTEMPT_HEADINGS) - 1)
    page.print_wide(0, 0, f"{data.class_title}: attempts, holds names and marks")
    return rows


def _attempt(
    page: GradePage, row: int, student: StudentOfYear, task: Task, standing: TaskStanding, attempt: AttemptStanding
) -> None:
    texts = {0: student.student.code, 1: task.key, 3: attempt.sheet, 11: standing.state.value}
    for column, text in texts.items():
        page.text(row, column, text, looks.PLAIN)
    page.number(row, 2, Decimal(attempt.attempt), looks.NUMBER)
    page.number(row, DUE, serial(attempt.due), looks.DAY)
    page.number(row, RECEIVED, serial(attempt.received) if attempt.earned is not None else None, looks.DAY)
    due, received, late, earned, off = (cell(row, column) for column in range(DUE, COUNTS))
    look = looks.LATE if attempt.off else looks.NUMBER
    days = f'=IF(OR({due}="",{received}=""),0,MAX(0,{received}-{due}))'
    page.formula(row, LATE, days, attempt.days_late, look)
    page.number(row, EARNED, attempt.earned, looks.NUMBER)
    taken_off = taken_off_formula(task.late, earned, late, task.rules.half_marks)
    page.formula(row, OFF, f'=IF({earned}="",0,{taken_off})', float(attempt.off), look)
    page.formula(row, COUNTS, f'=IF({earned}="","",{earned}-{off})', _or_empty(attempt.counts), looks.NUMBER)
    page.number(row, COUNTS + 1, Decimal(attempt.waiting) if attempt.waiting else None, looks.NUMBER)


def _marks(page: GradePage, data: MarkBookData, rows: dict[str, int]) -> None:
    """The marks that count of every task; what stays out is empty."""
    _head(page, data, "marks that count, after what lateness took off; an empty cell stays out of the mean")
    first, last = _rows_of(data)
    for column, of_year in enumerate(data.tasks, TASKS):
        page.number(WEIGHT, column, of_year.task.weight, looks.ABOVE_NUMBER)
        page.number(OUT_OF, column, of_year.out_of, looks.ABOVE_NUMBER)
        found = [float(m) for s in data.students if (m := s.standings[column - TASKS].marks) is not None]
        mean = sum(found) / len(found) if found else ""
        page.formula(MEAN, column, f'=IFERROR(AVERAGE({area(first, column, last, column)}),"")', mean, looks.ABOVE_MEAN)
    for row, student in enumerate(data.students, FIRST):
        _who(page, row, student)
        for column, standing in enumerate(student.standings, TASKS):
            formula = _counted_formula(data.tasks[column - TASKS].task.attempts, standing, rows)
            if standing.marks is None:
                page.number(row, column, None, looks.NUMBER)
            elif formula:
                page.formula(row, column, formula, float(standing.marks), looks.NUMBER)
            else:
                page.number(row, column, standing.marks, looks.NUMBER)
    _finish(page, data, len(data.tasks), f"{data.class_title}: marks, holds names")


def _counted_formula(which: Which, standing: TaskStanding, rows: dict[str, int]) -> str:
    """The marks of a task in the cells of its attempts; empty where nothing came back."""
    came = [f"{ATTEMPTS}!{cell(rows[a.sheet], COUNTS)}" for a in standing.attempts if a.earned is not None]
    if not came:
        return ""
    if which is Which.LAST or len(came) == 1:
        return f"={came[-1]}"
    return f"={'MAX' if which is Which.BEST else 'AVERAGE'}({','.join(came)})"


def _shares(page: GradePage, data: MarkBookData) -> None:
    """The page that is read: shares, the weighted mean, the means of the class, and a chart of them."""
    left_out = f" {LEFT_OUT}" if data.left_out else ""
    _head(page, data, f"{NOTE}; as on {data.today.isoformat()}.{left_out}")
    first, last = _rows_of(data)
    mean_column = TASKS + len(data.tasks)
    for n, of_year in enumerate(data.tasks):
        column = TASKS + n
        for row, value in ((WEIGHT, of_year.task.weight), (OUT_OF, of_year.out_of)):
            page.formula(row, column, f"={MARKS}!{cell(row, column)}", float(value), looks.ABOVE_NUMBER)
        _mean(page, column, (first, last), data.mean_of_task(n))
    for row in (WEIGHT, OUT_OF):
        page.text(row, mean_column, "", looks.ABOVE)
    page.text(HEADINGS, mean_column, "weighted mean", looks.HEADING_CENTRED)
    means = [m for s in data.students if (m := data.mean(s)) is not None]
    _mean(page, mean_column, (first, last), sum(means, Decimal(0)) / len(means) if means else None)
    for row, student in enumerate(data.students, FIRST):
        _who(page, row, student)
        for n, standing in enumerate(student.standings):
            _share(page, row, TASKS + n, standing, data.share(student, n))
        page.formula(row, mean_column, _weighted(row, len(data.tasks)), _or_empty(data.mean(student)), looks.MEAN)
    _finish(page, data, len(data.tasks) + 1, f"{data.class_title}: mark book, holds names and marks")
    _chart(page, data, last)


def _share(page: GradePage, row: int, column: int, standing: TaskStanding, share: Decimal | None) -> None:
    mark, out_of = f"{MARKS}!{cell(row, column)}", f"{MARKS}!{cell(OUT_OF, column, fixed_row=True)}"
    out = standing.state.value if standing.marks is None else ""
    look = looks.STAYS_OUT if share is None else looks.SHARE
    shown = out if share is None else float(share)
    page.formula(row, column, f'=IF(AND(ISNUMBER({mark}),{out_of}>0),{mark}/{out_of},"{out}")', shown, look)


def _weighted(row: int, tasks: int) -> str:
    """The weighted mean of the shares of a row: numbers alone count, in the numerator and among the weights."""
    if not tasks:
        return '=""'
    shares = f"{cell(row, TASKS, fixed_column=True)}:{cell(row, TASKS + tasks - 1, fixed_column=True)}"
    weights = area(WEIGHT, TASKS, WEIGHT, TASKS + tasks - 1)
    total = f"SUMPRODUCT(ISNUMBER({shares})*{weights})"
    return f'=IF({total}=0,"",SUMPRODUCT({weights},{shares})/{total})'


def _mean(page: GradePage, column: int, rows: tuple[int, int], mean: Decimal | None) -> None:
    formula = f'=IFERROR(AVERAGE({area(rows[0], column, rows[1], column)}),"")'
    page.formula(MEAN, column, formula, _or_empty(mean), looks.ABOVE_SHARE)


def _head(page: GradePage, data: MarkBookData, note: str) -> None:
    page.text(TITLE, 0, f"{data.class_title}: mark book", looks.TITLE)
    page.height(TITLE, 24)
    page.across(NOTE_ROW, note, (*WHO_WIDTHS, *(TASK_WIDTH for _ in range(max(3, len(data.tasks))))), looks.NOTE_ACROSS)
    for row, text in ((WEIGHT, "weight"), (OUT_OF, "out of"), (MEAN, "mean")):
        page.row_of_texts(row, (text, "", ""), looks.ABOVE)
    page.row_of_texts(HEADINGS, WHO, looks.HEADING)
    titles = [of_year.task.title for of_year in data.tasks]
    for column, title in enumerate(titles, TASKS):
        page.text(HEADINGS, column, title, looks.HEADING_CENTRED)
    page.height(HEADINGS, LINE_HEIGHT * max((lines_in(title, TASK_WIDTH) for title in titles), default=1) + 4)


def _who(page: GradePage, row: int, student: StudentOfYear) -> None:
    for column, text in enumerate((student.student.code, student.student.name, student.student.group)):
        page.text(row, column, text, looks.WRAPPED)
    who = (student.student.name, student.student.group)
    page.height(row, LINE_HEIGHT * max(map(lines_in, who, WHO_WIDTHS[1:])))


def _finish(page: GradePage, data: MarkBookData, columns: int, footer: str) -> None:
    page.widths((*WHO_WIDTHS, *(TASK_WIDTH for _ in range(columns))))
    page.freeze(FIRST, 2)
    page.filter(HEADINGS, 0, _rows_of(data)[1], TASKS + columns - 1)
    page.print_rules()
    page.print_wide(HEADINGS, HEADINGS, footer)


def _chart(page: GradePage, data: MarkBookData, last: int) -> None:
    means: Sequence[Decimal | None] = [data.mean_of_task(n) for n in range(len(data.tasks))]
    known = {of_year.task.title: m for of_year, m in zip(data.tasks, means, strict=True) if m is not None}
    if not known:
        return
    lowest = min(known, key=lambda title: known[title])
    words = f"Bar chart of the mean share of {len(known)} tasks. Lowest: {lowest}, {known[lowest]:.0%}."
    columns = (TASKS, TASKS + len(data.tasks) - 1)
    names, values = (HEADINGS, columns[0], HEADINGS, columns[1]), (MEAN, columns[0], MEAN, columns[1])
    bars = Bars("Mean of the class in each task", "share of marks", names, values, words, share=True)
    page.bars(last + 2, 0, bars, (max(480, 90 * len(data.tasks) + 160), 300), page)


def _or_empty(value: Decimal | None) -> float | str:
    return "" if value is None else float(value)
