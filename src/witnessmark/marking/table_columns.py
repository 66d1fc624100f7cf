"""Which columns of a table are givens and which are answers of a question, and what to say where that leads nowhere."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.marking.answers import places_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import declared_units
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import near


@dataclass(frozen=True, slots=True)
class TableColumns:
    """The columns that count: givens (cells and names of rows with them) and answers; `strange` are all others."""

    givens: tuple[str, ...]
    answers: tuple[str, ...]
    strange: tuple[str, ...]


def columns_of_table(question: Question, columns: Iterable[str]) -> TableColumns:
    """The columns of a table by what they are; UnknownName where none is a given, or none an answer."""
    names, known = list(columns), known_givens(question)
    givens = tuple(name for name in names if name in known)
    answers = tuple(key for key in places_of(question) if key in names)
    strange = tuple(str(name) for name in names if name not in known and name not in answers)
    found = TableColumns(givens, answers, strange)
    if not givens:
        raise UnknownName("no column is a given", _expected(question, known, found))
    if not answers:
        raise UnknownName("no column is an answer", _expected(question, places_of(question), found))
    return found


def known_givens(question: Question) -> tuple[str, ...]:
    """The names of all givens, of rows that are drawn, and of their cells."""
    return tuple(dict.fromkeys([*declared_units(question), *(row.name for row in question.rows)]))


def nothing_marked(question: Question, found: TableColumns) -> UnknownName:
    """What is wrong where no answer of a table can be marked: the givens that are told and have no column."""
    rows = [row.name for row in question.rows if not any(_belongs(name, row.name) for name in found.givens)]
    drawn = [name for name in question.stated if name not in found.givens]
    missing = [*drawn, *rows]
    there = f"no column of this name, and without it {', '.join(found.answers)} cannot be marked"
    return UnknownName(", ".join(missing), f"{there}{_hints(missing, found)}")


def _belongs(name: str, row: str) -> bool:
    return name == row or name.startswith(f"{row}.")


def _expected(question: Question, known: Sequence[str], found: TableColumns) -> str:
    there = f"expected some of {', '.join(known)} of {question.key}"
    return f"{there}, found {', '.join(found.strange) or 'none'}{_hints(known, found)}"


def _hints(wanted: Sequence[str], found: TableColumns) -> str:
    """What the columns that say nothing may be meant for."""
    hints = [f"{name}: {hint}" for name in found.strange if (hint := near(name, wanted))]
    return "".join(f"; {hint}" for hint in hints)
