"""The job `check`: every problem of a bank, and for each question how large its space of variants is."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank_folder import load_bank
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.questions.drawing import count_allowed
from witnessmark.questions.question import Question
from witnessmark.questions.space import space

SMALL = 30


@dataclass(frozen=True, slots=True)
class QuestionReport:
    """One question: all its variants, and how many may be issued (keep holds, separable, clear judgements)."""

    key: str
    topic: str
    level: int
    variants: int
    issuable: int

    @property
    def is_small(self) -> bool:
        """True where a class would soon use the space up."""
        return self.issuable < SMALL


def check(bank_path: Path, progress: Progress = no_progress) -> tuple[QuestionReport, ...]:
    """A report on every question; raises ProblemsFound with every problem of every file."""
    questions = list(load_bank(bank_path).values())
    reports = []
    for n, question in enumerate(questions, 1):
        reports.append(_report(question))
        progress("questions", n, len(questions))
    return tuple(reports)


def _report(question: Question) -> QuestionReport:
    return QuestionReport(question.key, question.topic, question.level, space(question), count_allowed(question))
