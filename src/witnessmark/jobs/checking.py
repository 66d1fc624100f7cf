"""The job `check`: every problem of a bank or of one question file, what no draw can part, and what to remark."""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from witnessmark.files.bank_folder import load_bank, load_question_file
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.maths.compiled import compiled
from witnessmark.questions.bank import Bank
from witnessmark.questions.checks import remarks_on
from witnessmark.questions.drawing import count_allowed
from witnessmark.questions.evaluation import names_in_full
from witnessmark.questions.levels import steps
from witnessmark.questions.question import Kind, Question
from witnessmark.questions.separation import clashes, keeps
from witnessmark.questions.space import choices, columns_of, pick_of, space
from witnessmark.questions.variant import DEFAULT_FIGURES
from witnessmark.questions.working import Columns, worked
from witnessmark.words.problems import Place, Problem

SMALL = 30
SAMPLE = 400


@dataclass(frozen=True, slots=True)
class QuestionReport:
    """One question: all its variants, how many may be issued (keep holds, separable, clear judgements), its steps.

    `pairs` are methods that give one number in every variant, so that an outcome names both; `judged` is the share of
    variants in which each judgement is a yes, by part; `remarks` are what a teacher would ask about.
    """

    key: str
    topic: str
    level: int
    steps: int
    variants: int
    issuable: int
    pairs: tuple[str, ...] = ()
    judged: tuple[tuple[str, float], ...] = ()
    remarks: tuple[Problem, ...] = ()

    @property
    def is_small(self) -> bool:
        """True where a class would soon use the space up."""
        return self.issuable < SMALL


@dataclass(frozen=True, slots=True)
class Checked:
    """What was checked: a report on each question, and notes on the bank (none for a single file)."""

    questions: tuple[QuestionReport, ...]
    notes: tuple[Problem, ...] = ()

    @property
    def problems(self) -> tuple[Problem, ...]:
        """A problem for each question of which nothing can be issued."""
        expected, remedy = "variants that can be issued", "widen the values, or look at keep and at the slips"
        return tuple(
            Problem("no-variant", Place(q.key), expected, f"none of {q.variants}", remedy)
            for q in self.questions
            if not q.issuable
        )


def check(source: Path, progress: Progress = no_progress) -> Checked:
    """A report on every question of a bank, or on that of one file; raises ProblemsFound with every problem."""
    bank = load_question_file(source) if source.is_file() else load_bank(source)
    reports = []
    for n, question in enumerate(bank.values(), 1):
        reports.append(report_on(question, bank, source if source.is_file() else None))
        progress("questions", n, len(bank))
    return Checked(tuple(reports), bank.notes)


def report_on(question: Question, bank: Bank, file: Path | None = None) -> QuestionReport:
    """The report on one question; its remarks stand at the key, or at its file."""
    where = Place(str(file)) if file else Place(str(bank.figures_path.parent / question.topic / f"{question.key}.yaml"))
    remarks = tuple(replace(remark, place=where) for remark in remarks_on(question))
    givens, size = _sample(question)
    return QuestionReport(
        question.key, question.topic, question.level, steps(question), space(question), count_allowed(question),
        _pairs(question, givens, size), _judged(question, givens, size), remarks,
    )  # fmt: skip


def _sample(question: Question) -> tuple[Columns, int]:
    """Some variants that keep what the question asks, as columns."""
    counts = [choice.count for choice in choices(question)]
    picks = list(dict.fromkeys(pick_of(counts, f"check|{i}") for i in range(SAMPLE)))
    columns = columns_of(question, picks)
    good = np.flatnonzero(keeps(question, columns, len(picks)))
    return {name: values[good] for name, values in columns.items()}, len(good)


def _pairs(question: Question, givens: Columns, size: int) -> tuple[str, ...]:
    """Methods of one place that no draw can part: `a: this-slip = that-slip`."""
    if not size:
        return ()
    found = [c for c in clashes(question, givens, size, DEFAULT_FIGURES) if c.always]
    return tuple(dict.fromkeys(f"{c.key}: {c.first} = {c.second}" for c in found))


def _judged(question: Question, givens: Columns, size: int) -> tuple[tuple[str, float], ...]:
    """How often each judgement is a yes."""
    names = names_in_full(question, givens, worked(question, givens))
    trees = [(part.key, part.judge) for part in question.parts if part.kind is Kind.JUDGE and size]
    said = [(key, np.broadcast_to(compiled(tree)(names), size)) for key, tree in trees if tree is not None]
    return tuple((key, float(truth.mean())) for key, truth in said)
