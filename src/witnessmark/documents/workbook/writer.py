"""The one door to openpyxl for writing: pages of locked text and open cells, as bytes that are the same at every run.

Whatever is written is text: nothing that a person typed can become a formula. Every cell is locked unless it is open.
"""

import io
import re
import zipfile
from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from typing import Any

from openpyxl import Workbook
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils.cell import absolute_coordinate, get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from witnessmark.documents.workbook.text import writable

TEXT_FORMAT = "@"
STAMP = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip file can tell
TIMES = re.compile(rb"<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\1>")
A4 = 9  # ECMA-376, ST_PaperSize


@dataclass(frozen=True, slots=True)
class Look:
    """How a cell looks. Colours are RRGGBB. `is_open` cells take typing, as text that no program turns into a date."""

    size: float = 11
    bold: bool = False
    italic: bool = False
    colour: str = "1A1A1A"
    fill: str = ""
    border: str = ""
    centred: bool = False
    top: bool = False
    indent: int = 0
    is_open: bool = False


class Page:
    """One page of a book while it is written."""

    def __init__(self, sheet: Worksheet, styles: dict[Look, Any]) -> None:
        self._sheet, self._styles = sheet, styles
        self.kept_as_text: list[str] = []

    def write(self, cell: str, text: str, look: Look) -> None:
        """Write text (or nothing) into a cell such as `B2`; signs that a workbook cannot hold stand by name."""
        target: Any = self._sheet[cell]
        if text:
            target.value = writable(text)
            target.data_type = "s"
        if look in self._styles:
            target._style = copy(self._styles[look])  # noqa: SLF001 - setting each part anew takes ten times as long
        else:
            _set_look(target, look)
            self._styles[look] = copy(target._style)  # noqa: SLF001

    def write_row(self, row: int, cells: Mapping[str, tuple[str, Look]]) -> None:
        """Write several cells of one row, by column letter."""
        for column, (text, look) in cells.items():
            self.write(f"{column}{row}", text, look)

    def join(self, first: str, last: str) -> None:
        """Make one cell of the cells from first to last, which hold nothing but what the first one holds."""
        self._sheet.merged_cells.add(f"{first}:{last}")  # merge_cells would style each cell again, slowly

    def widths(self, by_column: Mapping[str, float]) -> None:
        """Column widths in characters."""
        for column, width in by_column.items():
            self._sheet.column_dimensions[column].width = width

    def height(self, row: int, points: float) -> None:
        """The height of a row."""
        self._sheet.row_dimensions[row].height = points

    def offer(self, cells: Iterable[str], choices: tuple[str, ...], title: str, advice: str) -> None:
        """Offer choices in a list. Anything else can be typed too: a warning is given, and may be passed over."""
        rule = DataValidation(
            type="list", formula1=f'"{",".join(choices)}"', allow_blank=True, showDropDown=False,
            errorStyle="warning", errorTitle=title, error=advice, showErrorMessage=True,
        )  # fmt: skip
        for cell in cells:
            rule.add(cell)
        self._sheet.add_data_validation(rule)

    def keep_as_text(self, first: str, last: str) -> None:
        """Let no program mark numbers in these cells as an error because they are text."""
        self.kept_as_text.append(f"{first}:{last}")

    def freeze(self, cell: str) -> None:
        """Keep what is above and left of this cell in view."""
        self._sheet.freeze_panes = cell

    def lock(self) -> None:
        """Protect what is not open, without a password; columns and rows may still be made wider."""
        guard = self._sheet.protection
        guard.sheet = True
        guard.formatColumns = guard.formatRows = False
        guard.selectLockedCells = False

    def print_on_a4(self, repeated_rows: str, footer: str, landscape: bool = False) -> None:
        """One page wide, with these rows (`5:5`) on every page and the footer left of the page number."""
        sheet = self._sheet
        sheet.page_setup.paperSize = A4
        sheet.page_setup.orientation = "landscape" if landscape else "portrait"
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
        sheet.print_title_rows = repeated_rows
        sheet.page_margins.left = sheet.page_margins.right = 0.5
        sheet.page_margins.top = sheet.page_margins.bottom = 0.7
        foot = sheet.oddFooter
        assert foot is not None
        foot.left.text, foot.right.text = writable(footer).replace("&", "&&"), "&P / &N"
        sheet.sheet_view.showGridLines = False


