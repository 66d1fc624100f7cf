"""A workbook's cells as plain text and back, to pass them out of the worker that read the file.

JSON, which can hold nothing but data: what a hostile file made of the worker cannot reach further.
"""

import json
from collections.abc import Iterator
from typing import Any

from witnessmark.files.workbooks.cell_texts import EMPTY, Cell
from witnessmark.files.workbooks.pages import (
    LONGEST_TEXT,
    MOST_FILLED,
    MOST_TEXT,
    PageCells,
    Room,
    TooMuch,
    WorkbookCells,
)
from witnessmark.words.problems import Place, Problem


def packed(book: WorkbookCells | None, problems: tuple[Problem, ...]) -> bytes:
    """A book, or the problems of one; raises TooMuch where it holds more than is taken in."""
    said = [[p.code, p.expected, p.found, p.remedy] for p in problems]
    if book is None:
        return json.dumps({"problems": said}).encode()
    filled = [_filled(page) for page in book.pages]
    _check_amount([cell for page in filled for cell in page])
    pages = [[page.name, len(page.rows), cells] for page, cells in zip(book.pages, filled, strict=True)]
    names = {name: list(where) for name, where in book.names.items()}
    data = {"problems": said, "pages": pages, "names": names, "properties": dict(book.properties), "saved": book.saved}
    return json.dumps(data).encode()


def _filled(page: PageCells) -> list[list[Any]]:
    return [
        [r, c, cell.text, cell.note, cell.spoiled] if cell.note or cell.spoiled else [r, c, cell.text]
        for r, row in enumerate(page.rows)
        for c, cell in enumerate(row)
        if cell != EMPTY
    ]


def _check_amount(cells: list[list[Any]]) -> None:
    if len(cells) > MOST_FILLED:
        raise TooMuch(f"at most {MOST_FILLED} filled cells in a book", f"{len(cells)}")
    lengths = [len(text) for cell in cells for text in cell[2:4]]
    if max(lengths, default=0) > 2 * LONGEST_TEXT:  # a note quotes a formula, and says a few words about it
        raise TooMuch(f"at most {LONGEST_TEXT} characters in a cell", f"{max(lengths)}")
    if sum(lengths) > MOST_TEXT:
        raise TooMuch(f"at most {MOST_TEXT} characters in a book", f"{sum(lengths)}")


def unpacked(data: bytes, file: str) -> tuple[WorkbookCells | None, tuple[Problem, ...]]:
    """What `packed` packed, its problems at `file`; raises ValueError, LookupError or TypeError for anything else."""
    read = json.loads(data)
    problems = tuple(Problem(str(p[0]), Place(file), str(p[1]), str(p[2]), str(p[3])) for p in read["problems"])
    if "pages" not in read:
        return None, problems
    room = Room()
    pages = tuple(PageCells(str(name), tuple(_rows(count, cells, room))) for name, count, cells in read["pages"])
    names = {str(name): (str(page), str(cell)) for name, (page, cell) in read["names"].items()}
    properties = {str(name): str(value) for name, value in read["properties"].items()}
    return WorkbookCells(pages, names, properties, str(read["saved"])), problems


def _rows(count: int, cells: list[list[Any]], room: Room) -> Iterator[tuple[Cell, ...]]:
    """The rows of a page, each to its last filled cell; raises ValueError where they are more than a worker sends."""
    by_row: dict[int, list[list[Any]]] = {}
    for cell in cells:
        by_row.setdefault(int(cell[0]), []).append(cell)
    try:
        room.take(count, 1)
        for row in range(count):
            filled = by_row.get(row, [])
            width = 1 + max((int(cell[1]) for cell in filled), default=-1)
            room.take(1, width)
            line = [EMPTY] * width
            for _, column, text, *rest in filled:
                line[column] = Cell(text, *rest)
            yield tuple(line)
    except TooMuch as much:
        raise ValueError(str(much)) from much
