"""The job `moderate`: a teacher's own mark for one answer, with who and why; the machine's mark stays beside it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal, InvalidOperation
from pathlib import Path

from witnessmark.jobs.opened import alone, open_class
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Ask, Sheet, ask_labelled
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Moderated:
    """One mark changed: the machine's and the teacher's."""

    sheet: str
    label: str
    machine: Decimal
    marks: Decimal


def moderate(class_path: Path, code: str, label: str, marks: str, why: str, who: str, now: datetime) -> Moderated:
    """Set the mark of one answer; raises ProblemsFound when sheet, answer or marks are not possible."""
    with alone(class_path, "moderate", now), open_class(class_path).record() as record:
        sheet = sheet_of(record, class_path, code)
        ask = ask_of(sheet, label)
        machine = _proposal(record, sheet, ask)
        wanted = _marks(marks, machine.out_of, sheet.code, ask)
        with record.step("moderate", sheet.task.key, now, who):
            record.moderate(sheet.code, ask.key, wanted, who, why, now)
    return Moderated(sheet.code, ask.label, machine.marks, wanted)


def withdraw(class_path: Path, code: str, label: str, why: str, who: str, now: datetime) -> Moderated:
    """Take a teacher's mark back, so that the machine's stands; raises ProblemsFound where there is none."""
    with alone(class_path, "moderate", now), open_class(class_path).record() as record:
        sheet = sheet_of(record, class_path, code)
        ask = ask_of(sheet, label)
        machine = _proposal(record, sheet, ask)
        with record.step("moderate", sheet.task.key, now, who):
            if not record.withdraw(sheet.code, ask.key, who, why, now):
                expected = f"a teacher's mark at {ask.label}"
                raise ProblemsFound([Problem("not-moderated", Place(sheet.code), expected, "the machine's alone")])
    return Moderated(sheet.code, ask.label, machine.marks, machine.marks)


def _proposal(record: Record, sheet: Sheet, ask: Ask) -> Outcome:
    proposals = record.proposals(sheet.task.key).get(sheet.code, {})
    if ask.key not in proposals:
        remedy = "take it in and mark it first; work handed in on paper goes through the class table"
        raise ProblemsFound([Problem("not-marked", Place(sheet.code), "an answer that was marked", ask.label, remedy)])
    return proposals[ask.key]


def sheet_of(record: Record, class_path: Path, code: str) -> Sheet:
    """The sheet of a code as a person types it (small letters, blanks, O for D); raises ProblemsFound."""
    sheet = record.sheet(repaired_code(code) or code)
    if sheet is None:
        remedy = "the code stands at the head of the sheet, and in the in-tray"
        raise ProblemsFound([Problem("no-sheet", Place(str(class_path)), "a sheet code of this class", code, remedy)])
    return sheet


def ask_of(sheet: Sheet, label: str) -> Ask:
    """The answer of a label or key on a sheet; raises ProblemsFound."""
    ask = ask_labelled(sheet.asks, label)
    if ask is not None:
        return ask
    labels = ", ".join(ask.label for ask in sheet.asks)
    raise ProblemsFound([Problem("no-answer", Place(sheet.code), f"one of {labels}", label)])


def _marks(text: str, out_of: Decimal, code: str, ask: Ask) -> Decimal:
    try:
        marks = Decimal(text.replace(",", "."))
    except InvalidOperation:
        marks = Decimal(-1)
    if not marks.is_finite() or not 0 <= marks <= out_of or marks * 2 != (marks * 2).to_integral():
        expected = f"whole or half marks from 0 to {out_of} for {ask.label}"
        raise ProblemsFound([Problem("marks-out-of-range", Place(code), expected, text)])
    return marks
