"""Documents of a whole class that had to go with one student's data are written anew, without the student."""

import re
from collections.abc import Collection, Iterable
from datetime import datetime
from pathlib import Path, PurePosixPath

from witnessmark.documents.sheet.class_table import class_table
from witnessmark.files.class_folder.typed_into import sparing_typed
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import Documents, gradebook_name, review_names
from witnessmark.jobs.issuing import CLASS_TABLE
from witnessmark.jobs.opened import Opened
from witnessmark.jobs.returning import gradebook_file
from witnessmark.jobs.reviewing import review_files
from witnessmark.record.record import Record


def write_anew(opened: Opened, gone: Iterable[str], now: datetime) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Write documents of the class anew from the record as it is now; `gone` are their paths in the class folder, with
    `/`. Which were written, and what could not be, as sentences; a task of which nothing is left has none."""
    made, wanted = Documents(), frozenset(map(_usual_name, gone))
    with opened.record() as record:
        for task in record.tasks():
            _add(made, opened, record, task, wanted, now)
    _write(opened.path, made.files)
    faults = (f"{opened.path / fault.place.file}: could not be written anew: {fault.reason}" for fault in made.faults)
    return tuple(opened.path / name for name in made.files), tuple(faults)


def _usual_name(name: str) -> str:
    """The name that a document has where nobody typed into an earlier one (`gradebook-shear-1 (2).xlsx`)."""
    path = PurePosixPath(name)
    return str(path.with_stem(re.sub(r" \(\d+\)$", "", path.stem)))


def _add(
    made: Documents, opened: Opened, record: Record, task: str, wanted: Collection[str], now: datetime
) -> None:  # fmt: skip
    """The documents of one task that are wanted."""
    sheets, table, book = record.sheets(task), f"issued/{task}/{CLASS_TABLE}", gradebook_name(task)
    if sheets and table in wanted:
        made.add(table, lambda: class_table(sheets))
    if book in wanted and record.outcomes(task):
        made.add(book, lambda: gradebook_file(opened.title, record, task, now))
    pages = sorted({*review_names(task)}.intersection(wanted))
    if sheets and pages:
        files = review_files(opened.title, record, task)[1]
        made.files.update((page, files[page]) for page in pages)


def _write(folder: Path, files: dict[str, bytes]) -> None:
    """All of them, each workbook so that it is known again as written by the program."""
    by_place: dict[str, dict[str, bytes]] = {}
    for name, data in files.items():
        path = PurePosixPath(name)
        by_place.setdefault(str(path.parent), {})[path.name] = data
    for place, mine in by_place.items():
        books = {name: data for name, data in mine.items() if name.endswith(".xlsx")}
        write_together(folder / place, mine | dict(sparing_typed(folder / place, books).files))
