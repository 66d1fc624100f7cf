"""Where a class stands: its students, its tasks from the file to the feedback, and what comes next."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from witnessmark.files.class_folder.folder import CLASS, ClassFolder, read_class
from witnessmark.jobs.documents import gradebook_name
from witnessmark.jobs.opened import RECORD, Opened
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

    @property
    def is_new(self) -> bool:
        """True where nobody is in the list yet, and nothing else is wrong."""
        return [problem.code for problem in self.problems] == ["no-students"]


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
        every = [_stands(record, class_path, key) for key in reversed(record.tasks())]
        last = record.last_step()
    stands = [task for task in every if task.is_issued]
    not_yet = [TaskStands(key) for key in sorted(files - {task.key for task in stands})]
    return ClassStands(folder, (*not_yet, *stands), last)


def task_stands(class_path: Path, task_key: str) -> TaskStands:
    """Where one task stands; one that was not issued has no sheets. Raises ProblemsFound for a record that cannot be
    read."""
    if not (class_path / RECORD).is_file():
        return TaskStands(task_key)
    with Opened(read_class(class_path), class_path).record() as record:
        return _stands(record, class_path, task_key)


def last_step(class_path: Path) -> Step | None:
    """The last step of a class that can be taken back; raises ProblemsFound for a record that cannot be read."""
    if not (class_path / RECORD).is_file():
        return None
    with Opened(read_class(class_path), class_path).record() as record:
        return record.last_step()


def read_latest(class_path: Path) -> None:
    """Read the sheets of the latest task, so that their questions are held when somebody asks for them; raises
    ProblemsFound for a record that cannot be read."""
    if (class_path / RECORD).is_file():
        with Opened(read_class(class_path), class_path).record() as record:
            for key in record.tasks()[-1:]:
                record.sheets(key)


def _stands(record: Record, class_path: Path, key: str) -> TaskStands:
    found = record.task(key)
    if found is None or not found.sheets:
        return TaskStands(key)
    differ = len({(d.sheet, d.ask) for d in record.differences(key)})
    has_feedback = (class_path / gradebook_name(key)).is_file()
    task = found.task
    return TaskStands(key, task.title, task.due, found.sheets, found.marked, found.waiting, differ, has_feedback)
