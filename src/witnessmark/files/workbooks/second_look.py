"""A second look at a workbook, for what the first gives nothing for (formulas, errors, formats): the door to openpyxl.

It takes a fifth of a second to load, so it is loaded only for books that need it (`cells`), in the `worker` alone.
"""

import io
import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import openpyxl

from witnessmark.files.workbooks.cell_texts import Cell, Value, cell_of, error_cell, formula_cell

Spot = tuple[int, int]
"""Row and column of a cell, from 0."""


@dataclass(frozen=True, slots=True)
class _Look:
    """What was seen in one cell: a formula or an error (or neither), its saved result, its number format."""

    formula: str = ""
    error: str = ""
    has_result: bool = True
    number_format: str = ""


def cells_seen_again(
    data: bytes, values: Mapping[str, Sequence[Sequence[Value]]]
) -> dict[str, tuple[tuple[Cell, ...], ...]]:
    """The cells of a workbook by page, of their values (by page and row) and of what a second look sees."""
    looks = _looks(data)
    return {name: _cells(rows, looks.get(name, {})) for name, rows in values.items()}


def _looks(data: bytes) -> dict[str, dict[Spot, _Look]]:
    """What is special about cells, by page."""
    found: dict[str, dict[Spot, _Look]] = {}
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


def _with_results(data: bytes, looks: dict[str, dict[Spot, _Look]]) -> dict[str, dict[Spot, _Look]]:
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


def _cells(rows: Sequence[Sequence[Value]], looks: Mapping[Spot, _Look]) -> tuple[tuple[Cell, ...], ...]:
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
