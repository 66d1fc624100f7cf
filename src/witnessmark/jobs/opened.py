"""A class opened for a job: its folder, its bank and its tasks, with every problem of the files it needs."""

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.files.class_folder.folder import CLASS, ClassFolder, read_class
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.files.safe.atomic import finish_below
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.in_use import in_use
from witnessmark.files.safe.plain_text import LARGEST, decoded
from witnessmark.jobs.unfinished_removal import refuse_unfinished
from witnessmark.questions.bank import Bank
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.sheet.task import Student, Task
from witnessmark.record.copies import keep_copy
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

RECORD = "record.db"
Progress = Callable[[str, int, int], None]
"""Told what is being done, how much is done, how much there is."""


def no_progress(what: str, done: int, total: int) -> None:
    """The progress of a job that nobody watches."""


@lru_cache(maxsize=256)
def question_read(source: str) -> DrawableQuestion:
    """The question of a bundle, made once: a page that stays open reads the same ones again and again."""
    return question_from_bundle(source)


@dataclass(frozen=True, slots=True)
class Opened:
    """A class folder and the paths of what jobs write into it."""

    folder: ClassFolder
    path: Path

    @property
    def students(self) -> tuple[Student, ...]:
        """The students of the class."""
        return self.folder.students

    @property
    def title(self) -> str:
        """The title of the class."""
        return self.folder.title

    def bank(self) -> Bank:
        """The class's bank; raises ProblemsFound."""
        return load_bank(self.folder.bank)

    def record(self) -> Record:
        """The class's record, to be used as a context manager."""
        return Record(self.path / RECORD, question_read)

    def issued(self, task: str) -> Path:
        """Where sheets and answer books of a task are written."""
        return self.path / "issued" / task

    def returned(self, task: str) -> Path:
        """Where returned answer books of a task are looked for."""
        return self.path / "returned" / task

    def feedback(self, task: str) -> Path:
        """Where feedback of a task is written."""
        return self.path / "feedback" / task


def open_class(path: Path) -> Opened:
    """The class in a folder; raises ProblemsFound with every problem of class.yaml and students.csv."""
    folder = read_class(path)
    if folder.problems:
        raise ProblemsFound(folder.problems)
    return Opened(folder, path)


@contextmanager
def alone(path: Path, command: str, now: datetime | None = None) -> Iterator[None]:
    """Be the only command that writes into a class folder; with `now`, keep a copy of its record first.

    What an interrupted command left is carried out or cleared away before. Raises ProblemsFound where there is no
    class, or where another command is at work in it for too long.
    """
    if not (path / CLASS).is_file():
        raise ProblemsFound(read_class(path).problems)
    with in_use(path, f"witnessmark {command}"):
        if command != "remove":
            refuse_unfinished(path)
        finish_below(path, lambda codes: _all_issued(path / RECORD, codes))
        if now is not None:
            keep_copy(path / RECORD, command, now)
        yield


def _all_issued(record: Path, codes: Sequence[str]) -> bool:
    """Whether the record holds sheets of all these codes; what cannot be read holds none."""
    if not record.is_file():
        return False
    try:
        with Record(record, question_from_bundle) as opened:
            return all(opened.sheet(code) is not None for code in codes)
    except ProblemsFound:
        return False


def not_issued(class_path: Path, task_key: str) -> Problem:
    """The problem of a task of which there are no sheets."""
    remedy = f"witnessmark issue {class_path} {task_key}"
    return Problem(
        "not-issued", Place(str(class_path)), f"a task that was issued as {task_key}", "no sheets of it", remedy
    )


def read_task(opened: Opened, key: str, bank: Bank) -> Task:
    """The task of this key (the name of its file in tasks/); raises ProblemsFound."""
    file = opened.path / "tasks" / f"{key}.yaml"
    if not os.path.lexists(file):
        there = sorted(p.stem for p in (opened.path / "tasks").glob("*.yaml"))
        found = f"tasks: {', '.join(there)}" if there else "no task files"
        raise ProblemsFound([Problem("no-task", Place(str(file)), "a task file", found, f"write {file.name} there")])
    data, problems = read_bounded(file, LARGEST)
    text, problems = ("", problems) if problems else decoded(data, str(file))
    if problems:
        raise ProblemsFound(problems)
    task, problems = task_from_text(text, str(file), bank.keys(), bank.relations_for)
    if task is None or problems:
        raise ProblemsFound(problems)
    if task.key != key:
        remedy = f"type task: {key}, or call the file {task.key}.yaml"
        raise ProblemsFound([Problem("task-name", Place(str(file)), f"the task {key}", f"task: {task.key}", remedy)])
    return task
