"""How `correct` shows what it changes: each mark with the student's name, both marks and why; then the totals."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.stale_lines import stale_lines
from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from witnessmark.jobs.correcting import MarkCorrected, TaskCorrected


def corrected_data(done: TaskCorrected) -> dict[str, object]:
    """What a correction changes, for machines."""
    totals = [
        {"student": who, "name": name, "before": str(before), "after": str(after)}
        for who, name, before, after in done.totals
    ]
    changes = [_change_data(change) for change in done.changes]
    return {"task": done.task, "correction": done.told, "applied": done.applied, "changes": changes, "totals": totals,
            "stale": done.stale}  # fmt: skip


def _change_data(change: MarkCorrected) -> dict[str, object]:
    before, after = change.marks
    return {
        "sheet": change.sheet, "student": change.student, "name": change.name, "answer": change.label,
        "before": str(before), "after": str(after), "out_of_before": str(change.before.out_of),
        "out_of": str(change.after.out_of), "verdict_before": str(change.before.verdict),
        "verdict": str(change.after.verdict), "because": change.after.because, "stays": change.stays,
    }  # fmt: skip


def corrected_lines(done: TaskCorrected) -> list[str]:
    """What a correction changes, for people."""
    answers = counted(len(done.changes), "answer") if done.changes else "no answers"
    said = f"{answers} changed" if done.applied else f"{answers} would change; nothing is written without --apply"
    then = "now" if done.applied else "then"
    totals = [f"  {who:8} {name}: total {before}, {then} {after}" for who, name, before, after in done.totals]
    head = f"{done.task}, {done.told}. {said}"
    return [head, *(_line(change) for change in done.changes), *totals, *stale_lines(done.stale)]


def _line(change: MarkCorrected) -> str:
    before, after = change.marks
    was, now = change.before, change.after
    marks = f"{before} of {was.out_of} ({was.verdict}) -> {after} of {now.out_of} ({now.verdict})"
    line = f"  {change.student:8} {change.name}, {change.label}: {marks}: {now.because}"
    return f"{line} The teacher's mark stays, and waits for another look." if change.stays else line
