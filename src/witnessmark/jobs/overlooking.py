"""Where a class stands: its students, its tasks from the file to the feedback, and what comes next."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from witnessmark.files.class_folder.folder import CLASS, ClassFolder, read_class
from witnessmark.jobs.documents import gradebook_name
from witnessmark.jobs.opened import RECORD, Opened
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.record.rows import Step
from witnessmark.words.problems import Problem


@dataclass(frozen=True, slots=True)
class TaskStands:
    """A task: its key and title, how many sheets were issued, came back and were marked, how many answers wait for the
    teacher, how many entries differ, and whether feedback was written."""

    key: str
    title: str = ""
    due: date | None = None
    sheets: int = 0
    back: int = 0
    waiting: int = 0
    differ: int = 0
    has_feedback: bool = False

    @property
    def is_issued(self) -> bool:
        """True where there are sheets of it."""
        return self.sheets > 0


@dataclass(frozen=True, slots=True)
class ClassStands:
    """A class: what its files say, its tasks with those that were issued last in front, and the last step that can be
    taken back."""

    folder: ClassFolder
    tasks: tuple[TaskStands, ...]
    last_step: Step | None = None

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The problems of class.yaml and students.csv."""
        return self.folder.problems


def classes_in(home: Path) -> tuple[tuple[str, str], ...]:
    """The classes that lie in a folder: the name of each one's own folder, and its title."""
    found = [path for path in sorted(home.iterdir()) if (path / CLASS).is_file()] if home.is_dir() else []
    return tuple((path.name, read_class(path).title or path.name) for path in found if not path.is_symlink())


def overlook(class_path: Path) -> ClassStands:
    """Where a class stands; its files' problems are part of the answer.

    Raises ProblemsFound for a record that cannot be read."""
    folder = read_class(class_path)
    files = {path.stem for path in (class_path / "tasks").glob("*.yaml")}
    if not (class_path / RECORD).is_file():
        return ClassStands(folder, tuple(TaskStands(key) for key in sorted(files)))
    with Opened(folder, class_path).record() as record:
        issued = [key for key in record.tasks() if record.sheets(key)]
        stands = [_stands(record, class_path, key) for key in reversed(issued)]
        last = record.last_step()
    not_yet = [TaskStands(key) for key in sorted(files - set(issued))]
    return ClassStands(folder, (*not_yet, *stands), last)


def task_stands(class_path: Path, task_key: str) -> TaskStands:
    """Where one task stands; one that was not issued has no sheets."""
    found = {task.key: task for task in overlook(class_path).tasks}
    return found.get(task_key, TaskStands(task_key))


def _stands(record: Record, class_path: Path, key: str) -> TaskStands:
    sheets, outcomes = record.sheets(key), record.outcomes(key)
    task = sheets[0].task
    return TaskStands(
        key, task.title, task.due, len(sheets), _back(sheets, outcomes),
        sum(bool(o.in_tray) for by_ask in outcomes.values() for o in by_ask.values()),
        len({(d.sheet, d.ask) for d in record.differences(key)}), (class_path / gradebook_name(key)).is_file(),
    )  # fmt: skip


def _back(sheets: tuple[Sheet, ...], outcomes: Mapping[str, Mapping[str, Outcome]]) -> int:
    return sum(sheet.code in outcomes for sheet in sheets)
