"""The job `trial`: simulated students of known method over a bank, a few of its questions, or one question file."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.folder import load_bank, load_question_file
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.trial.classes import ClassTrial, class_trial
from witnessmark.trial.report import Report, report_of
from witnessmark.trial.tallies import Tally, trial
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Tried:
    """The report of a trial, the seed that repeats it, and how far the students' habits were bent (0: not)."""

    report: Report
    seed: int
    bend: float
    classes: ClassTrial | None = None


def try_out(
    source: Path,
    keys: tuple[str, ...],
    each: int,
    seed: int,
    bend: float,
    classes: int = 0,
    progress: Progress = no_progress,
) -> Tried:
    """Run the trial on the questions named (all when none is) of a bank, or on a question file.

    `bend` tells how far the students' shares of habits are from those assumed (`trial/bending.py`). Raises
    ProblemsFound for the bank or file, for keys that it lacks, and where nothing can be tried.
    """
    bank = load_question_file(source) if source.is_file() else load_bank(source)
    if unknown := [key for key in keys if key not in bank]:
        remedy = "one of " + ", ".join(bank)
        raise ProblemsFound(
            [Problem("no-question", Place(str(source)), "a question of the bank", k, remedy) for k in unknown]
        )
    questions = [bank[key] for key in keys or bank]
    tallies: list[Tally] = []
    for n, question in enumerate(questions, 1):
        tallies += trial([question], each, seed, bend)
        progress("questions", n, len(questions))
    if not tallies:
        remedy = "see what witnessmark check says of its variants"
        raise ProblemsFound([Problem("nothing-to-try", Place(str(source)), "numbers to work out", "none", remedy)])
    searched = class_trial(questions, classes, seed) if classes else None
    return Tried(report_of(tallies), seed, bend, searched)
