"""What `check` on a class, `history`, `undo` and `restore` print: sentences, and the same as data."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from witnessmark.cli.stale_lines import stale_lines
from witnessmark.cli.year_lines import days_line

if TYPE_CHECKING:
    from witnessmark.jobs.restoring import Restored
    from witnessmark.jobs.telling_history import History, SheetStory, Told
    from witnessmark.jobs.undoing import TakenBack
    from witnessmark.jobs.verifying import Verified
    from witnessmark.record.copies import Copy


def verified_data(done: Verified) -> dict[str, object]:
    """The result of `check` on a class, for machines."""
    return {
        "class": done.folder, "sheets": done.sheets, "marks": done.marks, "journal_rows": done.journal_rows,
        "copies": done.copies, "seal": done.seal, "problems": [str(p) for p in done.problems],
        "notes": [str(n) for n in done.notes],
    }  # fmt: skip


def verified_lines(done: Verified) -> list[str]:
    """The result of `check` on a class, for people."""
    if not done.seal:
        return [f"{done.folder}: nothing was issued yet"]
    held = f"{done.sheets} sheets, {done.marks} marks, {done.journal_rows} rows of the journal, {done.copies} copies"
    said = "not whole" if done.problems else "whole"
    return [f"{done.folder}: {held}; the record is {said}", f"  seal {done.seal}: the same until something happens"]


def history_data(done: History) -> dict[str, object]:
    """The result of `history`, for machines."""
    return {"sheets": [_story_data(story) for story in done.sheets]}


def _story_data(story: SheetStory) -> dict[str, object]:
    told = [
        {"at": one.at.isoformat(), "answer": one.answer, "told": one.sentence, "who": one.who, "why": one.why}
        for one in story.told
    ]
    marks = {label: str(marks) for label, marks in story.marks}
    days = {"due": str(story.days.due or ""), "received": str(story.days.received or ""),
            "late": story.days.days_late, "off": str(story.days.off)} if story.days else None  # fmt: skip
    return {"sheet": story.sheet, "student": story.student, "task": story.task, "history": told, "marks": marks,
            "days": days}  # fmt: skip


def history_lines(done: History) -> list[str]:
    """The result of `history`, for people."""
    lines = []
    for story in done.sheets:
        lines.append(f"{story.sheet}, {story.student}, {story.task}")
        lines += [_told_line(one) for one in story.told]
        marks = ", ".join(f"{label} {marks}" for label, marks in story.marks)
        days = days_line(story.days) if story.days else "this attempt was taken back"
        lines.append((f"  now: {marks}" if marks else "  now: no marks") + (f"; {days}" if days else ""))
    return lines


def _told_line(one: Told) -> str:
    about = f"{one.answer}: " if one.answer else ""
    who = "" if one.who in ("", "witnessmark") else f", by {one.who}"
    why = "" if one.why in ("", "marked", "issued", "taken in", "set", "changed") else f": {one.why}"
    return f"  {_when(one.at)}  {about}{one.sentence}{who}{why}"


def _when(at: datetime) -> str:
    return at.astimezone().strftime("%Y-%m-%d %H:%M")


def undone_data(done: TakenBack) -> dict[str, object]:
    """The result of `undo`, for machines."""
    totals = [{"sheet": sheet, "before": before, "after": after} for sheet, before, after in done.totals]
    step = done.step
    return {
        "step": step.what, "task": step.task, "at": step.at.isoformat(), "sheets": done.sheets, "totals": totals,
        "stale": done.stale,
    }  # fmt: skip


def undone_lines(done: TakenBack) -> list[str]:
    """The result of `undo`, for people: what was taken back, and every total that is another now."""
    step = done.step
    said = f"Taken back: {step.what} of {_when(step.at)}, task {step.task}, sheets concerned: {len(done.sheets)}"
    totals = (f"  {sheet}: total {before}, now {after}" for sheet, before, after in done.totals)
    return [said, *totals, *stale_lines(done.stale)]


def restored_data(done: Restored) -> dict[str, object]:
    """The result of `restore`, for machines."""
    copies = [{"copy": c.name, "at": c.at.isoformat(), "before": c.command} for c in done.copies]
    return {"copies": copies, "restored": done.restored.name if done.restored else None, "before": done.before}


def restored_lines(done: Restored) -> list[str]:
    """The result of `restore`, for people."""
    if done.restored is None:
        if not done.copies:
            return [f"{done.folder}: no copies yet; one is made before each command that writes"]
        return [*(_copy_line(copy) for copy in done.copies), f"To go back: witnessmark restore {done.folder} COPY"]
    kept = f"; what was there is kept as {done.before}" if done.before else ""
    return [f"The record is that of {_when(done.restored.at)}, before {done.restored.command}{kept}"]


def _copy_line(copy: Copy) -> str:
    return f"  {copy.name}  {_when(copy.at)}, before {copy.command}"
