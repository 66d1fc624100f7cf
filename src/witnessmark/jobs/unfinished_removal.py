"""A removal under way: whose data it is, in a hidden file of the class until all of it is gone."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path

from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

REMOVING = ".removing.json"


@dataclass(frozen=True, slots=True)
class Pending:
    """A student whose data is being removed: code, name, the codes of the sheets that were issued, and the documents of
    the class (paths in its folder, with `/`) that are to be written anew."""

    student: str
    name: str
    sheets: tuple[str, ...]
    anew: tuple[str, ...] = ()


def as_bytes(whose: Pending) -> bytes:
    """The file's content."""
    return json.dumps(asdict(whose)).encode()


def pending(class_path: Path) -> Pending | None:
    """The removal that was interrupted in a class, or None; ProblemsFound where its file cannot be read."""
    file = class_path / REMOVING
    if not file.is_file():
        return None
    try:
        found = json.loads(file.read_bytes())
        sheets, anew = (tuple(map(str, found.get(key, ()))) for key in ("sheets", "anew"))
        return Pending(str(found["student"]), str(found["name"]), sheets, anew)
    except (OSError, ValueError, KeyError, TypeError) as error:
        expected, remedy = "what an interrupted removal left", "remove the student once more, then delete this file"
        raise ProblemsFound([Problem("removal-unreadable", Place(str(file)), expected, str(error), remedy)]) from error


def refuse_unfinished(class_path: Path) -> None:
    """ProblemsFound while a removal waits to be finished: anything else could bring the student back."""
    whose = pending(class_path)
    if whose is not None:
        remedy = f"witnessmark remove {class_path} {whose.student} --who NAME --apply"
        expected, found = "no removal under way", f"that of {whose.student}, which was interrupted"
        raise ProblemsFound([Problem("removal-unfinished", Place(str(class_path)), expected, found, remedy)])
