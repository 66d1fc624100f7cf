"""The job `issue`: each student's own sheet drawn, stored in the record, and written as PDF, HTML and answer book."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

from witnessmark.documents.sheet.class_table import class_table
from witnessmark.files.bank.fault_text import question_set
from witnessmark.files.class_folder.typed_into import Kept
from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.files.safe.atomic import ensure_folder, staged
from witnessmark.jobs.crew import Crew, one_hand
from witnessmark.jobs.documents import Arriving, Documents
from witnessmark.jobs.figures import templates_of
from witnessmark.jobs.opened import Opened, Progress, alone, no_progress, open_class, read_task
from witnessmark.jobs.sheet_files import sheet_files
from witnessmark.questions.bank import Bank
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant, taking_g
from witnessmark.words.errors import NoVariant, ProblemsFound
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Place, Problem

CLASS_TABLE = "class-table.xlsx"


@dataclass(frozen=True, slots=True)
class Issued:
    """What was issued: the sheets new in this run, those issued before, the files to open, and the faults of documents
    that could not be made; `kept` are workbooks that somebody typed into, and `notes` tell of the folder's place."""

    task: Task
    new: tuple[Sheet, ...]
    before: tuple[Sheet, ...]
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()
    notes: tuple[Problem, ...] = ()
    kept: tuple[Kept, ...] = ()


@dataclass(frozen=True, slots=True)
class Storing:
    """What puts the new sheets into the record, all or none, and their codes."""

    codes: Sequence[str]
    act: Callable[[], None]


def issue(
    class_path: Path, task_key: str, now: datetime, progress: Progress = no_progress, repeats: bool = False,
    crew: Crew = one_hand,
) -> Issued:  # fmt: skip
    """Draw a sheet for every student who has none of this task, store all of them at once, and write every file anew.

    What was issued earlier stays as it was, whatever became of the bank, and so does a workbook that somebody typed
    into: a fresh one gets another name. With `repeats`, students may share numbers once a question's variants are used
    up. The `crew` makes the documents. Raises ProblemsFound before anything is written when a file cannot be used or a
    question has too few variants.
    """
    with alone(class_path, "issue", now):
        return _issue(class_path, task_key, now, progress, repeats, crew)


def _issue(class_path: Path, task_key: str, now: datetime, progress: Progress, repeats: bool, crew: Crew) -> Issued:
    opened = open_class(class_path)
    with crew(len(opened.students)) as hands:
        hands.get_ready(sheet_files)
        bank = opened.bank()
        task = read_task(opened, task_key, bank)
        with opened.record() as record:
            before, arranged = record.sheets(task.key), record.arranged()
            there = {sheet.student.code for sheet in before}
            waiting = {s: 1 for s in opened.students if s.code not in there and arranged.left(s.code) is None}
            new = drawn_sheets(task, waiting, before, bank, class_path, repeats)

            def store() -> None:
                with record.together():
                    record.add_task(task, now)
                    record.add_sheets(new, now)

            standing = [s for s in before if arranged.stands(task.key, s.student.code, s.code, s.attempt)]
            return write_issued(opened, task, new, standing, bank, progress, store, lambda _: nullcontext(hands))


def write_issued(
    opened: Opened, task: Task, new: Sequence[Sheet], before: Sequence[Sheet], bank: Bank, progress: Progress,
    store: Callable[[], None], crew: Crew = one_hand,
) -> Issued:  # fmt: skip
    """Every file of a task, of the sheets that are new, which `store` puts into the record, and of those before."""
    sheets = tuple(sorted((*before, *new), key=lambda sheet: (sheet.student.code, sheet.attempt)))
    storing = Storing([s.code for s in new], store)
    files, faults, kept = _write_sheets(opened, task, sheets, bank, progress, storing, crew)
    ensure_folder(opened.returned(task.key))
    return Issued(task, tuple(new), tuple(before), files, faults, whereabouts(opened.path), kept)


def drawn_sheets(
    task: Task, students: Mapping[Student, int], before: Sequence[Sheet], bank: Bank, where: Path, repeats: bool
) -> tuple[Sheet, ...]:
    """A sheet with fresh numbers for each student, `students` telling which attempt it is; `before` are all sheets of
    the task so far. Raises ProblemsFound where a question has too few variants."""
    drawn: dict[str, dict[str, Variant]] = {}
    problems: list[Problem] = []
    attempts = {student.code: attempt for student, attempt in students.items()}
    for key in task.questions:
        taken = {v.identity for sheet in before for v in sheet.variants if v.question.key == key}
        try:
            drawn[key] = draw_class(question_set(bank, key), task, list(attempts), taken, repeats, attempts)
        except NoVariant as error:
            expected = f"at least {error.needed} variants that can be told apart"
            remedy = "widen the ranges of its givens, set another question, or issue with --repeats"
            found = f"{error.count} of question {key}"
            problems.append(Problem("too-few-variants", Place(str(where)), expected, found, remedy))
    if problems:
        raise ProblemsFound(problems)
    used = {sheet.code for sheet in before}

    def numbers(key: str, student: Student) -> Variant:
        return taking_g(drawn[key][student.code], task.rules.g)

    return tuple(
        Sheet(_new_code(task, s, n, used), task, s, tuple(numbers(key, s) for key in task.questions), n)
        for s, n in students.items()
    )


def _new_code(task: Task, student: Student, attempt: int, used: set[str]) -> str:
    """The student's sheet code; another where, once in many thousands, two students would share it."""
    code, again = sheet_code(task.key, student.code, attempt), 1
    while code in used:
        again += 1
        code = sheet_code(task.key, f"{student.code}|{again}", attempt)
    used.add(code)
    return code


def _write_sheets(
    opened: Opened, task: Task, sheets: Sequence[Sheet], bank: Bank, progress: Progress, storing: Storing, crew: Crew
) -> tuple[tuple[Path, ...], tuple[Fault, ...], tuple[Kept, ...]]:
    """Every sheet as PDF and HTML, every answer book, and the class table; the paths to open, folders last.

    The new sheets are stored and all files are there, or neither; files are written as they are made.

    A document that cannot be made is a fault with its student; all others are written.
    """
    folder = opened.issued(task.key)
    templates = templates_of((v for sheet in sheets for v in sheet.variants), bank.figures_path)
    with staged(folder) as stage, crew(len(sheets)) as hands:
        arriving = Arriving(folder, stage)
        coming = hands.each(partial(sheet_files, templates), sheets)
        table = Documents()
        table.add(CLASS_TABLE, lambda: class_table(sheets))
        arriving.take(table)
        for done, made in coming:
            arriving.take(made)
            progress("sheets", done, len(sheets))
        spared = arriving.carry_out(storing.codes, storing.act)
    first = folder / spared.names.get(CLASS_TABLE, CLASS_TABLE)
    paths = (first, folder / "sheets", folder / "pages", folder / "books")
    return paths, tuple(arriving.faults), spared.kept
