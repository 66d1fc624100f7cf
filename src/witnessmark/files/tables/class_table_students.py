"""Whose row it is in a class table: by sheet code, by student code, or by a name that only one student has."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from witnessmark.files.tables.class_table_cells import PlacedCell, Row, filled_cell
from witnessmark.questions.sheet.class_table_columns import NAME, SHEET, STUDENT
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.problems import Problem


@dataclass(frozen=True, slots=True)
class _Said:
    """What one cell of a row says of whose it is."""

    cell: PlacedCell
    sheets: tuple[Sheet, ...]


class Students:
    """The students of a task, to be found again in rows."""

    def __init__(self, sheets: Mapping[str, Sheet]) -> None:
        self._sheets = sheets
        self._by_code = _grouped([(s.student.code, s) for s in sheets.values()])
        self._by_name = _grouped([(s.student.name, s) for s in sheets.values() if s.student.name.strip()])

    def sheet_of(self, row: Row, who: Mapping[str, int], problems: list[Problem]) -> Sheet | None:
        """The sheet of a row; None with a problem when that is not certain, and then the row is not read."""
        cells = {what: cell for what in (SHEET, STUDENT, NAME) if (cell := filled_cell(row, who.get(what)))}
        if not cells:
            expected = f"a {SHEET}, a {STUDENT} code or a {NAME}"
            problems.append(Problem("no-student", row[0].place, expected, "none", "say whose answers these are"))
            return None
        said = [_Said(cell, self._meant(what, cell)) for what, cell in cells.items()]
        if len(said) > 1 and NAME in cells and not said[-1].sheets:
            said.pop()  # a name beside a code may be spelt in any way
        unknown = [_unknown(what, s.cell) for what, s in zip(cells, said, strict=False) if not s.sheets]
        if unknown:
            problems += unknown
            return None
        others = [{sheet.code for sheet in other.sheets} for other in said[1:]]
        agreed = [sheet for sheet in said[0].sheets if all(sheet.code in codes for codes in others)]
        if not agreed:
            found = " and ".join(f"'{s.cell.text}' in {s.cell.where}" for s in said)
            remedy = "correct one of them; the row was not read"
            problems.append(Problem("row-disagrees", row[0].place, "one student in every cell", found, remedy))
            return None
        return self._only(agreed, said, problems)

    def _only(self, agreed: Sequence[Sheet], said: Sequence[_Said], problems: list[Problem]) -> Sheet | None:
        if len(agreed) == 1:
            return agreed[0]
        codes = ", ".join(sheet.code for sheet in agreed)
        expected, found = f"one of the sheet codes {codes}", f"'{said[0].cell.text}', which has {len(agreed)} sheets"
        remedy = "type the sheet code; the row was not read"
        problems.append(Problem("several-sheets", said[0].cell.place, expected, found, remedy))
        return None

    def _meant(self, what: str, cell: PlacedCell) -> tuple[Sheet, ...]:
        """Every sheet that a cell can mean."""
        if what == SHEET:
            sheet = self._sheets.get(repaired_code(cell.text) or "")
            return (sheet,) if sheet else ()
        by_name = self._by_name.get(_plain(cell.text), ())
        if what == NAME:
            return by_name
        return self._by_code.get(_plain(cell.text)) or by_name


def _unknown(what: str, cell: PlacedCell) -> Problem:
    if what == SHEET and repaired_code(cell.text) is None:
        remedy = "look at the code on the printed sheet; the row was not read"
        return Problem("wrong-sheet-code", cell.place, "a sheet code such as 7KR4-MXPT", f"'{cell.text}'", remedy)
    if what == SHEET:
        remedy = "look at the code on the printed sheet, it may be of another task; the row was not read"
        return Problem("unknown-sheet", cell.place, "the code of a sheet that was issued", cell.text, remedy)
    expected = f"the {'code' if what == STUDENT else 'name'} of a student who has a sheet"
    remedy = "look at the list of students; the row was not read"
    return Problem("unknown-student", cell.place, expected, f"'{cell.text}'", remedy)


def _grouped(pairs: Sequence[tuple[str, Sheet]]) -> dict[str, tuple[Sheet, ...]]:
    found: dict[str, tuple[Sheet, ...]] = {}
    for text, sheet in pairs:
        found[_plain(text)] = (*found.get(_plain(text), ()), sheet)
    return found


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