class Book:
    """A workbook while it is written."""

    def __init__(self, title: str, subject: str) -> None:
        self._book = _empty_book()
        self._pages: list[Page] = []
        self._styles: dict[Look, Any] = {}
        told = self._book.properties
        told.title, told.subject, told.creator, told.language = writable(title), writable(subject), "Witness Mark", "en"

    def page(self, name: str) -> Page:
        """A new page."""
        page = Page(self._book.create_sheet(name), self._styles)
        self._pages.append(page)
        return page

    def hidden_page(self, name: str, rows: Iterable[tuple[str, str]]) -> None:
        """A locked page that people do not see, with two columns of text."""
        page = self.page(name)
        for n, (left, right) in enumerate(rows, 1):
            page.write_row(n, {"A": (left, Look()), "B": (right, Look())})
        page.lock()
        self._book[name].sheet_state = "veryHidden"

    def name(self, name: str, page: str, cell: str) -> None:
        """Give a cell a name by which it is found when rows moved."""
        self._book.defined_names[name] = DefinedName(name, attr_text=f"'{page}'!{absolute_coordinate(cell)}")

    def tell(self, name: str, value: str) -> None:
        """Set a property of the file."""
        self._book.custom_doc_props.append(StringProperty(name=name, value=writable(value)))

    def data(self) -> bytes:
        """The workbook as xlsx; without times, so that the same content gives the same bytes."""
        written = io.BytesIO()
        self._book.save(written)
        kept = {f"xl/worksheets/sheet{n}.xml": page.kept_as_text for n, page in enumerate(self._pages, 1)}
        return _finished(written.getvalue(), kept)


def column_letter(number: int) -> str:
    """`A` for 1, `AA` for 27."""
    return get_column_letter(number)


def _empty_book() -> Any:
    """A workbook without pages; untyped, since openpyxl's types know nothing of added properties."""
    book = Workbook()
    for sheet in book.worksheets:
        book.remove(sheet)
    return book


def _set_look(cell: Any, look: Look) -> None:
    cell.font = Font(name="Calibri", size=look.size, bold=look.bold, italic=look.italic, color=f"FF{look.colour}")
    vertical, across = "top" if look.top else "center", "center" if look.centred else "left"
    cell.alignment = Alignment(wrap_text=True, vertical=vertical, horizontal=across, indent=look.indent)
    cell.protection = Protection(locked=not look.is_open)
    cell.number_format = TEXT_FORMAT
    if look.fill:
        cell.fill = PatternFill("solid", fgColor=f"FF{look.fill}")
    if look.border:
        side = Side(style="thin", color=f"FF{look.border}")
        cell.border = Border(left=side, right=side, top=side, bottom=side)


def _finished(data: bytes, kept_as_text: Mapping[str, Iterable[str]]) -> bytes:
    """The archive without times, and with what openpyxl does not write: which cells are text on purpose."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "docProps/core.xml":
                content = TIMES.sub(b"", content)
            content = _with_kept(content, kept_as_text.get(name, ()))
            entry = zipfile.ZipInfo(name, STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(entry, content)
    return out.getvalue()


def _with_kept(content: bytes, areas: Iterable[str]) -> bytes:
    """A page with its `ignoredErrors`, which ECMA-376 (CT_Worksheet) puts behind the footer, the last thing written."""
    cells = " ".join(areas)
    if not cells:
        return content
    told = f'<ignoredErrors><ignoredError sqref="{cells}" numberStoredAsText="1"/></ignoredErrors></worksheet>'
    assert content.endswith(b"</headerFooter></worksheet>")
    return content.removesuffix(b"</worksheet>") + told.encode()
