"""The documents of a class that show what stood before a change, so that they can be named and written anew."""

from collections.abc import Iterable
from pathlib import Path

from witnessmark.files.class_folder.traces import MARK_BOOKS, OF_THE_YEAR
from witnessmark.jobs.documents import file_name, gradebook_name, review_names
from witnessmark.questions.sheet.task import Sheet


def stale_documents(class_path: Path, task_key: str, sheets: Iterable[Sheet]) -> tuple[Path, ...]:
    """The feedback of these sheets, of a further attempt as of the first, and the gradebook, the reviews and the mark
    book, as far as they are there; none where no sheet changed."""
    names = dict.fromkeys(file_name(sheet) for sheet in sheets)
    feedback = [class_path / "feedback" / task_key / f"{name}.pdf" for name in names]
    whole = [gradebook_name(task_key), *review_names(task_key), *OF_THE_YEAR, *MARK_BOOKS]
    changed = [*feedback, *(class_path / name for name in whole)] if feedback else []
    return tuple(path for path in changed if path.is_file())
