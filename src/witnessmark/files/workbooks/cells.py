"""The bytes of a workbook (.xlsx or .ods) as pages of cells; the door to python-calamine and openpyxl.

calamine is fast but gives nothing for an error and for a formula without a saved result, and loses number formats. So
openpyxl looks again at pages where something of that kind may be. OpenDocument files are read by `ods_cells`. Both can
be made to crash or to swell by a file: only the `worker` calls this.
"""

import datetime as dt
import io
import re
import warnings
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import openpyxl
from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum

from witnessmark.files.workbooks.archive import Archive, broken, open_archive, too_large
from witnessmark.files.workbooks.cell_texts import Cell, Value, cell_of, error_cell, formula_cell
from witnessmark.files.workbooks.ods_cells import ods_names, ods_pages, ods_properties, ods_saved
from witnessmark.files.workbooks.pages import PageCells, Room, TooMuch, WorkbookCells
from witnessmark.words.problems import Problem

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
CUSTOM = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}"
MODIFIED = "{http://purl.org/dc/terms/}modified"
FORMULA_OR_ERROR = re.compile(rb"""<(?:\w+:)?f[\s/>]|\st\s*=\s*["']e["']""")
NAMED_CELL = re.compile(r"(?:'((?:[^']|'')*)'|([^!'$]+))!\$?([A-Z]{1,3})\$?(\d{1,7})")
LOOK_FAILS = (LookupError, ValueError, ArithmeticError, TypeError, AttributeError, OSError, zipfile.BadZipFile,
              ET.ParseError)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Look:
    """What openpyxl saw in one cell: a formula or an error (or neither), its saved result, its number format."""

    formula: str = ""
    error: str = ""
    has_result: bool = True
    number_format: str = ""


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
    looks = _looks(archive.data) if _needs_look(archive, values) else {}
    pages = tuple(PageCells(name, _cells(rows, looks.get(name, {}))) for name, rows in values.items())
    core = archive.tree("docProps/core.xml")
    saved = "" if core is None else (core.findtext(MODIFIED) or "")
    return WorkbookCells(pages, _names(archive), _properties(archive), saved)


def _needs_look(archive: Archive, values: Mapping[str, list[list[Any]]]) -> bool:
    """True where a page holds numbers, formulas or errors; a book of text, as it was issued, needs no second look."""
    if any(_is_number(value) for rows in values.values() for row in rows for value in row):
        return True
    return any(FORMULA_OR_ERROR.search(content) for content in archive.members.values())


def _values(data: bytes) -> dict[str, list[list[Any]]]:
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


def _looks(data: bytes) -> dict[str, dict[tuple[int, int], _Look]]:
    """What is special about cells, by page and (row, column) from 0."""
    found: dict[str, dict[tuple[int, int], _Look]] = {}
    with_formulas = False
    for sheet in _opened(data, data_only=False).worksheets:
        looks = found.setdefault(sheet.title, {})
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is not None:
                    look = _look(cell)
                    with_formulas = with_formulas or bool(look.formula)
                    looks[cell.row - 1, cell.column - 1] = look
    return _with_results(data, found) if with_formulas else found


def _opened(data: bytes, data_only: bool) -> openpyxl.Workbook:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what openpyxl cannot keep, none is a cell
        return openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=data_only)


def _look(cell: Any) -> _Look:
    if cell.data_type == "f":
        text = str(getattr(cell.value, "text", cell.value))
        return _Look(formula=text if text.startswith("=") else f"={text}", number_format=cell.number_format)
    if cell.data_type == "e":
        return _Look(error=str(cell.value))
    return _Look(number_format=cell.number_format)


def _with_results(
    data: bytes, looks: dict[str, dict[tuple[int, int], _Look]]
) -> dict[str, dict[tuple[int, int], _Look]]:
    """The looks with what the file holds as results of its formulas: an error, or none at all."""
    results: dict[tuple[str, int, int], Any] = {}
    for sheet in _opened(data, data_only=True).worksheets:
        for cells in sheet.iter_rows():
            for cell in cells:
                if cell.value is not None:
                    results[sheet.title, cell.row - 1, cell.column - 1] = cell
    for page, by_cell in looks.items():
        for (row, column), look in by_cell.items():
            if look.formula:
                saved = results.get((page, row, column))
                error = str(saved.value) if saved is not None and saved.data_type == "e" else ""
                by_cell[row, column] = _Look(look.formula, error, saved is not None, look.number_format)
    return looks


def _cells(rows: Sequence[Sequence[Value]], looks: Mapping[tuple[int, int], _Look]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(
        tuple(_cell(value, looks.get((r, c))) for c, value in enumerate(row)) for r, row in enumerate(rows)
    )  # fmt: skip


def _cell(value: Value, look: _Look | None) -> Cell:
    if look is None:
        return cell_of(value)
    if look.error:
        return error_cell(look.error, look.formula)
    if look.formula:
        has_result = look.has_result or value not in (None, "")
        return formula_cell(look.formula, cell_of(value, look.number_format) if has_result else None)
    return cell_of(value, look.number_format)


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
