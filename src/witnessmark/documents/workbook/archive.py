"""The one door to openpyxl for writing: a workbook of a layout and its words, as the members of its archive.

Whatever is written is text: nothing that a person typed can become a formula. Every cell is locked unless it is open.
"""

import io
import re
import zipfile
from copy import copy
from typing import Any

from openpyxl import Workbook
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.utils.cell import absolute_coordinate
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from witnessmark.documents.workbook.layout import BookLayout, BookWords, Look, Offer, PageLayout, PageWords, Printing

TEXT_FORMAT = "@"
TIMES = re.compile(rb"<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\1>")
A4 = 9  # ECMA-376, ST_PaperSize

Members = dict[str, bytes]
"""The content of each member of the archive, by its name, in order."""


def column_letter(number: int) -> str:
    """`A` for 1, `AA` for 27."""
    return get_column_letter(number)


def members_of(layout: BookLayout, words: BookWords) -> Members:
    """The members of a workbook; without times, so that the same content gives the same bytes."""
    book = _empty_book()
    told = book.properties
    told.title, told.subject, told.creator, told.language = words.title, words.subject, "Witness Mark", "en"
    styles: dict[Look, Any] = {}
    for page, page_words in zip(layout.pages, words.pages, strict=True):
        _write_page(book.create_sheet(page.name), page, page_words, styles)
    for name, place, cell in layout.names:
        book.defined_names[name] = DefinedName(name, attr_text=f"'{place}'!{absolute_coordinate(cell)}")
    for name, value in zip(layout.told, words.told, strict=True):
        book.custom_doc_props.append(StringProperty(name=name, value=value))
    written = io.BytesIO()
    book.save(written)
    return _finished(written.getvalue(), layout)


def _empty_book() -> Any:
    """A workbook without pages; untyped, since openpyxl's types know nothing of added properties."""
    book = Workbook()
    for sheet in book.worksheets:
        book.remove(sheet)
    return book


def _write_page(sheet: Worksheet, page: PageLayout, words: PageWords, styles: dict[Look, Any]) -> None:
    texts = dict(zip(page.with_text, words.texts, strict=True))
    for cell, look in page.looks:
        _write(sheet[cell], texts.get(cell, ""), look, styles)
    for cells in page.joined:
        sheet.merged_cells.add(cells)  # merge_cells would style each cell again, slowly
    for column, width in page.widths:
        sheet.column_dimensions[column].width = width
    for row, height in zip(page.rows, words.heights, strict=True):
        sheet.row_dimensions[row].height = height
    for offer in page.offers:
        sheet.add_data_validation(_rule(offer))
    if page.frozen_at:
        sheet.freeze_panes = page.frozen_at
    if page.is_locked:
        _lock(sheet)
    if page.printing:
        _print_on_a4(sheet, page.printing, words.footer)
    if page.is_hidden:
        sheet.sheet_state = "veryHidden"


def _write(cell: Any, text: str, look: Look, styles: dict[Look, Any]) -> None:
    if text:
        cell.value = text
        cell.data_type = "s"
    if look in styles:
        cell._style = copy(styles[look])  # noqa: SLF001 - setting each part anew takes ten times as long
    else:
        _set_look(cell, look)
        styles[look] = copy(cell._style)  # noqa: SLF001


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


def _rule(offer: Offer) -> DataValidation:
    """A list; what is typed instead is warned of, and may be passed over."""
    rule = DataValidation(
        type="list", formula1=f'"{",".join(offer.choices)}"', allow_blank=True, showDropDown=False,
        errorStyle="warning", errorTitle=offer.title, error=offer.advice, showErrorMessage=True,
    )  # fmt: skip
    for cell in offer.cells:
        rule.add(cell)
    return rule


def _lock(sheet: Worksheet) -> None:
    """Without a password; columns and rows may still be made wider."""
    guard = sheet.protection
    guard.sheet = True
    guard.formatColumns = guard.formatRows = False
    guard.selectLockedCells = False


def _print_on_a4(sheet: Worksheet, printing: Printing, footer: str) -> None:
    sheet.page_setup.paperSize = A4
    sheet.page_setup.orientation = "landscape" if printing.landscape else "portrait"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = printing.repeated_rows
    sheet.page_margins.left = sheet.page_margins.right = 0.5
    sheet.page_margins.top = sheet.page_margins.bottom = 0.7
    foot = sheet.oddFooter
    assert foot is not None
    foot.left.text, foot.right.text = footer, "&P / &N"
    sheet.sheet_view.showGridLines = False


def _finished(data: bytes, layout: BookLayout) -> Members:
    """The members without times, and with what openpyxl does not write: which cells are text on purpose."""
    with zipfile.ZipFile(io.BytesIO(data)) as source:
        found = {name: source.read(name) for name in source.namelist()}
    found["docProps/core.xml"] = TIMES.sub(b"", found["docProps/core.xml"])
    for n, page in enumerate(layout.pages, 1):
        if page.kept_as_text:
            name = f"xl/worksheets/sheet{n}.xml"
            found[name] = _with_kept(found[name], page.kept_as_text)
    return found


def _with_kept(content: bytes, areas: tuple[str, ...]) -> bytes:
    """A page with its `ignoredErrors`, which ECMA-376 (CT_Worksheet) puts behind the footer, the last thing written."""
    told = f'<ignoredErrors><ignoredError sqref="{" ".join(areas)}" numberStoredAsText="1"/></ignoredErrors>'
    assert content.endswith(b"</headerFooter></worksheet>")
    return content.removesuffix(b"</worksheet>") + told.encode() + b"</worksheet>"
