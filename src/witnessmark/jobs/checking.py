"""The job `check`: every problem of a bank or of one question file, how far methods lie apart, and what to remark."""

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from witnessmark.files.bank.folder import AsFarAsRead, question_file_of, read_bank, read_question_file
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.questions.bank import Bank
from witnessmark.questions.checking.diagnosis import problems_of, remarks_of
from witnessmark.questions.checking.levels import steps
from witnessmark.questions.checking.method_clashes import Pair
from witnessmark.questions.checking.remarks import remarks_on
from witnessmark.questions.checking.spread import Spread, spread
from witnessmark.questions.model.question import Question
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault, attempt
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class QuestionReport:
    """One question: its steps, the spread of its variants, its problems, and remarks that a teacher would ask about."""

    key: str
    topic: str
    level: int
    steps: int
    file: str
    spread: Spread
    problems: tuple[Problem, ...] = ()
    remarks: tuple[Problem, ...] = ()

    @property
    def variants(self) -> int:
        """How many variants there are before any condition."""
        return self.spread.variants

    @property
    def issuable(self) -> int:
        """How many of them may be issued: keep holds, methods lie apart, judgements are clear, no result is plain."""
        return self.spread.issuable

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """Methods that give one number in every variant."""
        return self.spread.pairs

    @property
    def judged(self) -> tuple[tuple[str, float], ...]:
        """The share of variants in which each judgement is a yes, by part."""
        return self.spread.judged


@dataclass(frozen=True, slots=True)
class Checked:
    """What was checked: a report on each question, and notes on the bank (none for a single file, `one_file`); `faults`
    are questions that could not be looked at."""

    questions: tuple[QuestionReport, ...]
    notes: tuple[Problem, ...] = ()
    one_file: bool = False
    faults: tuple[Fault, ...] = ()

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The problems of every question."""
        return tuple(problem for report in self.questions for problem in report.problems)


def check(source: Path, progress: Progress = no_progress) -> Checked:
    """A report on every question of a bank, or on that of one file.

    Raises ProblemsFound with every problem of the files, and then also with those of the questions that can be read, or
    of what remains of one without the finds that cannot.
    """
    one_file = source.is_file()
    read = read_question_file(source) if one_file else read_bank(source)
    if read.problems:
        raise ProblemsFound((*read.problems, *of_what_is_read(read, source if one_file else None)))
    bank = read.bank
    reports: list[QuestionReport] = []
    faults: list[Fault] = []
    for n, question in enumerate(bank.values(), 1):
        made = attempt(partial(report_on, question, bank, source if one_file else None), Place(question.key))
        if isinstance(made, Fault):
            faults.append(made)
        else:
            reports.append(made)
        progress("questions", n, len(bank))
    return Checked(tuple(reports), bank.notes, one_file, tuple(faults))


def of_what_is_read(read: AsFarAsRead, file: Path | None) -> tuple[Problem, ...]:
    """What stands against the questions of a bank that has problems of its own."""
    found: list[Problem] = []
    whole = [(question, str(file or _file_in(read.bank, question))) for question in read.bank.values()]
    for question, where in (*whole, *((q, str(at)) for at, q in read.remains.items())):
        made = attempt(partial(_problems_at, question, where), Place(where))
        found += made if not isinstance(made, Fault) else ()
    return tuple(found)


def _problems_at(question: Question, where: str) -> tuple[Problem, ...]:
    return _placed(problems_of(question, spread(question)), where)


def report_on(question: Question, bank: Bank, file: Path | None = None) -> QuestionReport:
    """The report on one question; its problems and remarks stand at its file."""
    where = str(file or _file_in(bank, question))
    found = spread(question)
    return QuestionReport(
        question.key, question.topic, question.level, steps(question), where, found,
        _placed(problems_of(question, found), where),
        _placed((*remarks_on(question), *remarks_of(question, found)), where),
    )  # fmt: skip


def _file_in(bank: Bank, question: Question) -> Path:
    """The file of a question where it really lies, which need not be the folder of its topic, nor bear its key."""
    folder = bank.figures_path.parent
    usual = folder / question.topic / f"{question.key}.yaml"
    return usual if usual.is_file() else question_file_of(folder, question.key) or usual


def _placed(problems: tuple[Problem, ...], where: str) -> tuple[Problem, ...]:
    return tuple(replace(problem, place=Place(where)) for problem in problems)
