"""The job `return`: a feedback sheet for every student who handed in, and the gradebook."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.gradebook import gradebook
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.pdf import pdfs_of
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.opened import Progress, no_progress, open_class
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Returned:
    """What was written: feedback for these sheets, and the gradebook."""

    sheets: tuple[Sheet, ...]
    feedback: Path
    gradebook: Path


def return_feedback(class_path: Path, task_key: str, now: datetime, progress: Progress = no_progress) -> Returned:
    """Write feedback and gradebook from the record; raises ProblemsFound when nothing was marked yet."""
    opened = open_class(class_path)
    with opened.record() as record:
        sheets, outcomes = record.sheets(task_key), record.outcomes(task_key)
        proposals = record.proposals(task_key)
    marked = tuple(sheet for sheet in sheets if sheet.code in outcomes)
    if not marked:
        remedy = f"witnessmark mark {class_path} {task_key}"
        raise ProblemsFound([Problem("not-marked", Place(str(class_path)), "a marked task", task_key, remedy)])
    files: dict[str, bytes] = {}
    documents = [_feedback(sheet, outcomes[sheet.code]) for sheet in marked]
    for n, (sheet, pdf) in enumerate(zip(marked, pdfs_of(documents), strict=True), 1):
        files[f"feedback/{task_key}/{sheet.student.code}.pdf"] = pdf
        progress("feedback", n, len(marked))
    files[book_name := f"gradebook-{task_key}.xlsx"] = gradebook(
        gradebook_data(opened.title, sheets, outcomes, proposals), now
    )
    write_together(class_path, files)
    return Returned(marked, opened.feedback(task_key), class_path / book_name)


def _feedback(sheet: Sheet, outcomes: Mapping[str, Outcome]) -> Document:
    worked = {number: variant.expected_si for number, variant in enumerate(sheet.variants, 1)}
    misconceptions = {k: m for v in sheet.variants for k, m in v.question.misconceptions.items()}
    return feedback_document(sheet, outcomes, worked, misconceptions)
