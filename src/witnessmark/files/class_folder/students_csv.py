"""students.csv as students: `code,name,group` and any further columns, with every problem at its place.

A code travels on sheets and names files: it is plain letters and digits, and no two may be taken for each other.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from witnessmark.files.safe.plain_text import decoded
from witnessmark.files.tables.csv_cells import Cell, rows_of
from witnessmark.questions.sheet.task import Student
from witnessmark.words.nearest import near
from witnessmark.words.problems import Place, Problem, capped

HEADER = ("code", "name", "group")
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,23}")
# Names that Windows keeps for devices: a sheet A.pdf can be written there, con.pdf cannot (Microsoft's naming rules).
DEVICES = re.compile(r"(?i:con|prn|aux|nul|com[0-9]|lpt[0-9])")
# Letters that are read as digits in handwriting; the pairs that Crockford's base 32 folds (from memory).
ALIKE = str.maketrans({"O": "0", "I": "1", "L": "1", "-": None, "_": None})


@dataclass(frozen=True, slots=True)
class _Head:
    """Which column holds what; `further` are the headings of the columns that are kept as they are."""

    columns: Mapping[str, int]
    further: tuple[tuple[int, str], ...]
    width: int


@lru_cache(maxsize=8)
def read_students(data: bytes, file: str) -> tuple[tuple[Student, ...], tuple[Problem, ...]]:
    """The students in file order, and every problem; students without a usable code are left out. The same bytes are
    read once: a page that stays open asks for them several times in each look."""
    text, problems = decoded(data, file)
    if problems:
        return (), problems
    rows, problems = rows_of(text, file)
    if not rows:
        return (), (*problems, _no_header(file))
    found: list[Problem] = list(problems)
    head = _head(rows[0], file, found)
    if head is None:
        return (), tuple(found)
    students = _students(rows[1:], head, file, found)
    if len(rows) == 1:
        remedy = "add a line for each student, such as A1,Kim Dekker,Westhaven"
        place = Place(file, rows[0][0].line + 1, 1)
        found.append(Problem("no-students", place, "a line for each student", "none", remedy))
    return students, capped(found)


def without_student(data: bytes, file: str, code: str) -> bytes:
    """The same file without the line of one student; as it is when no line has the code, or the file has problems."""
    text, problems = decoded(data, file)
    rows, more = rows_of(text, file)
    head = _head(rows[0], file, []) if rows and not problems and not more else None
    if head is None:
        return data
    lines = text.split("\n")
    starts = [*(row[0].line for row in rows), len(lines) + 1]
    gone: set[int] = set()
    for row, start, following in zip(rows[1:], starts[1:], starts[2:], strict=False):
        if _cell(row, head.columns["code"]).text == code:
            gone.update(range(start, following))
    kept = [line for n, line in enumerate(lines, 1) if n not in gone or not line.strip() or line.startswith("#")]
    return _encoded_as("\n".join(kept), data) if gone else data


def _encoded_as(text: str, like: bytes) -> bytes:
    """The text in the encoding, and with the line ends, of other bytes."""
    encoding = "utf-16" if like[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8"
    mark = b"\xef\xbb\xbf" if like.startswith(b"\xef\xbb\xbf") else b""
    ends = "\r\n" if "\r\n" in like.decode("utf-16" if encoding == "utf-16" else "utf-8-sig") else "\n"
    return mark + text.replace("\n", ends).encode(encoding)


def looks_like(code: str) -> str:
    """What is left of a code when letters that are taken for each other are made one."""
    return code.upper().translate(ALIKE)


def _no_header(file: str) -> Problem:
    remedy = "type code,name,group"
    return Problem("no-header", Place(file, 1, 1), "the headings code,name,group", "an empty file", remedy)


def _head(cells: Sequence[Cell], file: str, problems: list[Problem]) -> _Head | None:
    columns: dict[str, int] = {}
    further: list[tuple[int, str]] = []
    seen: dict[str, Cell] = {}
    for n, cell in enumerate(cells):
        name = cell.text.casefold()
        if not name:
            continue
        if name in seen:
            found = f"'{cell.text}' again (first in cell {seen[name].name})"
            problems.append(Problem("heading-twice", cell.place(file), "each heading once", found, "rename one"))
        elif name in HEADER:
            columns[name] = n
        else:
            further.append((n, cell.text))
        seen.setdefault(name, cell)
    if "code" in columns:
        return _Head(columns, tuple(further), len(cells))
    found = ",".join(cell.text for cell in cells)
    hint = next((h for cell in cells if (h := near(cell.text.casefold(), HEADER))), "")
    remedy = hint or "type code,name,group as the first line"
    problems.append(Problem("no-header", cells[0].place(file), "a heading 'code'", f"'{found}'", remedy))
    return None


def _students(rows: Sequence[Sequence[Cell]], head: _Head, file: str, problems: list[Problem]) -> tuple[Student, ...]:
    students: list[Student] = []
    seen: dict[str, Cell] = {}
    for row in rows:
        code = _cell(row, head.columns["code"])
        _check_width(row, head, file, problems)
        if _is_code(code, file, problems) and _is_new(code, seen, file, problems):
            name, group = (_text(row, head.columns.get(h)) for h in ("name", "group"))
            more = tuple((heading, _text(row, n)) for n, heading in head.further)
            students.append(Student(code.text, name, group, more))
    return tuple(students)


def _cell(row: Sequence[Cell], n: int) -> Cell:
    return row[n] if n < len(row) else Cell("", row[-1].line, row[-1].column, n + 1, row[-1].row)


def _text(row: Sequence[Cell], n: int | None) -> str:
    return "" if n is None else " ".join(_cell(row, n).text.split())


def _check_width(row: Sequence[Cell], head: _Head, file: str, problems: list[Problem]) -> None:
    extra = next((cell for cell in row[head.width :] if cell.text), None)
    if extra:
        expected = f"{head.width} cells, as in the headings"
        remedy = 'put text that holds the separator in quotes: "..."'
        problems.append(Problem("too-many-cells", extra.place(file), expected, f"'{extra.text}'", remedy))


def _is_code(code: Cell, file: str, problems: list[Problem]) -> bool:
    place = code.place(file)
    if not code.text:
        problems.append(Problem("no-code", place, "a code", "none", "give every student a code, such as A1"))
    elif not CODE.fullmatch(code.text):
        expected = "1 to 24 of the letters A to Z, digits, - and _, with a letter or digit first"
        problems.append(Problem("wrong-code", place, expected, f"'{code.text}'", "choose a code such as A1"))
    elif DEVICES.fullmatch(code.text):
        expected, remedy = "a code that can name a file", f"choose another, such as {code.text}-1"
        problems.append(Problem("wrong-code", place, expected, f"'{code.text}'", remedy))
    else:
        return True
    return False


def _is_new(code: Cell, seen: dict[str, Cell], file: str, problems: list[Problem]) -> bool:
    first = seen.setdefault(looks_like(code.text), code)
    if first is code:
        return True
    where = f"(line {first.line})"
    if first.text == code.text:
        found, remedy = f"'{code.text}' again {where}", "give one of them another code"
        problems.append(Problem("code-twice", code.place(file), "each code once", found, remedy))
    else:
        found = f"'{code.text}', which looks like '{first.text}' {where}"
        expected = "codes that cannot be taken for each other"
        problems.append(Problem("codes-alike", code.place(file), expected, found, "change one of them"))
    return False
