"""Charts of the class: how hard each answer was, and which misconceptions recur; with the numbers beside them."""

from witnessmark.documents.gradebook import answers_page, looks, misconceptions_page
from witnessmark.documents.gradebook.data import GradebookData
from witnessmark.documents.gradebook.writer import Bars, GradePage, area, cell

FIRST = 3
CHART_COLUMN = 4
WIDTH, WIDE, FACILITY_HEIGHT = 760, 980, 320
MOST_BARS = 15


def write_charts(page: GradePage, data: GradebookData, misconceptions: GradePage) -> None:
    """Write the table of facilities and both charts."""
    page.text(0, 0, "How hard each answer was", looks.TITLE)
    page.height(0, 24)
    page.text(
        1, 0, "facility: marks earned as a share of the marks available, over all who returned a sheet", looks.NOTE
    )
    page.row_of_texts(FIRST - 1, ("part", "facility", "answers"), looks.HEADING)
    for row, part in enumerate(data.facilities, FIRST):
        page.text(row, 0, part.label, looks.PLAIN)
        page.formula(row, 1, _facility(row, len(data.parts)), part.facility, looks.SHARE)
        page.number(row, 2, part.answers, looks.NUMBER)
    page.widths((14, 10, 10, 3))
    _facility_chart(page, data)
    _recurrence_chart(page, data, misconceptions)
    page.print_wide(FIRST - 1, FIRST - 1, f"{data.task_title}: charts")


def _facility(row: int, parts: int) -> str:
    """Marks earned over marks available in all rows of the page of answers that have this label."""
    first, last = answers_page.FIRST, answers_page.FIRST + parts - 1

    def column(n: int) -> str:
        return f"Answers!{area(first, n, last, n)}"

    label = cell(row, 0)
    earned = f"SUMIFS({column(answers_page.MARKS)},{column(answers_page.PART)},{label})"
    available = f"SUMIFS({column(answers_page.OUT_OF)},{column(answers_page.PART)},{label})"
    return f"={earned}/{available}"


def _facility_chart(page: GradePage, data: GradebookData) -> None:
    if not data.facilities:
        return
    last = FIRST + len(data.facilities) - 1
    hardest = min(data.facilities, key=lambda part: part.facility)
    words = (
        f"Bar chart of the facility of {len(data.facilities)} answers. Hardest: {hardest.label}, "
        f"{hardest.facility:.0%}. The table beside it holds every value."
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
