"""The job `start`: a class folder to fill in."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.folder import start_class
from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Started:
    """The files written, what to do next, and what is to be known of the folder's place."""

    files: tuple[Path, ...]
    next_steps: tuple[str, ...]
    notes: tuple[Problem, ...] = ()


def start(folder: Path, title: str, bank: Path, now: datetime) -> Started:
    """Write a new class folder that draws on a bank; raises ProblemsFound when one is there already, or no bank is."""
    if not bank.is_dir():
        raise ProblemsFound([_no_bank(bank)])
    files = start_class(folder, title, bank, now)
    steps = (
        f"list your students in {folder / 'students.csv'}",
        f"choose questions in a file of {folder / 'tasks'}",
        f"witnessmark issue {folder} TASK",
    )
    return Started(tuple(files), steps, whereabouts(folder))


def _no_bank(bank: Path) -> Problem:
    remedy = "type --bank and the path of your bank, the folder that holds misconceptions.yaml and the questions"
    return Problem(
        "no-bank", Place(str(bank)), "the folder of a bank", "a file" if bank.exists() else "nothing", remedy
    )
