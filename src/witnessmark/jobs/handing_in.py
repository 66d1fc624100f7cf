"""Files handed in put where `mark` looks for them: each beside what is there, none in the place of another."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from witnessmark.files.safe.atomic import write_together
from witnessmark.files.workbooks.archive import LARGEST_FILE
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

LONGEST_NAME = 120
RESERVED = frozenset('/\\:*?"<>|')


@dataclass(frozen=True, slots=True)
class HandedIn:
    """One file as it came: the name that it had, and what is in it."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class PutIn:
    """The names of the files that are new in the folder, those that lie there already with the same content, and
    those that cannot be taken."""

    new: tuple[str, ...]
    there: tuple[str, ...]
    problems: tuple[Problem, ...]


def put_in(class_path: Path, task_key: str, files: Sequence[HandedIn]) -> PutIn:
    """Put files into the folder of what came back; raises ProblemsFound where the task was not issued.

    A file of a name that is there gets another; one whose content is there stays out. Nothing is read or marked yet.
    """
    with alone(class_path, "take in"):
        opened = open_class(class_path)
        with opened.record() as record:
            if not record.sheets(task_key):
                raise ProblemsFound([not_issued(class_path, task_key)])
        folder = opened.returned(task_key)
        there = dict(_there(folder))
        names = {path.name.casefold() for path in folder.glob("*")}
        wanted, again, problems = _sorted_out(files, there, names)
        if wanted:
            write_together(folder, wanted)
        return PutIn(tuple(wanted), again, problems)


def _there(folder: Path) -> Iterator[tuple[str, str]]:
    """The name of each file in the folder, by the hash of its content."""
    for path in sorted(folder.rglob("*")):
        if path.is_file() and not path.is_symlink() and path.stat().st_size <= LARGEST_FILE:
            yield _hash(path.read_bytes()), path.name


def _sorted_out(
    files: Sequence[HandedIn], there: dict[str, str], names: set[str]
) -> tuple[dict[str, bytes], tuple[str, ...], tuple[Problem, ...]]:
    wanted: dict[str, bytes] = {}
    again: list[str] = []
    problems: list[Problem] = []
    for one in files:
        name = plain_name(one.name)
        if len(one.data) > LARGEST_FILE:
            expected, found = f"at most {LARGEST_FILE // 1_000_000} MB", f"{len(one.data) // 1_000_000} MB"
            problems.append(Problem("file-too-large", Place(name), expected, found, "send the answer book alone"))
        elif not one.data:
            problems.append(Problem("empty-file", Place(name), "a file with something in it", "nothing"))
        elif _hash(one.data) in there:
            again.append(name)
        else:
            free = _free(name, names)
            wanted[free], there[_hash(one.data)] = one.data, free
            names.add(free.casefold())
    return wanted, tuple(again), tuple(problems)


def plain_name(name: str) -> str:
    """The last part of a name as a browser sent it, with nothing that leads elsewhere or that no file may have."""
    last = PurePosixPath(name.replace("\\", "/")).name
    kept = "".join("-" if c in RESERVED or not c.isprintable() else c for c in last).strip(" .")
    stem, dot, ending = kept.rpartition(".")
    short = f"{stem[: LONGEST_NAME - len(dot + ending)]}{dot}{ending}" if len(kept) > LONGEST_NAME else kept
    return short[:LONGEST_NAME] or "unnamed"


def _free(name: str, names: set[str]) -> str:
    """The name, or with a number where one of that name is there, whatever its capitals."""
    stem, dot, ending = name.rpartition(".") if "." in name else (name, "", "")
    number, free = 1, name
    while free.casefold() in names:
        number += 1
        free = f"{stem} ({number}){dot}{ending}"
    return free


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
