"""The job `counts`: a teacher chooses which return of a sheet counts, for all answers or for some, and marks follow."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.jobs.moderating import ask_of, sheet_of
from witnessmark.jobs.opened import alone, open_class
from witnessmark.jobs.proposing import proposals
from witnessmark.jobs.stale import stale_documents
from witnessmark.record.rows import StoredReturn
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was chosen, and every mark that changed by it: label, the machine's mark before and now.

    `changed` is False where the return counted already. A mark that a teacher gave stands beside these.
    """

    folder: Path
    task: str
    sheet: str
    student: str
    number: int
    file: str
    labels: tuple[str, ...]
    changed: bool
    marks: tuple[tuple[str, Decimal | None, Decimal | None], ...]
    stale: tuple[Path, ...] = ()


def choose(
    class_path: Path, code: str, number: int, wanted: Sequence[str], who: str, why: str, now: datetime
) -> Chosen:
    """Let a return of a sheet count, for these answers (`1a`) or alone for all, and mark the task again.

    Raises ProblemsFound for a sheet, return or answer that is not there, and without a name or a reason.
    """
    with alone(class_path, "counts", now), open_class(class_path).record() as record:
        sheet = sheet_of(record, class_path, code)
        task_key = sheet.task.key
        asks = [ask_of(sheet, label) for label in wanted]
        returned = record.all_returns(task_key, sheet.code)
        one = next((r for r in returned if r.number == number), None)
        if one is None:
            raise ProblemsFound([_no_return(class_path, task_key, sheet.code, number, returned)])
        with record.step("counts", task_key, now, who):
            keys = [ask.key for ask in asks] or None
            changed = record.choose_return(sheet.code, number, who, why, now, keys)
            sheets = {s.code: s for s in record.sheets(task_key)}
            outcomes = proposals(
                sheets,
                record.returns(task_key),
                record.differences(task_key),
                corrections=record.corrections(task_key),
            )
            changes = record.set_outcomes(task_key, outcomes, now, f"return {number} counts: {why}", who)
        names = {ask.key: ask.label for ask in sheet.asks}
        marks = tuple(
            (f"{c.sheet} {names.get(c.ask, c.ask)}" if c.sheet != sheet.code else names[c.ask],
             c.before.marks if c.before else None, c.after.marks if c.after else None)
            for c in changes if c.changes_the_mark
        )  # fmt: skip
        file = Path(one.handed_in.file).name
        stale = stale_documents(class_path, task_key, [sheets[c.sheet] for c in changes])
        return Chosen(
            class_path, task_key, sheet.code, sheet.student.code, number, file, tuple(a.label for a in asks), changed,
            marks, stale,
        )  # fmt: skip


def _no_return(class_path: Path, task_key: str, code: str, number: int, returned: Sequence[StoredReturn]) -> Problem:
    there = ", ".join(f"{r.number} ({Path(r.handed_in.file).name})" for r in returned) or "none"
    remedy = f"witnessmark returns {class_path} {task_key}"
    return Problem("no-return", Place(code), f"the number of a return of this sheet ({there})", str(number), remedy)
