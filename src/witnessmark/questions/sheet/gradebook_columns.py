"""The headings of the pages of a gradebook that a teacher fills in, so that whoever writes and whoever reads agree."""

import hashlib
import json
from decimal import Decimal

ANSWERS, BY_HAND = "Answers", "Hand "
"""The page of all answers; a page for each part that is marked by hand is called by its label, `Hand 2f`."""
STUDENT, SHEET, PART = "student", "sheet code", "part"
MARKS, OUT_OF = "marks", "out of"
MARK, REASON, SAY = "your mark", "your reason", "for the student"
WRITTEN = "as written"
"""A column that tells which row was filled in since, and which mark has changed since; hidden."""


def hand_page(label: str) -> str:
    """The name of the page of a part that is marked by hand: `Hand 2f`."""
    return f"{BY_HAND}{label}"


def elsewhere(label: str) -> str:
    """What stands in the place of the teacher's mark of a part that has a page of its own."""
    return f"type it on the page {hand_page(label)}"


def criterion_heading(name: str, marks: Decimal) -> str:
    """The heading of a criterion, with the most that it gives: `straight edges (2)`."""
    return f"{' '.join(name.split())} ({marks.normalize():f})"


def plain(text: str) -> str:
    """A text as it comes back from any spreadsheet program: line ends and blanks around it are no difference."""
    return "\n".join(line.rstrip() for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")).strip()


def state_mark(marks: Decimal, raw: str, teacher: tuple[str, ...] | None) -> str:
    """What tells whether an answer's entry, mark, or the teacher's words about it have changed since."""
    return _short([f"{marks.normalize():f}", raw, list(teacher) if teacher is not None else None])


def filled_mark(cells: tuple[str, ...]) -> str:
    """What tells whether the cells that a teacher fills in were touched since they were written."""
    return _short([plain(cell) for cell in cells])


def _short(told: object) -> str:
    return hashlib.sha256(json.dumps(told, ensure_ascii=True).encode()).hexdigest()[:12]
