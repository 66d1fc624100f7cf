"""The job `start`: a class folder to fill in."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.folder import start_class
from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.files.safe.atomic import make_folder
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

PACKAGE = Path(__file__).resolve().parents[1]
OWN_BANK = "bank"


@dataclass(frozen=True, slots=True)
class Started:
    """The files written, what to do next, and what is to be known of the folder's place."""

    files: tuple[Path, ...]
    next_steps: tuple[str, ...]
    notes: tuple[Problem, ...] = ()


def own_bank(home: Path) -> Path:
    """The bank in a folder of classes; where there is none, a copy of the one that comes with the program, to be
    changed at will."""
    bank = home / OWN_BANK
    if not bank.exists():
        there = starter_bank()
        files = {path.relative_to(there).as_posix(): path.read_bytes() for path in there.rglob("*") if path.is_file()}
        make_folder(bank, files)
    return bank


def starter_bank() -> Path:
    """The bank that comes with the program: in the repository, or inside an installed package."""
    inside = PACKAGE / "starter_bank"
    return inside if inside.is_dir() else PACKAGE.parents[1] / "bank"


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
