"""The documents of a class that show what stood before a change, so that they can be named and written anew."""

from collections.abc import Iterable
from pathlib import Path

from witnessmark.files.class_folder.traces import OF_THE_YEAR
from witnessmark.jobs.documents import gradebook_name, review_names


def stale_documents(class_path: Path, task_key: str, students: Iterable[str]) -> tuple[Path, ...]:
    """The feedback of these students (by code), the gradebook, and the reviews, as far as they are there."""
    feedback = [class_path / "feedback" / task_key / f"{code}.pdf" for code in dict.fromkeys(students)]
    whole = [gradebook_name(task_key), *review_names(task_key), *OF_THE_YEAR]
    changed = [*feedback, *(class_path / name for name in whole)] if feedback else []
    return tuple(path for path in changed if path.is_file())
