"""The files that somebody put into a folder, and what of it could not be looked into."""

import os
from collections.abc import Iterator
from pathlib import Path

from witnessmark.files.safe.bounded import not_readable
from witnessmark.words.problems import Place, Problem

LIBRE_LOCK = ".~lock."
LEFT_BEHIND = ("Thumbs.db", "desktop.ini")
SYSTEMS_FOLDER = "__MACOSX"
MOST_FILES = 5_000
DEEPEST = 20  # folders inside each other


def files_below(folder: Path) -> tuple[list[Path], list[Problem]]:
    """The files in a folder and the folders inside it, by path, and a problem for each folder that cannot be opened.

    What systems leave behind (.DS_Store, Thumbs.db) is passed over; links to folders are not followed.
    """
    problems: list[Problem] = []
    files: list[Path] = []
    for path in _walked(folder, problems):
        if len(files) == MOST_FILES:
            remedy = "take them in from several folders"
            problems.append(
                Problem("too-many-files", Place(str(folder)), f"at most {MOST_FILES} files", "more", remedy)
            )
            break
        files.append(path)
    return sorted(files), problems


def _walked(folder: Path, problems: list[Problem]) -> Iterator[Path]:
    def unreadable(error: OSError) -> None:
        problems.append(not_readable(error, str(error.filename or folder)))

    for above, folders, names in os.walk(folder, onerror=unreadable):
        here = Path(above)
        folders[:] = sorted(name for name in folders if not name.startswith(".") and name != SYSTEMS_FOLDER)
        if len(here.relative_to(folder).parts) >= DEEPEST and folders:
            remedy = "move what is inside further up"
            problems.append(
                Problem("too-deep", Place(above), f"at most {DEEPEST} folders inside each other", "more", remedy)
            )
            folders.clear()
        for name in sorted(names):
            if name not in LEFT_BEHIND and (not name.startswith(".") or name.startswith(LIBRE_LOCK)):
                yield here / name
