"""The feedback of students as files. Made wherever a crew works."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.jobs.documents import Documents, file_name
from witnessmark.marking.outcome import Outcome
from witnessmark.marking.standing import AttemptStanding
from witnessmark.questions.sheet.task import Sheet


@dataclass(frozen=True, slots=True)
class ToTell:
    """What one student is told of: a sheet, its outcomes, and its days."""

    sheet: Sheet
    outcomes: Mapping[str, Outcome]
    days: AttemptStanding


def feedback_files(several: Sequence[ToTell]) -> Documents:
    """The feedback of some students of a task, by path in the class folder."""
    made = Documents()
    for one in several:
        name = f"feedback/{one.sheet.task.key}/{file_name(one.sheet)}.pdf"
        made.add(name, partial(_feedback, one), one.sheet.student)
    return made


def _feedback(one: ToTell) -> bytes:
    sheet = one.sheet
    worked = {number: variant.expected_si for number, variant in enumerate(sheet.variants, 1)}
    misconceptions = {k: m for v in sheet.variants for k, m in v.question.misconceptions.items()}
    return pdf_of(feedback_document(sheet, one.outcomes, worked, misconceptions, days=one.days))
