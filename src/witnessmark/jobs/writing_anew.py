"""Documents of a whole class that had to go with one student's data are written anew, without the student."""

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path, PurePosixPath

from witnessmark.documents.sheet.class_table import class_table
from witnessmark.files.class_folder.traces import MARK_BOOKS, OF_THE_YEAR, TO_PRINT, VISITS
from witnessmark.files.class_folder.typed_into import sparing_typed
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import Documents, as_file_name, gradebook_name, review_names
from witnessmark.jobs.issuing import CLASS_TABLE
from witnessmark.jobs.keeping_mark_book import PACKED, mark_book_data, mark_book_files
from witnessmark.jobs.opened import Opened
from witnessmark.jobs.opened_year import opened_year
from witnessmark.jobs.printing import Wanted, printed, sheets_to_print
from witnessmark.jobs.returning import gradebook_file
from witnessmark.jobs.reviewing import review_files
from witnessmark.jobs.reviewing_year import CODES_ALONE, WITH_NAMES, year_files
from witnessmark.jobs.visiting import trip_files
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound


@dataclass(frozen=True, slots=True)
class _Anew:
    """What is made, of what is wanted (paths in the class folder), and why some of it cannot be, as sentences."""

    opened: Opened
    wanted: frozenset[str]
    now: datetime
    made: Documents = field(default_factory=Documents)
    unwritten: list[str] = field(default_factory=list)

    def cannot(self, names: Iterable[str], why: ProblemsFound) -> None:
        """These cannot be written: there is nothing left to tell, or a file is not fit to be read."""
        said = "; ".join(f"expected {problem.expected}, found {problem.found}" for problem in why.problems)
        self.unwritten.extend(f"{self.opened.path / name}: was deleted, not written anew: {said}" for name in names)


def write_anew(opened: Opened, gone: Iterable[str], now: datetime) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Write documents of the class anew from the record as it is now; `gone` are their paths in the class folder, with
    `/`. Which were written, and what could not be, as sentences; a task of which nothing is left has none."""
    anew = _Anew(opened, frozenset(map(_usual_name, gone)), now)
    with opened.record() as record:
        for task in record.tasks():
            _add(anew, record, task)
            _add_prints(anew, record, task)
        _add_mark_books(anew, record)
    _add_of_year(anew)
    made = anew.made
    _write(opened.path, made.files)
    faults = (f"{opened.path / fault.place.file}: could not be written anew: {fault.reason}" for fault in made.faults)
    return tuple(opened.path / name for name in made.files), (*faults, *anew.unwritten)


def _usual_name(name: str) -> str:
    """The name that a document has where nobody typed into an earlier one (`gradebook-shear-1 (2).xlsx`)."""
    path = PurePosixPath(name)
    return str(path.with_stem(re.sub(r" \(\d+\)$", "", path.stem)))


def _add(anew: _Anew, record: Record, task: str) -> None:
    """The class table, the gradebook and the review of one task."""
    sheets, table, book = record.sheets(task), f"issued/{task}/{CLASS_TABLE}", gradebook_name(task)
    made, title = anew.made, anew.opened.title
    if sheets and table in anew.wanted:
        made.add(table, lambda: class_table(sheets))
    if book in anew.wanted and record.outcomes(task):
        made.add(book, lambda: gradebook_file(title, record, task, anew.now))
    pages = sorted({*review_names(task)}.intersection(anew.wanted))
    if sheets and pages:
        files = review_files(title, record, task)[1]
        made.files.update((page, files[page]) for page in pages)


def _add_prints(anew: _Anew, record: Record, task: str) -> None:
    """The sheets of the whole task, and of one group, to print."""
    folder = PurePosixPath("issued") / task / TO_PRINT
    groups = {as_file_name(sheet.student.group).casefold(): sheet.student.group for sheet in record.sheets(task)}
    groups |= {as_file_name(s.group).casefold(): s.group for s in anew.opened.students}
    for name in sorted(name for name in anew.wanted if PurePosixPath(name).parent == folder):
        group = groups.get(PurePosixPath(name).stem.casefold(), "")
        try:
            sheets = sheets_to_print(anew.opened, record, task, Wanted(group=group))
        except ProblemsFound as problem:
            anew.cannot([name], problem)
        else:
            anew.made.add(name, partial(printed, anew.opened, sheets))


def _add_mark_books(anew: _Anew, record: Record) -> None:
    wanted = anew.wanted.intersection(MARK_BOOKS)
    if wanted and (data := mark_book_data(anew.opened, record, anew.now)).tasks:
        files = mark_book_files(data, anew.now, PACKED in wanted)
        anew.made.files.update((name, files[name]) for name in sorted(wanted))


def _add_of_year(anew: _Anew) -> None:
    """The review of the year, and the pages of trips."""
    pages = anew.wanted.intersection(OF_THE_YEAR)
    trips = sorted(name for name in anew.wanted if PurePosixPath(name).parent == PurePosixPath(VISITS))
    if not pages and not trips:
        return
    try:
        found = opened_year(anew.opened)
    except ProblemsFound as problem:
        anew.cannot((*sorted(pages), *trips), problem)
        return
    for name in (WITH_NAMES, CODES_ALONE):
        if pages & {f"{name}.html", f"{name}.pdf"}:
            _join(anew.made, year_files(found, name == WITH_NAMES)[1], pages)
    for name in dict.fromkeys(PurePosixPath(trip).stem for trip in trips):
        try:
            _join(anew.made, trip_files(found, name), trips)
        except ProblemsFound as problem:
            anew.cannot([trip for trip in trips if PurePosixPath(trip).stem == name], problem)


def _join(made: Documents, more: Documents, wanted: Collection[str]) -> None:
    """Those of the documents that are wanted, and the faults."""
    made.files.update((name, data) for name, data in more.files.items() if name in wanted)
    made.faults.extend(more.faults)


def _write(folder: Path, files: dict[str, bytes]) -> None:
    """All of them, each workbook so that it is known again as written by the program."""
    by_place: dict[str, dict[str, bytes]] = {}
    for name, data in files.items():
        path = PurePosixPath(name)
        by_place.setdefault(str(path.parent), {})[path.name] = data
    for place, mine in by_place.items():
        books = {name: data for name, data in mine.items() if name.endswith(".xlsx")}
        write_together(folder / place, mine | dict(sparing_typed(folder / place, books).files))
