"""How a teacher wants the desk to speak: the language, the sign of decimals, the form of dates; kept in `desk.yaml`,
beside the classes or in the one class that a desk was opened on."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from pathlib import Path

from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.plain_text import LARGEST, decoded
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.yaml_text import read_yaml
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem

FILE = "desk.yaml"
CHOICES: Mapping[str, tuple[str, ...]] = {
    "language": ("en", "de"), "decimals": ("point", "comma"), "dates": ("in words", "year first", "day first"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class DeskSettings:
    """One of `CHOICES` for each; as they are where nothing else is set."""

    language: str = "en"
    decimals: str = "point"
    dates: str = "in words"


def read_settings(folder: Path) -> tuple[DeskSettings, tuple[Problem, ...]]:
    """The settings of a folder; the usual ones where it has none, and in the place of what has a problem."""
    file = folder / FILE
    if not file.exists():
        return DeskSettings(), ()
    data, problems = read_bounded(file, LARGEST)
    text, more = decoded(data, FILE)
    read, unread = read_yaml(text, FILE)
    placed = Placed(read)
    placed.problems += (*problems, *more, *unread)
    given = read.data if isinstance(read.data, dict) else {}
    kept = {key: value for key, value in given.items() if _fits(placed, key, value)}
    return replace(DeskSettings(), **kept), placed.in_order()


def _fits(placed: Placed, key: str, value: object) -> bool:
    if key not in CHOICES:
        placed.add_key("unknown-key", (key,), f"one of {', '.join(CHOICES)}", f"'{key}'", near_or_all(key, CHOICES))
        return False
    if value not in CHOICES[key]:
        placed.add("wrong-value", (key,), f"one of {', '.join(CHOICES[key])}", shown(value))
        return False
    return True


def keep_settings(folder: Path, wanted: DeskSettings) -> None:
    """Keep settings in a folder; raises ProblemsFound for a choice that there is not."""
    problems = [
        Problem("wrong-value", Place(one.name), f"one of {', '.join(CHOICES[one.name])}", f"'{value}'")
        for one in fields(wanted) if (value := getattr(wanted, one.name)) not in CHOICES[one.name]
    ]  # fmt: skip
    if problems:
        raise ProblemsFound(problems)
    lines = [f"{one.name}: {getattr(wanted, one.name)}" for one in fields(wanted)]
    write_file(folder / FILE, "\n".join(["# How the desk speaks to you.", *lines, ""]).encode())
