"""A task written as a file of the class from what was chosen, as `issue` reads it."""

import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.opened import alone, open_class
from witnessmark.questions.bank import Bank
from witnessmark.questions.sheet.task import Task
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

NOT_IN_A_KEY = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be set, as it was typed: `rules` by their names in a task file (`figures`, `unit missing`); what is
    left out is as usual. Without a `key` the title gives one. With `relations` its sheets list those of the topics."""

    title: str
    questions: tuple[str, ...]
    key: str = ""
    due: str = ""
    rules: Mapping[str, str] | None = None
    relations: bool = False

    @property
    def name(self) -> str:
        """The key: the one typed, or made of the title."""
        return self.key.strip() or NOT_IN_A_KEY.sub("-", self.title.casefold()).strip("-")[:40].strip("-")


def set_task(class_path: Path, wanted: Wanted, bank: Bank | None = None) -> Task:
    """Write the file of a new task; raises ProblemsFound for what cannot be set, and where a task has this name."""
    known = bank if bank is not None else open_class(class_path).bank()
    task = looked_at(wanted, known)
    name = f"tasks/{task.key}.yaml"
    with alone(class_path, "set"):
        if os.path.lexists(class_path / name):
            expected, remedy = "a task that is new", "choose another name for it"
            raise ProblemsFound([Problem("task-there", Place(name), expected, f"{task.key}, which is there", remedy)])
        write_together(class_path, {name: task_text(wanted).encode()})
    return task


def looked_at(wanted: Wanted, bank: Bank) -> Task:
    """The task that would be written; raises ProblemsFound with everything that stops it."""
    if not wanted.title.strip():
        raise ProblemsFound([Problem("no-title", Place("title"), "a title", "none", "type what stands on every sheet")])
    if not wanted.questions:
        expected, remedy = "at least one question", "tick a question of the bank"
        raise ProblemsFound([Problem("no-questions", Place("questions"), expected, "none", remedy)])
    task, problems = task_from_text(task_text(wanted), f"tasks/{wanted.name}.yaml", bank.keys(), bank.relations_for)
    if task is None or problems:
        raise ProblemsFound(problems)
    return task


def task_text(wanted: Wanted) -> str:
    """The file of a task."""
    lines = [f"task: {_quoted(wanted.name)}", f"title: {_quoted(' '.join(wanted.title.split()))}", "questions:"]
    lines += [f"  - {_quoted(key)}" for key in wanted.questions]
    if wanted.due.strip():
        lines.append(f"due: {_quoted(wanted.due.strip())}")
    lines += ["relations: true"] if wanted.relations else []
    rules = {name: value.strip() for name, value in (wanted.rules or {}).items() if value.strip()}
    return "\n".join([*lines, *_rules(rules), ""])


def _rules(rules: Mapping[str, str]) -> Sequence[str]:
    return ["rules:", *(f"  {name}: {_plain(value)}" for name, value in rules.items())] if rules else []


def _plain(value: str) -> str:
    """A number or a word as it is; anything else in quotes, for the reader of task files to refuse by its place."""
    return value if re.fullmatch(r"[A-Za-z0-9.]+", value) else _quoted(value)


def _quoted(text: str) -> str:
    doubled = text.replace("'", "''")
    return f"'{doubled}'"
