"""The headings of a class table, so that whoever writes it and whoever reads it agree."""

from collections.abc import Iterable

from witnessmark.questions.sheet.task import Ask, Sheet

PAGE = "Class table"
SHEET, STUDENT, NAME, GROUP = "sheet code", "student", "name", "group"
WHO = (SHEET, STUDENT, NAME, GROUP)
NOTE_HEADING = "note"  # what a student wrote to the teacher
UNITS_ROW = "asked in"  # in the first cell of the row below the headings


def asks_of(sheets: Iterable[Sheet]) -> tuple[Ask, ...]:
    """Every ask of a task, each once, in the order of the sheets (which ask the same unless the bank changed)."""
    return tuple({ask.label: ask for sheet in sheets for ask in sheet.asks}.values())
