"""Where each answer stands in an answer book, so that whoever writes the book and whoever reads it agree."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.questions.sheet.task import Ask, Sheet

PAGE = "Answers"
LABELS, WHAT, ANSWER, UNIT, HOW = "A", "B", "C", "D", "E"
CODE_CELL = "B2"
STUDENT_CELL = "B3"
HOW_TO_ROW = 4
HEADING_ROW = 5
FIRST_ROW = 6

NOTE_LABEL, NOTE_NAME = "Note", "note_to_teacher"
"""What stands before the cell for a note to the teacher, and the defined name of that cell."""

HIDDEN_PAGE = "witness mark"
HIDDEN_CODE_CELL = "B1"
HIDDEN_TASK_CELL = "B2"
CODE_PROPERTY = "sheet code"


@dataclass(frozen=True, slots=True)
class AnswerPlace:
    """The cells of one ask: its label, what is typed, its unit (empty where none is wanted), and the names of both."""

    ask: Ask
    row: int
    name: str

    @property
    def label(self) -> str:
        """The cell that holds the label (`1a`), by which the row is known again."""
        return f"{LABELS}{self.row}"

    @property
    def answer(self) -> str:
        """The cell for the number, or for the whole answer."""
        return f"{ANSWER}{self.row}"

    @property
    def unit(self) -> str:
        """The cell for the unit; empty where the answer has none."""
        return f"{UNIT}{self.row}" if self.ask.has_unit else ""

    @property
    def unit_name(self) -> str:
        """The defined name of the unit cell."""
        return f"{self.name}_unit"


def answer_places(sheet: Sheet) -> tuple[AnswerPlace, ...]:
    """The place of every ask, in sheet order; each question has a row for its title above its own.

    The defined names count the asks (`answer_1`), because line names may differ in capitals alone, which names may not.
    """
    return tuple(AnswerPlace(ask, FIRST_ROW + n + ask.number - 1, f"answer_{n}") for n, ask in enumerate(sheet.asks, 1))


def note_row(places: Sequence[AnswerPlace]) -> int:
    """The row of the note to the teacher: below the last answer, with an empty row between."""
    return max(place.row for place in places) + 2


def title_rows(places: Sequence[AnswerPlace]) -> dict[int, int]:
    """The row of each question's title, by its number on the sheet."""
    rows: dict[int, int] = {}
    for place in places:
        rows.setdefault(place.ask.number, place.row - 1)
    return rows


def answer_cells(sheet: Sheet) -> dict[str, tuple[str, str]]:
    """The answer cell and the unit cell (or ``) by ask key, such as `1.a`: (`C8`, `D8`)."""
    return {place.ask.key: (place.answer, place.unit) for place in answer_places(sheet)}
