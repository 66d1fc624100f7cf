"""The job `return`: a feedback sheet for every student who handed in, and the gradebook.

A document that cannot be made is set aside as a fault with its student; all others are written.
"""

from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.gradebook import gradebook
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.files.class_folder.typed_into import Kept, sparing_typed
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import Documents, file_name, gradebook_name
from witnessmark.jobs.opened import Progress, alone, no_progress, open_class
from witnessmark.jobs.standings import TaskRead, read_task_standing
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Returned:
    """What was written: feedback for these sheets, and the gradebook; `faults` are documents that were not, `kept` is a
    gradebook that somebody typed into and that stays, with a fresh one beside it."""

    sheets: tuple[Sheet, ...]
    feedback: Path
    gradebook: Path
    faults: tuple[Fault, ...] = ()
    kept: tuple[Kept, ...] = ()


@dataclass(frozen=True, slots=True)
class Waiting:
    """How many answers of a task wait for the teacher, of how many students who handed in, and how many of these
    answers have no mark before that."""

    answers: int
    students: int
    unmarked: int


def still_waiting(class_path: Path, task_key: str) -> Waiting:
    """What `return` would leave open, before it writes anything."""
    with open_class(class_path).record() as record:
        outcomes = record.outcomes(task_key)
    waits = [[o for o in by_ask.values() if o.in_tray] for by_ask in outcomes.values()]
    unmarked = sum(o.is_waiting for several in waits for o in several)
    return Waiting(sum(map(len, waits)), sum(map(bool, waits)), unmarked)


def return_feedback(class_path: Path, task_key: str, now: datetime, progress: Progress = no_progress) -> Returned:
    """Write feedback and gradebook from the record; raises ProblemsFound when nothing was marked yet."""
    with alone(class_path, "return"):
        return _return_feedback(class_path, task_key, now, progress)


def _return_feedback(class_path: Path, task_key: str, now: datetime, progress: Progress) -> Returned:
    opened = open_class(class_path)
    made, book_name = Documents(), gradebook_name(task_key)
    with opened.record() as record:
        read = read_task_standing(record, task_key)
        sheets, outcomes = read.sheets, read.outcomes
        if outcomes:
            made.add(book_name, lambda: gradebook_file(opened.title, record, task_key, now))
    marked = tuple(sheet for sheet in sheets if sheet.code in outcomes)
    if not marked:
        remedy = f"witnessmark mark {class_path} {task_key}"
        raise ProblemsFound([Problem("not-marked", Place(str(class_path)), "a marked task", task_key, remedy)])
    for n, sheet in enumerate(marked, 1):
        name, make = f"feedback/{task_key}/{file_name(sheet)}.pdf", partial(_feedback, sheet, read)
        made.add(name, make, sheet.student)
        progress("feedback", n, len(marked))
    spared = sparing_typed(class_path, {name: made.files.pop(name) for name in (book_name,) if name in made.files})
    write_together(class_path, {**made.files, **spared.files})
    book = class_path / spared.names.get(book_name, book_name)
    return Returned(marked, opened.feedback(task_key), book, tuple(made.faults), spared.kept)


def gradebook_file(title: str, record: Record, task_key: str, now: datetime) -> bytes:
    """The gradebook of a task of the class of this title, as the record has it."""
    read, today = read_task_standing(record, task_key), now.astimezone().date()
    proposals, moderations = record.proposals(task_key), record.moderations(task_key)
    data = gradebook_data(
        title, read.sheets, read.outcomes, proposals, moderations, read.attempts(), read.out(today),
        record.notes(task_key),
    )  # fmt: skip
    return gradebook(data, now)


def _feedback(sheet: Sheet, read: TaskRead) -> bytes:
    worked = {number: variant.expected_si for number, variant in enumerate(sheet.variants, 1)}
    misconceptions = {k: m for v in sheet.variants for k, m in v.question.misconceptions.items()}
    days = read.attempt(sheet)
    return pdf_of(feedback_document(sheet, read.outcomes[sheet.code], worked, misconceptions, days=days))
