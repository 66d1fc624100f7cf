"""The job `moderate`: a teacher's own mark for one answer, with who and why; the machine's mark stays beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.jobs.opened import alone, open_class
from witnessmark.jobs.stale import stale_documents
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.mark_steps import marks_typed, may_give, range_text
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Ask, Sheet, ask_labelled
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Moderated:
    """One mark changed: the machine's and the teacher's; `stale` are documents that show what was before."""

    sheet: str
    label: str
    machine: Decimal
    marks: Decimal
    stale: tuple[Path, ...] = ()


@dataclass(frozen=True, slots=True)
class Also:
    """What may be said beside a mark: words for the student; the task, where a student's code names several sheets."""

    say: str = ""
    task: str = ""


NOTHING_MORE = Also()


def moderate(
    class_path: Path, code: str, label: str, marks: str, why: str, who: str, now: datetime, also: Also = NOTHING_MORE
) -> Moderated:
    """Set the mark of one answer; `code` is a sheet's or a student's.

    Raises ProblemsFound when sheet, answer or marks are not possible.
    """
    with alone(class_path, "moderate", now), open_class(class_path).record() as record:
        sheet = sheet_of(record, class_path, code, also.task)
        ask = ask_of(sheet, label)
        machine = _proposal(record, sheet, ask)
        wanted = _marks(marks, machine.out_of, sheet, ask)
        with record.step("moderate", sheet.task.key, now, who):
            record.moderate(sheet.code, ask.key, wanted, who, why, now, also.say.strip())
    stale = stale_documents(class_path, sheet.task.key, [sheet])
    return Moderated(sheet.code, ask.label, machine.marks, wanted, stale)


def withdraw(
    class_path: Path, code: str, label: str, why: str, who: str, now: datetime, also: Also = NOTHING_MORE
) -> Moderated:
    """Take a teacher's mark back, so that the machine's stands; raises ProblemsFound where there is none."""
    with alone(class_path, "moderate", now), open_class(class_path).record() as record:
        sheet = sheet_of(record, class_path, code, also.task)
        ask = ask_of(sheet, label)
        machine = _proposal(record, sheet, ask)
        with record.step("moderate", sheet.task.key, now, who):
            if not record.withdraw(sheet.code, ask.key, who, why, now):
                expected = f"a teacher's mark at {ask.label}"
                raise ProblemsFound([Problem("not-moderated", Place(sheet.code), expected, "the machine's alone")])
    stale = stale_documents(class_path, sheet.task.key, [sheet])
    return Moderated(sheet.code, ask.label, machine.marks, machine.marks, stale)


def _proposal(record: Record, sheet: Sheet, ask: Ask) -> Outcome:
    proposals = record.proposals(sheet.task.key).get(sheet.code, {})
    if ask.key not in proposals:
        remedy = "take it in and mark it first; work handed in on paper goes through the class table"
        raise ProblemsFound([Problem("not-marked", Place(sheet.code), "an answer that was marked", ask.label, remedy)])
    return proposals[ask.key]


def sheet_of(record: Record, class_path: Path, code: str, task: str = "") -> Sheet:
    """The sheet of a code as a person types it (small letters, blanks, O for D), or the one sheet of a student's code
    (of a task, where it is named); raises ProblemsFound."""
    sheet = record.sheet(repaired_code(code) or code)
    if sheet is not None and task in ("", sheet.task.key):
        return sheet
    if sheet is not None:
        expected, found = f"a sheet of {task}", f"{sheet.code}, a sheet of {sheet.task.key}"
        raise ProblemsFound([Problem("other-task", Place(str(class_path)), expected, found)])
    wanted = " ".join(code.split()).casefold()
    tasks = [task] if task else record.tasks()
    mine = [s for key in tasks for s in record.sheets(key) if s.student.code.casefold() == wanted]
    if len(mine) == 1:
        return mine[0]
    raise ProblemsFound([_several(class_path, code, mine) if mine else _no_sheet(class_path, code)])


def _no_sheet(class_path: Path, code: str) -> Problem:
    remedy = "the code stands at the head of the sheet, and in the in-tray"
    expected = "a sheet code or a student's code of this class"
    return Problem("no-sheet", Place(str(class_path)), expected, code, remedy)


def _several(class_path: Path, code: str, sheets: Sequence[Sheet]) -> Problem:
    listed = ", ".join(f"{sheet.code} ({sheet.task.key})" for sheet in sheets)
    expected, remedy = f"one sheet: {listed}", "type its code, or name the task with --task"
    return Problem("several-sheets", Place(str(class_path)), expected, f"{code}, who has {len(sheets)}", remedy)


def ask_of(sheet: Sheet, label: str) -> Ask:
    """The answer of a label or key on a sheet; raises ProblemsFound."""
    ask = ask_labelled(sheet.asks, label)
    if ask is not None:
        return ask
    labels = ", ".join(ask.label for ask in sheet.asks)
    raise ProblemsFound([Problem("no-answer", Place(sheet.code), f"one of {labels}", label)])


def _marks(text: str, out_of: Decimal, sheet: Sheet, ask: Ask) -> Decimal:
    marks, half_marks = marks_typed(text), sheet.task.rules.half_marks
    if marks is None or not may_give(marks, out_of, half_marks):
        expected = f"{range_text(out_of, half_marks)} for {ask.label}"
        raise ProblemsFound([Problem("marks-out-of-range", Place(sheet.code), expected, text)])
    return marks
