"""Words that several documents share: placeholders filled in, marks and dates as people write them."""

import re
from datetime import date
from decimal import Decimal
from functools import lru_cache

from witnessmark.maths.same_object import SameObject
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import lines_of, names_of, symbol_of
from witnessmark.questions.model.parts import HandPart, Part
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Student

__all__ = [
    "GENERAL_CAUTION", "criteria_texts", "date_text", "filled", "listed", "marks_of", "marks_text", "marks_words",
    "paragraphs", "student_field", "symbols_of", "total_of",
]  # fmt: skip
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
HALF = Decimal("0.5")
GENERAL_CAUTION = (
    "The values on this sheet are for learning. Do not size a press, a jack, a vessel or a lifting point from them: "
    "real work follows the local codes and the judgement of somebody licensed to do it."
)


def paragraphs(text: str) -> tuple[str, ...]:
    """The paragraphs of an author's text, which blank lines part."""
    return tuple(piece for piece in re.split(r"\n\s*\n", text.strip()) if piece.strip())


def symbols_of(question: Question) -> dict[str, str]:
    """The symbol text of every name that the question's formulae use: givens, lines, results, constants."""
    return dict(_symbols_of(SameObject(question)))


@lru_cache(maxsize=256)
def _symbols_of(same: SameObject[Question]) -> dict[str, str]:
    question = same.it
    symbols = {name: constant.symbol for name, constant in CONSTANTS.items()}
    for part in (*question.parts, *question.quantities):
        symbols |= {line.name: line.symbol for line in lines_of(part) if line.symbol}
        if symbol := symbol_of(part):
            symbols |= dict.fromkeys((*names_of(part), symbol), symbol)
    return symbols | {given.name: given.symbol for given in question.givens if given.symbol}


def marks_text(marks: Decimal) -> str:
    """Marks as people write them: `3`, `2½`, `½`."""
    whole, rest = divmod(marks, 1)
    if rest == HALF:
        return f"{whole:f}½" if whole else "½"
    return f"{marks.normalize():f}"


def marks_words(marks: Decimal) -> str:
    """`3 marks`, `1 mark`, `½ mark`."""
    return f"{marks_text(marks)} {'mark' if marks <= 1 and marks != 0 else 'marks'}"


def marks_of(marks: Decimal, out_of: Decimal) -> str:
    """`2½ of 3`."""
    return f"{marks_text(marks)} of {marks_text(out_of)}"


def criteria_texts(part: HandPart) -> tuple[tuple[str, str], ...]:
    """What the teacher looks for in a part marked by hand, each with its marks, after a dot."""
    return tuple(("•", f"{text} ({marks_words(marks)})") for text, marks in part.criteria)


def student_field(student: Student, with_name: bool) -> str:
    """Whom a sheet is for: the code, and the name only where that is asked for, since sheets travel."""
    return f"{student.code}, {student.name}" if with_name and student.name else student.code


def listed(items: list[str]) -> str:
    """`1a, 1b and 2c`."""
    return " and ".join([", ".join(items[:-1]), items[-1]] if len(items) > 1 else items)


def date_text(day: date) -> str:
    """A date that nobody misreads: `5 March 2027`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def total_of(parts: tuple[Part, ...]) -> Decimal:
    """The marks of several parts together."""
    return sum((part.marks for part in parts), Decimal(0))
