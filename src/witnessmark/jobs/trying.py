"""The job `trial`: simulated students of known method over a bank or a few of its questions."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank_folder import load_bank
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.trial.classes import ClassTrial, class_trial
from witnessmark.trial.report import Report, report_of
from witnessmark.trial.tallies import Tally, trial
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Tried:
    """The report of a trial, the seed that repeats it, and how often the assumed habits were bent (1: not)."""

    report: Report
    seed: int
    tilt: float
    classes: ClassTrial | None = None


def try_out(
    bank_path: Path,
    keys: tuple[str, ...],
    each: int,
    seed: int,
    tilt: float,
    classes: int = 0,
    progress: Progress = no_progress,
) -> Tried:
    """Run the trial on the questions named (all when none is); raises ProblemsFound for the bank or unknown keys."""
    bank = load_bank(bank_path)
    if unknown := [key for key in keys if key not in bank]:
        remedy = "one of " + ", ".join(bank)
        raise ProblemsFound(
            [Problem("no-question", Place(str(bank_path)), "a question of the bank", k, remedy) for k in unknown]
        )
    questions = [bank[key] for key in keys or bank]
    tallies: list[Tally] = []
    for n, question in enumerate(questions, 1):
        tallies += trial([question], each, seed, tilt)
        progress("questions", n, len(questions))
    searched = class_trial(questions, classes, seed) if classes else None
    return Tried(report_of(tallies), seed, tilt, searched)
