"""The door to XlsxWriter: text, numbers, formulas with their results, and charts, as the same bytes each time.

Text is always written as text: nothing that a student typed becomes a formula, a link or a number.
"""

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from decimal import Decimal
from types import TracebackType
from typing import Any, Self

import xlsxwriter
from xlsxwriter.utility import xl_col_to_name, xl_range_abs, xl_rowcol_to_cell

from witnessmark.documents.workbook.text import CUT, LINE_HEIGHT, lines_in, writable

OPTIONS = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
BAR_COLOUR = "2F5F5F"
PAGE_OF_PAGES = "&R&P / &N"
LONGEST_FOOTER = 255  # characters; ECMA-376 part 1, 18.3.1.46, as Excel limits it


@dataclass(frozen=True, slots=True)
class Look:
    """How a cell looks; colours are RRGGBB, `numbers` a number format (`@` keeps text as text when it is edited)."""

    bold: bool = False
    italic: bool = False
    size: float = 11
    colour: str = "1A1A1A"
    fill: str = ""
    centred: bool = False
    wrapped: bool = False
    upright: bool = False
    numbers: str = ""


@dataclass(frozen=True, slots=True)
class Bars:
    """A bar chart of one series: names and values as (first row, column, last row, column), and what it shows in words
    for those who do not see it. A `share` axis runs from 0 to 100 %; `lying` bars grow to the right, first on top."""

    title: str
    axis: str
    names: tuple[int, int, int, int]
    values: tuple[int, int, int, int]
    words: str
    share: bool = False
    lying: bool = False


class GradePage:
    """One page while it is written. Rows and columns count from 0."""

    def __init__(self, owner: "GradeBook", name: str) -> None:
        self._owner, self.name = owner, name
        self._sheet: Any = owner.book.add_worksheet(name)

    def text(self, row: int, column: int, text: str, look: Look) -> None:
        """Write text, whatever it looks like."""
        clean = writable(text)
        if clean:
            self._sheet.write_string(row, column, clean, self._owner.format(look))
        else:
            self._sheet.write_blank(row, column, None, self._owner.format(look))

    def number(self, row: int, column: int, value: Decimal | float | None, look: Look) -> None:
        """Write a number, or nothing for None."""
        if value is None:
            self._sheet.write_blank(row, column, None, self._owner.format(look))
        else:
            self._sheet.write_number(row, column, float(value), self._owner.format(look))

    def formula(self, row: int, column: int, formula: str, result: float | str, look: Look) -> None:
        """Write a formula of our own with its result, which viewers that do not calculate show."""
        self._sheet.write_formula(row, column, formula, self._owner.format(look), result)

    def across(self, row: int, text: str, widths: Sequence[float], look: Look) -> None:
        """Write a text over the columns of these widths from the first, in as many lines as it needs."""
        clean = writable(text)
        self._sheet.merge_range(row, 0, row, len(widths) - 1, clean, self._owner.format(look))
        self.height(row, LINE_HEIGHT * lines_in(clean, sum(widths)))

    def row_of_texts(self, row: int, texts: Sequence[str], look: Look) -> None:
        """Write texts side by side from the first column."""
        for column, text in enumerate(texts):
            self.text(row, column, text, look)

    def widths(self, widths: Sequence[float]) -> None:
        """Column widths in characters, from the first."""
        for column, width in enumerate(widths):
            self._sheet.set_column(column, column, width)

    def hide(self, column: int) -> None:
        """Keep a column out of view."""
        self._sheet.set_column(column, column, None, None, {"hidden": True})

    def print_only(self, last_row: int, last_column: int) -> None:
        """Print no more than the columns up to this one."""
        self._sheet.print_area(0, 0, last_row, last_column)

    def print_rules(self) -> None:
        """Print thin rules between the cells, so that the eye keeps to its row."""
        self._sheet.hide_gridlines(0)

    def narrow_margins(self) -> None:
        """Leave the print as much of the page as printers can use (in inches)."""
        self._sheet.set_margins(left=0.35, right=0.35, top=0.5, bottom=0.6)

    def height(self, row: int, points: float) -> None:
        """The height of a row."""
        self._sheet.set_row(row, points)

    def keep_as_text(self, row: int, column: int, last_row: int, last_column: int) -> None:
        """Let no program mark numbers in these cells as an error because they are text."""
        self._sheet.ignore_errors({"number_stored_as_text": area(row, column, last_row, last_column).replace("$", "")})

    def freeze(self, row: int, column: int) -> None:
        """Keep what is above and left of a cell in view."""
        self._sheet.freeze_panes(row, column)

    def filter(self, row: int, column: int, last_row: int, last_column: int) -> None:
        """Offer a filter on the headings in `row`."""
        self._sheet.autofilter(row, column, last_row, last_column)

    def stress(self, area: tuple[int, int, int, int], rule: str, look: Look) -> None:
        """Change the look of those cells for which a formula of ours holds (as for the first cell of the area)."""
        options = {"type": "formula", "criteria": rule, "format": self._owner.format(look)}
        self._sheet.conditional_format(*area, options)

    def print_wide(self, first_row: int, last_row: int, footer: str) -> None:
        """A4 across, one page wide, with these rows on every page."""
        self._sheet.set_landscape()
        self._sheet.set_paper(9)  # A4; ECMA-376, ST_PaperSize
        self._sheet.fit_to_pages(1, 0)
        self._sheet.repeat_rows(first_row, last_row)
        self._sheet.set_footer(PAGE_OF_PAGES)
        self._sheet.footer = _footer(footer)  # set_footer takes the letters `&G` for a picture that is missing

    def bars(self, row: int, column: int, bars: Bars, size: tuple[int, int], source: "GradePage") -> None:
        """Draw a chart of another page's (or this one's) cells at a cell, `size` wide and high in pixels."""
        chart: Any = self._owner.book.add_chart({"type": "bar" if bars.lying else "column"})
        series = {
            "categories": [source.name, *bars.names],
            "values": [source.name, *bars.values],
            "fill": {"color": f"#{BAR_COLOUR}"},
            "gap": 60,
            "data_labels": {"value": True, "num_format": "0%" if bars.share else "0"},
        }
        chart.add_series(series)
        chart.set_title({"name": bars.title, "name_font": {"size": 12}, "overlay": False})
        chart.set_legend({"none": True})
        numbers = {"name": bars.axis, "min": 0, "major_gridlines": {"visible": True, "line": {"color": "#D9D9D9"}}}
        numbers |= {"max": 1, "num_format": "0%"} if bars.share else {"num_format": "0"}
        chart.set_y_axis({"reverse": True} if bars.lying else numbers)
        chart.set_x_axis({"min": 0, "visible": False, "major_gridlines": {"visible": False}} if bars.lying else {})
        chart.set_size({"width": size[0], "height": size[1]})
        self._sheet.insert_chart(row, column, chart, {"description": writable(bars.words), "object_position": 2})


