"""The exceptions that leave the library. Errors of people carry their problems; errors of programmers are built-ins."""

from collections.abc import Iterable
from typing import Self

from witnessmark.words.problems import Problem, in_reading_order


class WitnessMarkError(Exception):
    """Base of every error that this package raises on purpose."""


class ProblemsFound(WitnessMarkError):
    """Raised when a person's files cannot be used; `problems` holds all of them, in reading order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = in_reading_order(problems)
        super().__init__("\n".join(str(p) for p in self.problems))

    def __reduce__(self) -> tuple[type[Self], tuple[tuple[Problem, ...]]]:
        """It reaches another process with its problems."""
        return type(self), (self.problems,)


class FormulaError(WitnessMarkError):
    """Raised when the text of an expression cannot be read; `column` counts from 1."""

    def __init__(self, message: str, column: int = 1, remedy: str = "") -> None:
        self.message, self.column, self.remedy = message, column, remedy
        super().__init__(message)


class UnitError(WitnessMarkError):
    """Raised when a unit is not one of ours, or two units do not share a dimension."""


class NoVariant(WitnessMarkError):
    """Raised when a question has fewer variants that may be issued (`count`) than are needed (`needed`)."""

    def __init__(self, question: str, count: int, needed: int) -> None:
        self.question, self.count, self.needed = question, count, needed
        super().__init__(
            f"question {question} has {count} variants that may be issued and {needed} are needed; widen its ranges"
        )


class UnknownName(KeyError):
    """Raised for a name that is not there, as every KeyError is; `there` says what there is instead, in a sentence."""

    def __init__(self, name: str, there: str) -> None:
        self.name, self.there = name, there
        super().__init__(name, there)

    def __str__(self) -> str:
        return f"{self.name}: {self.there}"
