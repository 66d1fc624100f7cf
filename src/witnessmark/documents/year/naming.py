"""How the page of a year names students, misconceptions and the entries behind its numbers."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from witnessmark.documents.page.blocks import Link, Run, Runs, Words
from witnessmark.documents.review.page import title_of
from witnessmark.questions.model.question import Misconception
from witnessmark.review.year.history import Year


@dataclass(frozen=True, slots=True)
class Naming:
    """Names of students by code, empty where they are left out; whether the document holds every answer of a task."""

    names: Mapping[str, str]
    known: Mapping[str, Misconception]
    has_answers: bool = True

    @property
    def is_named(self) -> bool:
        """True where the page may name people."""
        return bool(self.names)

    def who(self, code: str) -> str:
        """`HB01 Maren Tidemark`, or the code alone."""
        return f"{code} {self.names.get(code, '')}".strip()

    def answers(self, text: str, task: int) -> Run:
        """Text that leads to all answers of the task at this place, where the document holds them."""
        return Link(text, answers_of(task)) if self.has_answers else Words(text)

    def all(self, codes: Iterable[str]) -> str:
        """Several students, parted by commas."""
        return ", ".join(self.who(code) for code in codes)


def naming(year: Year, known: Mapping[str, Misconception], with_names: bool, has_answers: bool) -> Naming:
    """Names as the sheets have them, and as the list has them now."""
    of_sheets = {s.student.code: s.student.name for task in year.tasks for s in task.sheets}
    now = {student.code: student.name for student in year.students}
    return Naming(of_sheets | now if with_names else {}, known, has_answers)


def entries_of(key: str) -> str:
    """The anchor of the entries that show a misconception."""
    return f"entries-{key}"


def answers_of(task: int) -> str:
    """The anchor of all answers of a task, by its place in the year."""
    return f"task-{task + 1}"


def named(key: str) -> str:
    """A misconception in words."""
    return title_of(key)


def linked(key: str, text: str = "") -> Link:
    """A misconception that leads to the entries that show it."""
    return Link(text or named(key), entries_of(key))


def in_line(runs: Iterable[Run]) -> Runs:
    """Several runs, parted by semicolons."""
    found: list[Run] = []
    for run in runs:
        found += [Words("; "), run] if found else [run]
    return tuple(found)
