"""The cells of a gradebook in which a teacher types, and what tells later whether they were touched."""

from decimal import Decimal

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import PartRow
from witnessmark.documents.gradebook.writer import Look
from witnessmark.documents.workbook.text import writable
from witnessmark.questions.sheet import gradebook_columns as columns
from witnessmark.record.rows import Moderation

OWN = (columns.MARK, columns.REASON, columns.SAY)


def heading_look(heading: str) -> Look:
    """The look of a heading: those of cells to type in stand out."""
    return looks.OWN_HEADING if heading in OWN else looks.HEADING


def marks_text(marks: Decimal | None) -> str:
    """Marks as they come back from a cell: `2.5`; nothing for None."""
    return "" if marks is None else f"{marks.normalize():f}"


def written_mark(part: PartRow, mine: Moderation | None, mark: str = "", criteria: tuple[str, ...] = ()) -> str:
    """What a row says of itself: the mark that stood, what tells a change since, and what tells a touched cell.

    `mark` is the text of the teacher's mark where it is no number, `criteria` those of the criteria.
    """
    own = mark or marks_text(mine.marks if mine and not criteria else None)
    cells = (*criteria, own, writable(mine.why) if mine else "", writable(mine.say) if mine else "")
    return f"{marks_text(part.marks)} {part.state} {columns.filled_mark(cells)}"
