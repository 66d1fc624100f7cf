"""The job `undo`: the last step of a class taken back, with who and why; what was taken back is told for good."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.jobs.opened import alone, open_class
from witnessmark.jobs.stale import stale_documents
from witnessmark.record.rows import Step


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The step that was taken back, the sheets that it concerned, every total that changed: before and after; and the
    documents that show what stood before."""

    step: Step
    sheets: tuple[str, ...]
    totals: tuple[tuple[str, str, str], ...]
    stale: tuple[Path, ...] = ()


def undo(class_path: Path, who: str, why: str, now: datetime) -> TakenBack:
    """Take back the last taking in, moderation, acceptance, choice or arrangement; ProblemsFound without one."""
    with alone(class_path, "undo", now), open_class(class_path).record() as record:
        tasks = record.tasks()
        before = {task: record.totals(task) for task in tasks}
        undone = record.undo(who, why, now)
        old, new = before.get(undone.step.task, {}), record.totals(undone.step.task)
        concerned = [sheet for sheet in record.sheets(undone.step.task) if sheet.code in undone.sheets]
    codes = [code for code in {**old, **new} if old.get(code) != new.get(code)]
    totals = tuple((code, _text(old, code), _text(new, code)) for code in codes)
    stale = stale_documents(class_path, undone.step.task, concerned)
    return TakenBack(undone.step, undone.sheets, totals, stale)


def _text(totals: dict[str, str], code: str) -> str:
    return totals.get(code, "none")
