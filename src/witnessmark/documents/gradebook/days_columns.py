"""The days of each sheet beside its marks: due, received, days late, what that takes off, and the marks that count.

Days late, what is taken off and what counts are formulas, so that a day changed here shows its consequence at once.
"""

from collections.abc import Sequence
from datetime import date

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData, StudentRow
from witnessmark.documents.gradebook.writer import GradePage, cell
from witnessmark.marking.standing import AttemptStanding
from witnessmark.questions.sheet.lateness import DAYS_OF_A_WEEK, Each, Late

HEADINGS = ("due", "received", "days late", "taken off", "counts")
DAYS_WIDTHS = (12, 12, 8, 9, 9)
DAY_ONE = date(1899, 12, 30)
"""Day 0 of spreadsheets (ECMA-376 part 1, 18.17.4.1, the 1900 date system, for days after February 1900)."""
BEFORE = 5  # columns from the total to the last before the days


def write_days(page: GradePage, data: GradebookData, above: Sequence[int], first: int, total: int) -> None:
    """Write the five columns; `above` are the rows of headings, means and marks available, `total` the column of the
    marks earned."""
    headings, *others = above
    start = total + BEFORE
    for column, text in enumerate(HEADINGS, start):
        page.text(headings, column, text, looks.HEADING_CENTRED)
        for row in others:
            page.text(row, column, "", looks.ABOVE)
    for row, student in enumerate(data.students, first):
        if student.days is not None:
            _row(page, row, start, student, student.days, data)


def _row(
    page: GradePage, row: int, start: int, student: StudentRow, days: AttemptStanding, data: GradebookData
) -> None:
    earned = cell(row, start - BEFORE)
    due, received, late, off = (cell(row, column) for column in range(start, start + 4))
    look = looks.LATE if days.off else looks.NUMBER
    page.number(row, start, serial(days.due), looks.DAY)
    page.number(row, start + 1, serial(days.received) if student.returned else None, looks.DAY)
    page.formula(row, start + 2, f'=IF(OR({due}="",{received}=""),0,MAX(0,{received}-{due}))', days.days_late, look)
    taken_off = taken_off_formula(data.late, earned, late, data.half_marks)
    page.formula(row, start + 3, f'=IF({earned}="",0,{taken_off})', float(days.off), look)
    counts = "" if days.counts is None else float(days.counts)
    page.formula(row, start + 4, f'=IF({earned}="","",{earned}-{off})', counts, looks.TOTAL)


def serial(day: date | None) -> float | None:
    """A day as spreadsheets count it."""
    return None if day is None else float((day - DAY_ONE).days)


def taken_off_formula(late: Late, earned: str, days: str, half_marks: bool) -> str:
    """What a rule takes off, in addresses of the marks earned and of the days late."""
    if not late.takes_off:
        return "0"
    times = {
        Each.ONCE: f"IF({days}>0,1,0)", Each.DAY: days, Each.WEEK: f"ROUNDUP({days}/{DAYS_OF_A_WEEK},0)",
    }[late.each]  # fmt: skip
    amount = f"{late.amount}*{times}"
    most = f"MIN({late.most},{amount})" if late.most is not None else amount
    if not late.share:
        return f"MIN({earned},{most})"
    steps = 2 if half_marks else 1
    return f"ROUNDDOWN(ROUND(MIN(1,{most})*{earned}*{steps},6),0)/{steps}"
