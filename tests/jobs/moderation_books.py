"""Filling in a gradebook as a teacher does, in the cells of the pages, wherever they stand."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import openpyxl

Typed = Mapping[tuple[str, str], Mapping[str, object]]
"""What is typed by student and label: values by heading."""


def fill(book: Path, typed: Typed, page: str = "Answers") -> Path:
    """The gradebook with these values in one page."""
    opened = openpyxl.load_workbook(book)
    sheet = opened[page]
    heads: dict[Any, Any] = {cell.value: cell.column for cell in sheet[1]}
    rows = {(r[heads["student"] - 1].value, r[heads["part"] - 1].value): r for r in sheet.iter_rows(min_row=2)}
    for key, values in typed.items():
        for heading, value in values.items():
            cell: Any = rows[key][heads[heading] - 1]
            cell.value = value
            if isinstance(value, str):
                cell.data_type = "s"
    opened.save(book)
    return book


def cell_of(book: Path, student: str, label: str, heading: str, page: str = "Answers") -> tuple[str, object]:
    """The address (`Answers!H3`) and the value of one cell."""
    sheet = openpyxl.load_workbook(book, data_only=True)[page]
    heads: dict[Any, Any] = {cell.value: cell.column for cell in sheet[1]}
    for row in sheet.iter_rows(min_row=2):
        if (row[heads["student"] - 1].value, row[heads["part"] - 1].value) == (student, label):
            cell = row[heads[heading] - 1]
            return f"{page}!{cell.coordinate}", cell.value
    raise LookupError(f"{student} {label}")
