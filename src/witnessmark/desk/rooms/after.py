"""After marking: feedback and gradebook, the review, the follow-up, each written on one button and opened on a link."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from witnessmark.desk.acts.returning import follow_task, return_marks, review_task
from witnessmark.desk.rooms.room import Room, begun
from witnessmark.desk.visit import Page, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.jobs.documents import gradebook_name, review_names
from witnessmark.jobs.overlooking import task_stands
from witnessmark.jobs.returning import still_waiting
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Document:
    """A document that lies in the class folder: what it is called on the page, and the words of its address."""

    name: str
    parts: tuple[str, ...]


def show_after(visit: Visit) -> Reply:
    """What can be written of a task, and what is."""
    task = visit.way["task"]
    stands = task_stands(visit.class_path, task)
    return Page("after", {
        "stands": stands, "waits": still_waiting(visit.class_path, task) if stands.is_issued else None,
        "feedback": list(_in_folder(visit.class_path, "feedback", task)),
        "gradebook": _at_top(visit.class_path, gradebook_name(task)),
        "review": _at_top(visit.class_path, review_names(task)[0]),
        "follow_up": task_stands(visit.class_path, f"{task}-follow-up"),
    })  # fmt: skip


def write(visit: Visit) -> Reply:
    """One of them written, in a process of its own."""
    task, what = visit.way["task"], visit.text("what")
    asked = (visit.class_path, task)
    match what:
        case "return":
            title = _("Feedback and gradebook of {task}").format(task=task)
            return begun(visit, title, return_marks, *asked, visit.now)
        case "review":
            return begun(visit, _("Review of {task}").format(task=task), review_task, *asked)
        case "follow-up":
            return begun(visit, _("Follow-up of {task}").format(task=task), follow_task, *asked, visit.now)
    raise ProblemsFound([Problem("unknown", Place(_("button")), _("one of the buttons"), what or _("none"))])


def _in_folder(class_path: Path, *folder: str) -> Iterator[Document]:
    for file in sorted(class_path.joinpath(*folder).glob("*.pdf")):
        yield Document(file.stem, (*folder, file.name))


def _at_top(class_path: Path, name: str) -> Document | None:
    return Document(name, (name,)) if (class_path / name).is_file() else None


ROOMS = (Room("/class/{klass}/task/{task}/after", show_after, write),)
