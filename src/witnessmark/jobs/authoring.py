"""The job `new`: a question file to start from, in the folder of its topic."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.folder import MISCONCEPTIONS
from witnessmark.files.bank.misconceptions_text import misconceptions_from_text
from witnessmark.files.bank.new_question import new_question_text
from witnessmark.files.bank.question_text import KEY
from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import text_or_nothing
from witnessmark.files.safe.plain_text import LARGEST
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Begun:
    """The file that was written, and what to do next."""

    file: Path
    next_steps: tuple[str, ...]


def new_question(bank: Path, place: str) -> Begun:
    """Write the question file `place` (TOPIC/KEY, or its path) into a bank; raises ProblemsFound where it cannot be
    written."""
    place = _inside(bank, place)
    topic, _, key = place.removesuffix(".yaml").partition("/")
    file = bank / topic / f"{key}.yaml"
    problems = [*_place_problems(bank, place, topic, key)]
    if not problems and (there := _taken(bank, key)):
        problems.append(
            Problem("question-twice", Place(str(file)), "a key that no question has", str(there), "choose another key")
        )
    if problems:
        raise ProblemsFound(problems)
    text = new_question_text(key, topic, _misconceptions(bank))
    write_file(file, text.encode())
    return Begun(file, (f"edit {file}", f"witnessmark check {file}", f"witnessmark preview {file}"))


def _inside(bank: Path, place: str) -> str:
    """The place as TOPIC/KEY where the path of a file in the bank was typed."""
    path, folder = Path(place).resolve(), bank.resolve()
    return path.relative_to(folder).as_posix() if path.is_relative_to(folder) else place


def _place_problems(bank: Path, place: str, topic: str, key: str) -> list[Problem]:
    if not bank.is_dir():
        return [Problem("no-bank", Place(str(bank)), "the folder of a bank", "nothing", "make the folder first")]
    if not KEY.fullmatch(topic) or not KEY.fullmatch(key):
        expected = "TOPIC/KEY of small letters, digits and single hyphens"
        return [Problem("key-form", Place(str(bank)), expected, f"'{place}'", "such as shear/deck-bolt")]
    return []


def _taken(bank: Path, key: str) -> Path | None:
    """A question file of this name in any topic."""
    return next(iter(sorted(bank.rglob(f"{key}.yaml"))), None)


def _misconceptions(bank: Path) -> frozenset[str]:
    file = bank / MISCONCEPTIONS
    found, _, _ = misconceptions_from_text(text_or_nothing(file, LARGEST), str(file))
    return frozenset(found)
