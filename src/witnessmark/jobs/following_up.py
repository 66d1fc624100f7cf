"""The job `follow-up`: for each student who showed something a sheet aimed at it, drawn, stored and issued like a task.

Whoever showed nothing gets none, or something farther on where the teacher wants it. A sheet that was issued before
stays as it was.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path

from witnessmark.documents.follow_up.sheet import Round, follow_up_document
from witnessmark.documents.page.blocks import Document
from witnessmark.files.class_folder.typed_into import sparing_typed
from witnessmark.files.safe.atomic import ensure_folder, write_together
from witnessmark.jobs.documents import WORKBOOK, Documents
from witnessmark.jobs.extending import extension_sheets
from witnessmark.jobs.figures import figures_of
from witnessmark.jobs.follow_up_rounds import questions_for, rounds_of
from witnessmark.jobs.opened import alone, not_issued
from witnessmark.jobs.opened_year import FOLLOW_UP, OpenedYear, open_year
from witnessmark.jobs.sheet_files import add_files
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.history import SetTask
from witnessmark.review.year.needs import Need, needs_of
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault

MOST = 2
"""Misconceptions on one sheet, about two pages each: nobody learns three things at once."""


@dataclass(frozen=True, slots=True)
class FollowedUp:
    """The task of the follow-up, the sheets new in this run and those issued before, what each is aimed at (nothing: it
    goes farther on), the needs for which the bank has no such question, the files, and students for whom nothing
    farther on is left in the bank."""

    task: str
    new: tuple[Sheet, ...]
    before: tuple[Sheet, ...]
    aims: Mapping[str, tuple[str, ...]]
    left: tuple[Need, ...]
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()
    without: tuple[Student, ...] = ()


def follow_up(class_path: Path, task_key: str, now: datetime, extension: bool = False) -> FollowedUp:
    """Draw, store and write the follow-up sheets of a task, with `extension` also something farther on for those who
    showed nothing; raises ProblemsFound when it was not issued."""
    with alone(class_path, "follow-up", now):
        found = open_year(class_path)
        task = found.year.task(task_key)
        if task is None:
            raise ProblemsFound([not_issued(class_path, task_key)])
        key = f"{task_key}{FOLLOW_UP}"
        earlier = found.year.task(key)
        before = earlier.sheets if earlier else ()
        served = {sheet.student.code for sheet in before}
        needs = _needs(found, task, served)
        of_task = Task(key, f"{task.title}: follow-up", EACH_ITS_OWN, None, task.sheets[0].task.rules)
        new, left = _drawn(found, of_task, needs)
        farther, without = extension_sheets(found, task, of_task, served) if extension else ((), ())
        new = (*new, *farther)
        if new:
            with found.opened.record() as record:
                record.add_sheets(new, now)
        return replace(_written(found, key, new, before, left), without=without)


def _needs(found: OpenedYear, task: SetTask, served: set[str]) -> dict[Student, tuple[Need, ...]]:
    """What students showed at this task and still show, those who have their sheet left out."""
    mine = needs_of(found.recurrences)
    wanted: dict[Student, tuple[Need, ...]] = {}
    for student in found.year.students:
        shown = tuple(
            need for need in mine.get(student.code, ()) if any(c.task_key == task.key for c in need.shown)
        )  # fmt: skip
        if shown and student.code not in served:
            wanted[student] = shown
    return wanted


def _drawn(
    found: OpenedYear, of_task: Task, needs: Mapping[Student, Sequence[Need]]
) -> tuple[tuple[Sheet, ...], tuple[Need, ...]]:
    key, sheets, left = of_task.key, [], []
    for student, mine in needs.items():
        made: list[tuple[Variant, ...]] = []
        for need in mine:
            several = questions_for(found, need, f"{key}|{student.code}") if len(made) < MOST else ()
            if several:
                made.append(several)
            else:
                left.append(need)
        if made:
            variants = tuple(variant for several in made for variant in several)
            sheets.append(Sheet(sheet_code(key, student.code, 1), of_task, student, variants))
    return tuple(sheets), tuple(left)


def _written(
    found: OpenedYear, key: str, new: Sequence[Sheet], before: Sequence[Sheet], left: Sequence[Need]
) -> FollowedUp:
    made, aims = Documents(), {}
    sheets = sorted((*before, *new), key=lambda sheet: sheet.student.code)
    pages = []
    for sheet in sheets:
        rounds = rounds_of(sheet)
        aims[sheet.student.code] = tuple(one.wrong.slip.misconception for one in rounds)
        pages.append((sheet.student.code, sheet, partial(_page, sheet, rounds, found.bank.figures_path)))
    add_files(made, pages)
    folder = found.opened.issued(key)
    books = {name: data for name, data in made.files.items() if name.endswith(WORKBOOK)}
    spared = sparing_typed(folder, books)
    write_together(folder, {**spared.files, **{n: d for n, d in made.files.items() if n not in books}})
    ensure_folder(found.opened.returned(key))
    paths = (folder / "sheets", folder / "pages", folder / "books") if sheets else ()
    return FollowedUp(key, tuple(new), tuple(before), aims, tuple(left), paths, tuple(made.faults))


def _page(sheet: Sheet, rounds: tuple[Round, ...], figures: Path) -> Document:
    return follow_up_document(sheet, rounds, figures_of(sheet, figures))
