"""The class folder: made with its first files, and read with every problem of class.yaml and students.csv."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path

from witnessmark.files.class_folder.groups_text import ClassGroup, groups_of
from witnessmark.files.class_folder.sides_text import PRINT, prints_both_sides, with_sides
from witnessmark.files.class_folder.students_csv import read_students
from witnessmark.files.safe.atomic import make_folder
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.plain_text import LARGEST, decoded
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.yaml_text import UNPRINTABLE, read_yaml
from witnessmark.questions.sheet.task import Student
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near
from witnessmark.words.problems import Place, Problem

CLASS = "class.yaml"
STUDENTS = "students.csv"
EXAMPLE = "tasks/example.txt"
LONGEST_TITLE = 200
KEYS = ("class", "bank", "started", "groups", PRINT)

CLASS_TEXT = """\
# One class: its title, and the bank of questions that it draws on (a path from this folder).
class: {title}
bank: {bank}
started: {started}
# Where each group works and when it is visited; may be left out.
# groups:
#   Hat Box Boats: {{place: Hat Box Lane 4, visits: [{started}]}}
"""
STUDENTS_TEXT = "code,name,group\n"
EXAMPLE_TEXT = """\
# An example of a task. Copy it to a file whose name is the task and ends with .yaml (shear-1.yaml), in this folder.
task: shear-1                 # the name of the file
title: Shear and punching     # printed on every sheet
questions:                    # keys of the bank, in the order of the sheet
  - drain-hole
due: {due}               # may be left out
rules:                        # may be left out; these are the usual ones
  figures: 3                  # significant figures that results are rounded to
"""
README_TEXT = """\
{title}

class.yaml      title and bank
students.csv    one line for each student: code,name,group (a yard, site or set), and any columns of your own
tasks           one file for each task; see tasks/example.txt
record.db       written by the program: everything issued, returned and marked. Do not edit it.
drafts          questions that are being written at the desk and are not in the bank yet
copies          copies of record.db, one before each command that writes; witnessmark restore puts one in its place

This folder holds students' names and marks: keep it on machines that you answer for.
The exercises are for learning, not for sizing a press, a jack, a vessel or a lifting point.
"""


@dataclass(frozen=True, slots=True)
class ClassFolder:
    """A class as its files tell it. `bank` is the folder of the bank; with problems, the rest is what could be read."""

    title: str
    bank: Path
    students: tuple[Student, ...]
    problems: tuple[Problem, ...] = ()
    started: date | None = None
    groups: Mapping[str, ClassGroup] = field(default_factory=dict)
    both_sides: bool = False


def start_class(path: Path, title: str, bank: Path, now: datetime) -> tuple[Path, ...]:
    """Make a class folder, wholly or not at all; the files written.

    Raises ProblemsFound when the title is empty or the folder is there already and holds anything.
    """
    title = " ".join(title.split())
    if not title or UNPRINTABLE.search(title) or len(title) > LONGEST_TITLE:
        expected = f"a title of printable text, of at most {LONGEST_TITLE} characters"
        raise ProblemsFound([Problem("no-title", Place(str(path)), expected, shown(title))])
    start = now.date()
    files = {
        CLASS: CLASS_TEXT.format(title=_quoted(title), bank=_quoted(_way_to(bank, path)), started=start.isoformat()),
        STUDENTS: STUDENTS_TEXT,
        EXAMPLE: EXAMPLE_TEXT.format(due=start.isoformat()),
        "README.txt": README_TEXT.format(title=title),
    }
    make_folder(path, {name: text.encode() for name, text in files.items()})
    return tuple(path / name for name in files)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _way_to(bank: Path, folder: Path) -> str:
    """The bank from inside the folder, so that both can move together; in full where no such way leads (drives)."""
    try:
        return Path(os.path.relpath(bank.resolve(), folder.resolve())).as_posix()
    except ValueError:
        return bank.resolve().as_posix()


def read_class(path: Path) -> ClassFolder:
    """The class in a folder, with every problem of class.yaml and students.csv; nothing is raised for them."""
    if not (path / CLASS).is_file():
        found = "no class.yaml in it" if path.is_dir() else "no such folder"
        remedy = f"witnessmark start {path}"
        return ClassFolder("", path, (), (Problem("no-class", Place(str(path)), "a class folder", found, remedy),))
    folder = _read_class_yaml(path)
    students, problems = _read_students(path / STUDENTS)
    return replace(folder, students=students, problems=(*folder.problems, *problems))


def _read_students(file: Path) -> tuple[tuple[Student, ...], tuple[Problem, ...]]:
    if not os.path.lexists(file):
        remedy = "write one with the headings code,name,group"
        return (), (Problem("no-students", Place(str(file)), "a list of students", "none", remedy),)
    data, problems = read_bounded(file, LARGEST)
    return ((), problems) if problems else read_students(data, str(file))


_yaml_once = lru_cache(maxsize=8)(read_yaml)
"""The same text is read once: a page that stays open asks for it several times in each look."""


def _read_class_yaml(path: Path) -> ClassFolder:
    file = path / CLASS
    data, problems = read_bounded(file, LARGEST)
    text, problems = ("", problems) if problems else decoded(data, str(file))
    if problems:
        return ClassFolder("", path, (), problems)
    read, problems = _yaml_once(text, str(file))
    placed = Placed(read)
    if isinstance(read.data, dict):
        title, bank, started = _title(placed), _bank(placed, path), _started(placed)
        groups, both_sides = groups_of(placed), prints_both_sides(placed)
        for key in read.data:
            if key not in KEYS:
                placed.add_key("unknown-key", (key,), f"one of {', '.join(KEYS)}", f"'{key}'", near(key, KEYS))
        return ClassFolder(title, bank, (), (*problems, *placed.problems), started, groups, both_sides)
    if not problems:
        placed.add("wrong-value", (), "keys and values", shown(read.data), "type key: value")
    return ClassFolder("", path, (), (*problems, *placed.problems))


def class_yaml_printing(path: Path, both_sides: bool) -> bytes | None:
    """The class.yaml of a folder with this said of how its sheets are printed; None where it says so already."""
    if _read_class_yaml(path).both_sides == both_sides:
        return None
    text, _ = decoded((path / CLASS).read_bytes(), CLASS)
    return with_sides(text, both_sides).encode()


def _text(placed: Placed, key: str) -> str:
    """The text at a key that must be there; empty with a problem when it is not."""
    if key not in placed.text.data:
        placed.add("missing-key", (), f"the key '{key}'", "none", f"add {key}:")
        return ""
    value = placed.text.data[key]
    if not isinstance(value, str) or not value.strip():
        placed.add("wrong-value", (key,), "text", shown(value), "put it in quotes")
        return ""
    return " ".join(value.split())


def _title(placed: Placed) -> str:
    title = _text(placed, "class")
    if len(title) > LONGEST_TITLE:
        placed.add("out-of-range", ("class",), f"at most {LONGEST_TITLE} characters", f"{len(title)}")
    return title


def _bank(placed: Placed, path: Path) -> Path:
    way = _text(placed, "bank")
    bank = Path(os.path.normpath(path.resolve() / way))
    if way and not bank.is_dir():
        remedy = "type the path from the class folder to the bank"
        placed.add("no-bank", ("bank",), "the folder of a bank", f"no folder {bank}", remedy)
    return bank


def _started(placed: Placed) -> date | None:
    value = placed.text.data.get("started")
    if value is None:
        return None
    try:
        return date.fromisoformat(str(value))
    except ValueError:
        placed.add("wrong-value", ("started",), "a date", shown(value), "type it like 2027-03-05")
        return None
