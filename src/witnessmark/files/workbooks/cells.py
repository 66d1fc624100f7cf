"""The bytes of a workbook (.xlsx or .ods) as pages of cells; the door to python-calamine.

calamine is fast but gives nothing for an error and for a formula without a saved result, and loses number formats. So
`second_look` is taken at books where something of that kind may be. OpenDocument files are read by `ods_cells`. All can
be made to crash or to swell by a file: only the `worker` calls this.
"""

import datetime as dt
import io
import re
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Mapping, Sequence
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum

from witnessmark.files.workbooks.archive import Archive, broken, open_archive, too_large
from witnessmark.files.workbooks.cell_texts import Cell, Value, cell_of
from witnessmark.files.workbooks.ods_cells import ods_names, ods_pages, ods_properties, ods_saved
from witnessmark.files.workbooks.pages import PageCells, Room, TooMuch, WorkbookCells
from witnessmark.words.problems import Problem

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
CUSTOM = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}"
MODIFIED = "{http://purl.org/dc/terms/}modified"
FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")
ERROR = re.compile(rb"""\st\s*=\s*["']e["']""")
KINDS_OF_ERROR = (b'"e"', b"'e'")
"""One of these is in whatever ERROR finds, and is found a hundred times as fast."""
NAMED_CELL = re.compile(r"(?:'((?:[^']|'')*)'|([^!'$]+))!\$?([A-Z]{1,3})\$?(\d{1,7})")
LOOK_FAILS = (LookupError, ValueError, ArithmeticError, TypeError, AttributeError, OSError, zipfile.BadZipFile,
              ET.ParseError)  # fmt: skip
Pages = Mapping[str, Sequence[Sequence[Any]]]
Rows = tuple[tuple[Cell, ...], ...]


def workbook_of(data: bytes, file: str) -> tuple[WorkbookCells | None, tuple[Problem, ...]]:
    """The cells of a workbook; None with one problem (of `file`) when it cannot be read."""
    archive, problems = open_archive(data, file)
    if archive is None:
        return None, problems
    try:
        return (_from_ods if archive.is_ods else _from_xlsx)(archive), ()
    except TooMuch as much:
        return None, (too_large(file, much.expected, much.found),)
    except (CalamineError, *LOOK_FAILS):
        return None, (broken(file),)


def _from_ods(archive: Archive) -> WorkbookCells:
    content, meta = archive.tree("content.xml"), archive.tree("meta.xml")
    if content is None:
        raise ValueError("content.xml is not whole")
    pages = tuple(PageCells(page.name, page.rows) for page in ods_pages(content, Room()))
    return WorkbookCells(pages, ods_names(content), ods_properties(meta), ods_saved(meta))


def _from_xlsx(archive: Archive) -> WorkbookCells:
    values = _values(archive.data)
    cells = _seen_again(archive.data, values) if _needs_look(archive, values) else _as_read(values)
    pages = tuple(PageCells(name, rows) for name, rows in cells.items())
    core = archive.tree("docProps/core.xml")
    saved = "" if core is None else (core.findtext(MODIFIED) or "")
    return WorkbookCells(pages, _names(archive), _properties(archive), saved)


def _needs_look(archive: Archive, values: Pages) -> bool:
    """True where a page holds numbers, formulas or errors; a book of text, as it was issued, needs no second look."""
    if any(_is_number(value) for rows in values.values() for row in rows for value in row):
        return True
    return any(_holds_formula_or_error(content) for content in archive.members.values())


def _holds_formula_or_error(content: bytes) -> bool:
    return bool(FORMULA.search(content) or (any(k in content for k in KINDS_OF_ERROR) and ERROR.search(content)))


def _values(data: bytes) -> Pages:
    book = CalamineWorkbook.from_filelike(io.BytesIO(data))
    pages = [sheet.name for sheet in book.sheets_metadata if sheet.typ is SheetTypeEnum.WorkSheet]
    room, found = Room(), {}
    for name in pages:
        sheet = book.get_sheet_by_name(name)
        room.take(sheet.total_height, sheet.total_width)
        found[name] = sheet.to_python(skip_empty_area=False)
    return found


def _is_number(value: Value) -> bool:
    return isinstance(value, int | float | dt.date | dt.time | dt.timedelta)


def _seen_again(data: bytes, values: Pages) -> dict[str, Rows]:
    """The cells by page after a second look, which is loaded only for books that need one."""
    from witnessmark.files.workbooks.second_look import cells_seen_again

    return cells_seen_again(data, values)


def _as_read(values: Pages) -> dict[str, Rows]:
    return {name: tuple(tuple(cell_of(value) for value in row) for row in rows) for name, rows in values.items()}


def _names(archive: Archive) -> dict[str, tuple[str, str]]:
    """Page and cell by defined name, for names of a single cell."""
    tree = archive.tree("xl/workbook.xml")
    found: dict[str, tuple[str, str]] = {}
    for named in () if tree is None else tree.iter(f"{MAIN}definedName"):
        match = NAMED_CELL.fullmatch((named.text or "").strip())
        if match:
            page = match[1].replace("''", "'") if match[1] is not None else match[2]
            found[named.get("name", "")] = (page, match[3] + match[4])
    return found


def _properties(archive: Archive) -> dict[str, str]:
    tree = archive.tree("docProps/custom.xml")
    if tree is None:
        return {}
    return {p.get("name", ""): "".join(p.itertext()) for p in tree.iter(f"{CUSTOM}property")}
