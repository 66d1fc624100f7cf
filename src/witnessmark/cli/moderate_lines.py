"""How `moderate` shows what a gradebook changes, and `return` what still waits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.stale_lines import stale_lines
from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from witnessmark.jobs.moderating_file import FileModerated, MarkGiven
    from witnessmark.jobs.returning import Waiting


def file_data(done: FileModerated) -> dict[str, object]:
    """What a gradebook changes, for machines."""
    totals = [{"student": who, "before": str(before), "after": str(after)} for who, before, after in done.totals]
    return {
        "file": done.file, "task": done.task, "rows": done.rows, "applied": done.applied,
        "changes": [_change_data(change) for change in done.changes], "totals": totals,
        "problems": [str(problem) for problem in done.problems], "stale": done.stale,
    }  # fmt: skip


def _change_data(change: MarkGiven) -> dict[str, object]:
    given = change.given
    return {
        "sheet": change.sheet, "student": change.student, "name": change.name, "answer": change.label,
        "before": str(change.before), "after": str(change.after), "out_of": str(change.out_of), "why": change.why,
        "say": given.say if given else "", "criteria": [str(one) for one in given.criteria] if given else [],
        "withdrawn": given is None,
    }  # fmt: skip


def file_lines(done: FileModerated) -> list[str]:
    """What a gradebook changes, for people: each mark, then each total, then what is refused and what is stale."""
    marks = counted(len(done.changes), "mark") if done.changes else "no marks"
    said = f"{marks} given" if done.applied else f"{marks} would be given; nothing is written without --apply"
    head = f"{done.task}, {done.file}: {counted(done.rows, 'row')} read, {said}"
    totals = [f"  {who}: total {before}, {_then(done)} {after}" for who, before, after in done.totals]
    refused = [f"{counted(len(done.problems), 'cell')} refused, as told"] if done.problems else []
    return [head, *(_change_line(change) for change in done.changes), *totals, *refused, *stale_lines(done.stale)]


def _then(done: FileModerated) -> str:
    return "now" if done.applied else "then"


def _change_line(change: MarkGiven) -> str:
    back = " (your mark is taken back)" if change.given is None else ""
    said = f'; the student reads: "{change.given.say}"' if change.given and change.given.say else ""
    marks = f"{change.before} -> {change.after} of {change.out_of}{back}"
    return f"  {change.student:8} {change.name}, {change.label}: {marks}: {change.why}{said}"


def waiting_line(waits: Waiting) -> str:
    """What is still open when marks are returned."""
    answers, students = counted(waits.answers, "answer"), counted(waits.students, "student")
    verb = "waits" if waits.answers == 1 else "wait"
    return f"{answers} of {students} still {verb} for you, {waits.unmarked} of them without a mark"