class GradeBook:
    """A gradebook while it is written; `data` holds its bytes after the `with` block."""

    def __init__(self, title: str, made: datetime) -> None:
        self._out = io.BytesIO()
        self.book: Any = xlsxwriter.Workbook(self._out, OPTIONS)
        stamp = made.astimezone(UTC).replace(tzinfo=None) if made.tzinfo else made
        self.book.set_properties({"title": writable(title), "author": "Witness Mark", "created": stamp})
        self._formats: dict[Look, Any] = {}
        self.data = b""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.book.close()
        self.data = self._out.getvalue()

    def page(self, name: str) -> GradePage:
        """A new page."""
        return GradePage(self, name)

    def format(self, look: Look) -> Any:
        """The workbook's own format of a look."""
        if look not in self._formats:
            self._formats[look] = self.book.add_format(_properties(look))
        return self._formats[look]


def _footer(text: str) -> str:
    """The text at the left of the page's number, cut to what a footer holds."""
    room = LONGEST_FOOTER - len(f"&L{PAGE_OF_PAGES}")
    clean = writable(" ".join(text.split()))
    shorter = (clean[:n].rstrip() + CUT for n in range(min(len(clean), room), -1, -1))
    told = next(t for t in (_doubled(x) for x in (clean, *shorter)) if len(t) <= room)
    return f"&L{told}{PAGE_OF_PAGES}"


def _doubled(text: str) -> str:
    """The text for a footer, in which a single `&` begins a command."""
    return text.replace("&", "&&")


def _properties(look: Look) -> Mapping[str, Any]:
    told: dict[str, Any] = {"font_size": look.size, "font_color": f"#{look.colour}", "valign": "top"}
    told |= {"bold": look.bold, "italic": look.italic, "text_wrap": look.wrapped}
    if look.fill:
        told |= {"bg_color": f"#{look.fill}", "pattern": 1}
    if look.centred:
        told["align"] = "center"
    if look.upright:
        told |= {"rotation": 90, "align": "center", "valign": "bottom"}
    if look.numbers:
        told["num_format"] = look.numbers
    return told


def filled(look: Look, fill: str) -> Look:
    """The look with another fill."""
    return replace(look, fill=fill)


def cell(row: int, column: int, fixed_row: bool = False, fixed_column: bool = False) -> str:
    """The address of a cell, such as `B$3`."""
    return str(xl_rowcol_to_cell(row, column, row_abs=fixed_row, col_abs=fixed_column))


def area(row: int, column: int, last_row: int, last_column: int) -> str:
    """The address of an area, such as `$B$3:$B$9`."""
    return str(xl_range_abs(row, column, last_row, last_column))


def letter(column: int) -> str:
    """`A` for 0."""
    return str(xl_col_to_name(column))
