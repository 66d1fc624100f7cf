"""Sheets of an invented class, their answer books filled in as a student would, and workbooks with hostile cells."""

import io
import zipfile
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl

from documents.drain_hole import sheet
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.questions.sheet.answer_places import answer_cells
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Sheet, Student

STUDENTS = (
    Student("S01", "Maren Tolk", "North yard"),
    Student("S02", "Idris Vael", "North yard"),
    Student("S03", "Oona Brisk", "=South & Co"),
)
SHEETS = tuple(replace(sheet(), code=sheet_code("shear-1", s.code, 1), student=s) for s in STUDENTS)
FIRST, SECOND, THIRD = SHEETS
BY_CODE = {one.code: one for one in SHEETS}
ANSWERS = {
    "1.a.A_s": ("314", "mm2"), "1.a": ("94,2", "kN"), "1.b.A_p": (" 314.16 ", "mm²"), "1.b": ("1/2", ""),
    "1.c": ("yes", ""), "2.b": ("C", ""), "2.c": ("b d a c", ""), "2.d": ("=the brake\nholds", ""), "2.e": ("-m/n", ""),
}  # fmt: skip
RAW = {
    "1.a.A_s": "314 mm2", "1.a": "94,2 kN", "1.b.A_p": " 314.16  mm²", "1.b": "1/2", "1.c": "yes", "2.a": "",
    "2.b": "C", "2.c": "b d a c", "2.d": "=the brake\nholds", "2.e": "-m/n", "2.f": "",
}  # fmt: skip


def write_book(path: Path, owner: Sheet = FIRST, typed: Mapping[str, tuple[str, str]] = ANSWERS) -> Path:
    """The answer book of a sheet with these answers."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(answer_book(owner, typed))
    return path


def opened(owner: Sheet = FIRST) -> Any:
    """An answer book in openpyxl, to be changed in ways that the book itself would not allow."""
    return openpyxl.load_workbook(io.BytesIO(answer_book(owner, ANSWERS)))


def changed(path: Path, cells: Mapping[str, Any], owner: Sheet = FIRST) -> Path:
    """An answer book with these cells (`Answers!C8`) set to anything."""
    book = opened(owner)
    for where, value in cells.items():
        page, _, cell = where.rpartition("!")
        book[page or "Answers"][cell] = value
    book.save(path)
    return path


def cell_of_ask(key: str) -> str:
    """The answer cell of an ask of the first sheet."""
    return answer_cells(FIRST)[key][0]


def with_member(path: Path, name: str, content: bytes, source: bytes | None = None) -> Path:
    """An answer book in whose archive one member is replaced or added."""
    data = source or answer_book(FIRST, ANSWERS)
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for member in old.namelist():
            if member != name:
                new.writestr(member, old.read(member))
        new.writestr(name, content)
    return path


def member(data: bytes, name: str) -> str:
    """The text of a member of an archive."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read(name).decode()
