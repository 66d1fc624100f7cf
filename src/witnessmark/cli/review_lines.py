"""The review of a year as lines for people and data for machines; by codes alone, as all that is printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.output import NOT_WRITTEN, Shown
from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from witnessmark.jobs.noting import Noted
    from witnessmark.jobs.reviewing_year import YearReviewed
    from witnessmark.review.year.task_parts import TaskParts

MOST_LINES = 5


def show_year(shown: Shown, done: YearReviewed) -> None:
    """The result of `review` without a task."""
    faults = shown.list_faults(done.faults, "a document", NOT_WRITTEN)
    shown.say({**year_data(done), **faults}, year_lines(done))


def show_note(shown: Shown, done: Noted) -> None:
    """The result of `note`."""
    progress = done.progress
    kept = [f"kept, since it was edited, {one.path}: fresh as {one.fresh}" for one in done.kept]
    data = {"file": done.file, "secure": progress.secure, "practise": [need.key for need in progress.needs],
            "kept": [{"file": one.path, "fresh": one.fresh} for one in done.kept]}  # fmt: skip
    to_do = len(progress.needs)
    said = f"{progress.student.code}: {counted(len(progress.secure), 'question')} secure, {to_do} to practise"
    shown.say(data, [said, f"  {done.file}", *kept])


def year_data(done: YearReviewed) -> Mapping[str, object]:
    """The review as data: everything that was seen, what faded, who needs the same, the parts."""
    review = done.review
    seen = [
        {"misconception": r.key, "family": r.family, "standing": r.standing, "showed": r.students, "could": r.could,
         "still": r.still, "low": r.share.interval().low, "high": r.share.interval().high}
        for r in review.recurrences
    ]  # fmt: skip
    faded = [
        {"misconception": f.key, "after": f.after, "both": f.counts.both, "before_only": f.counts.before_only,
         "after_only": f.counts.after_only, "neither": f.counts.neither, "chance": f.counts.chance,
         "is_finding": f.is_finding} for f in review.faded
    ]  # fmt: skip
    same = [{"misconceptions": one.keys, "students": one.students} for one in review.same]
    return {"files": done.files, "names": done.with_names, "misconceptions": seen, "faded": faded, "same": same,
            "tasks": [_task(parts) for parts in review.parts]}  # fmt: skip


def _task(found: TaskParts) -> Mapping[str, object]:
    r = found.reliability
    parts = [
        {"part": p.label, "marked": p.marked, "waiting": p.waiting, "facility": p.facility,
         "upper_less_lower": p.upper_less_lower, "item_rest": p.item_rest, "alpha_without": p.alpha_without}
        for p in found.parts
    ]  # fmt: skip
    trust = r and {
        "alpha": r.alpha, "low": r.interval.low, "high": r.interval.high, "standard_error": r.standard_error
    }  # fmt: skip
    return {"task": found.task.key, "whole": found.whole, "parts": parts, "trust": trust}


def year_lines(done: YearReviewed) -> Sequence[str]:
    """The review in lines: what most students showed, and who shows it still."""
    seen = [r for r in done.review.recurrences if r.seen]
    top = [f"  {r.share.count} of {r.share.of} who could, {len(r.still)} still: {r.key}" for r in seen[:MOST_LINES]]
    more = [f"  and {len(seen) - MOST_LINES} more"] if len(seen) > MOST_LINES else []
    tasks = counted(len(done.review.year.tasks), "task")
    said = f"{tasks}, {counted(len(seen), 'misconception')} seen, {'with' if done.with_names else 'without'} names"
    return [said, *top, *more, *(f"  {path}" for path in done.files)]
