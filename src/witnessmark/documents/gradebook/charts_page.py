"""Charts of the class: how hard each answer was, and which misconceptions recur; with the numbers beside them."""

from witnessmark.documents.gradebook import answers_page, looks, misconceptions_page
from witnessmark.documents.gradebook.data import COUNTED, GradebookData
from witnessmark.documents.gradebook.writer import Bars, GradePage, area, cell

FIRST = 3
CHART_COLUMN = 5
WIDTH, WIDE, FACILITY_HEIGHT = 760, 980, 320
MOST_BARS = 15
NONE_YET = "none marked yet"


def write_charts(page: GradePage, data: GradebookData, misconceptions: GradePage) -> None:
    """Write the table of facilities and both charts."""
    page.text(0, 0, "How hard each answer was", looks.TITLE)
    page.height(0, 24)
    page.text(
        1, 0, "facility: marks earned as a share of the marks available, over all who returned a sheet; answers that "
        "wait for your mark are left out", looks.NOTE,
    )  # fmt: skip
    page.row_of_texts(FIRST - 1, ("part", "facility", "marked", "left out"), looks.HEADING)
    for row, part in enumerate(data.facilities, FIRST):
        page.text(row, 0, part.label, looks.PLAIN)
        share = NONE_YET if part.facility is None else part.facility
        page.formula(row, 1, _facility(row, len(data.parts)), share, looks.SHARE)
        page.number(row, 2, part.answers, looks.NUMBER)
        page.number(row, 3, part.waiting or None, looks.NUMBER)
    page.widths((14, 16, 10, 10, 3))
    _facility_chart(page, data)
    _recurrence_chart(page, data, misconceptions)
    page.print_wide(FIRST - 1, FIRST - 1, f"{data.task_title}: charts")


def _facility(row: int, parts: int) -> str:
    """Marks earned over marks available in all rows of the page of answers that have this label and count."""
    first, last = answers_page.FIRST, answers_page.FIRST + parts - 1

    def column(n: int) -> str:
        return f"Answers!{area(first, n, last, n)}"

    wanted = f'{column(answers_page.PART)},{cell(row, 0)},{column(answers_page.COUNTED)},"{COUNTED}"'
    earned = f"SUMIFS({column(answers_page.MARKS)},{wanted})"
    available = f"SUMIFS({column(answers_page.OUT_OF)},{wanted})"
    return f'=IFERROR({earned}/{available},"{NONE_YET}")'


def _facility_chart(page: GradePage, data: GradebookData) -> None:
    shares = {part.label: part.facility for part in data.facilities if part.facility is not None}
    if not shares:
        return
    last = FIRST + len(shares) - 1
    hardest = min(shares, key=lambda label: shares[label])
    words = (
        f"Bar chart of the facility of {len(shares)} answers. Hardest: {hardest}, "
        f"{shares[hardest]:.0%}. The table beside it holds every value."
    )
    bars = Bars(
        "Facility of each answer", "share of marks", (FIRST, 0, last, 0), (FIRST, 1, last, 1), words, share=True
    )
    page.bars(FIRST - 1, CHART_COLUMN, bars, (WIDTH, FACILITY_HEIGHT), page)


def _recurrence_chart(page: GradePage, data: GradebookData, misconceptions: GradePage) -> None:
    shown = data.misconceptions[:MOST_BARS]
    if not shown:
        return
    first = misconceptions_page.FIRST
    last = first + len(shown) - 1
    names, values = misconceptions_page.BELIEVES, misconceptions_page.STUDENTS
    most = shown[0]
    words = (
        f'Bar chart of the {len(shown)} misconceptions that most students show. Most often: "{most.words}" '
        f"({most.students} students). The page Misconceptions holds every value."
    )
    bars = Bars(
        "How many students believe what", "students", (first, names, last, names), (first, values, last, values),
        words, lying=True,
    )  # fmt: skip
    size = (WIDE, 120 + 34 * len(shown))
    page.bars(FIRST + FACILITY_HEIGHT // 20 + 1, CHART_COLUMN, bars, size, misconceptions)
