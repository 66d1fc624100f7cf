"""The files of a class that may be looked at or kept: what the program wrote for people, and nothing else."""

from pathlib import Path, PurePosixPath

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.visit import Reply, Visit, Written
from witnessmark.desk.words import _
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

FOLDERS = frozenset({"issued", "feedback", "visits", "notes"})
AT_THE_TOP = ("gradebook-", "mark-book", "review-", "second-marks-", "year")
ENDINGS = frozenset({".pdf", ".html", ".xlsx", ".docx", ".csv", ".json"})


def show_file(visit: Visit) -> Reply:
    """A file of the class; what lies outside, is hidden, or was not written for people is not there."""
    path = PurePosixPath(visit.way["path"])
    if may_be_seen(path):
        file = visit.class_path.joinpath(*path.parts)
        if file.is_file() and _is_inside(file, visit.class_path):
            return Written(file)
    remedy = _("write it first, where its room says so")
    raise ProblemsFound([Problem("no-file", Place(path.name), _("a document of this class"), _("none"), remedy)])


def may_be_seen(path: PurePosixPath) -> bool:
    """True of the name of a document, as the program names them."""
    parts = path.parts
    plain = (
        bool(parts) and not path.is_absolute() and all(p[0] != "." and "\\" not in p and "\0" not in p for p in parts)
    )
    if not plain or path.suffix.lower() not in ENDINGS:
        return False
    return parts[0] in FOLDERS if len(parts) > 1 else parts[0].startswith(AT_THE_TOP)


def _is_inside(file: Path, folder: Path) -> bool:
    """False of what a link leads elsewhere."""
    return file.resolve().is_relative_to(folder.resolve())


ROOMS = (Room("/class/{klass}/file/{path:path}", show_file),)
