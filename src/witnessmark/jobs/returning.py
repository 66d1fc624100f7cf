"""The job `return`: a feedback sheet for every student who handed in, and the gradebook.

A document that cannot be made is set aside as a fault with its student; all others are written.
"""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.documents.gradebook import gradebook
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.files.class_folder.typed_into import Kept
from witnessmark.files.safe.atomic import staged
from witnessmark.jobs.crew import Crew, one_hand
from witnessmark.jobs.documents import Arriving, Documents, gradebook_name
from witnessmark.jobs.feedback_files import ToTell, feedback_files
from witnessmark.jobs.opened import Progress, alone, no_progress, open_class
from witnessmark.jobs.standings import read_task_standing
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
        waits = [tuple(by_ask.values()) for by_ask in record.waiting(task_key).values()]
    unmarked = sum(o.is_waiting for several in waits for o in several)
    return Waiting(sum(map(len, waits)), len(waits), unmarked)


def return_feedback(
    class_path: Path, task_key: str, now: datetime, progress: Progress = no_progress, crew: Crew = one_hand
) -> Returned:
    """Write feedback, which the crew makes, and gradebook from the record; raises ProblemsFound when nothing was marked
    yet."""
    with alone(class_path, "return"):
        return _return_feedback(class_path, task_key, now, progress, crew)


def _return_feedback(class_path: Path, task_key: str, now: datetime, progress: Progress, crew: Crew) -> Returned:
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
    asked = [ToTell(sheet, outcomes[sheet.code], read.attempt(sheet)) for sheet in marked]
    with staged(class_path) as stage, crew(len(asked)) as hands:
        arriving = Arriving(class_path, stage)
        arriving.take(made)
        for done, told in hands.each(feedback_files, asked):
            arriving.take(told)
            progress("feedback", done, len(asked))
        spared = arriving.carry_out()
    book = class_path / spared.names.get(book_name, book_name)
    return Returned(marked, opened.feedback(task_key), book, tuple(arriving.faults), spared.kept)


def gradebook_file(title: str, record: Record, task_key: str, now: datetime) -> bytes:
    """The gradebook of a task of the class of this title, as the record has it."""
    read, today = read_task_standing(record, task_key), now.astimezone().date()
    proposals, moderations = record.proposals(task_key), record.moderations(task_key)
    data = gradebook_data(
        title, read.sheets, read.outcomes, proposals, moderations, read.attempts(), read.out(today),
        record.notes(task_key),
    )  # fmt: skip
    return gradebook(data, now)
