"""The job `trial`: simulated students of known method over a bank, a few of its questions, or one question file."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.bundle import opened_bundle
from witnessmark.files.bank.folder import load_bank, load_question_file
from witnessmark.files.shapes.yaml_text import read_yaml
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import declared_units
from witnessmark.strangers.papers import Paper, paper_of
from witnessmark.trial.classes import ClassTrial, class_trial
from witnessmark.trial.judging import Judged, judged
from witnessmark.trial.measures import Judgement, judgement_of
from witnessmark.trial.planted import PlantedMethods, planted_classes, planted_methods
from witnessmark.trial.report import Report, report_of
from witnessmark.trial.tallies import Tally, trial
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

STUDENTS_PER_STRANGER = 6
"""Of so many students of the first kind to a method there is one round of strangers, who do more at once."""


@dataclass(frozen=True, slots=True)
class Tried:
    """The report of a trial, the seed that repeats it, and how far the students' habits were bent (0: not).

    `judgement` is what strangers tell: students who share no code with the marker.
    """

    report: Report
    judgement: Judgement
    seed: int
    bend: float
    classes: ClassTrial | None = None
    planted: PlantedMethods | None = None


def try_out(
    source: Path,
    keys: tuple[str, ...],
    each: int,
    seed: int,
    bend: float,
    classes: int = 0,
    planted: int = 0,
    progress: Progress = no_progress,
) -> Tried:
    """Run the trial on the questions named (all when none is) of a bank, or on a question file.

    `bend` tells how far the students' shares of habits are from those assumed (`trial/bending.py`); `planted` how many
    wrong methods that no question lists are planted in classes of strangers (`trial/planted.py`). Raises
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
    strange: list[Judged] = []
    for n, question in enumerate(questions, 1):
        tallies += trial([question], each, seed, bend)
        strange += judged(question, paper(question), max(1, each // STUDENTS_PER_STRANGER), seed)
        progress("questions", n, len(questions))
    if not tallies:
        remedy = "see what witnessmark check says of its variants"
        raise ProblemsFound([Problem("nothing-to-try", Place(str(source)), "numbers to work out", "none", remedy)])
    searched = class_trial(questions, classes, seed) if classes else None
    strange_classes = planted_methods(list(planted_classes([(q, paper(q)) for q in questions], planted, seed)))
    return Tried(report_of(tallies), judgement_of(strange), seed, bend, searched, strange_classes)


def paper(question: Question) -> Paper:
    """A question as strangers have it: the text of its file, and the units of the numbers on a sheet."""
    text = opened_bundle(question.source)[0]
    return paper_of(read_yaml(text, question.key)[0].data, declared_units(question))
