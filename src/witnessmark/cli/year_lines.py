"""What the commands of a year print: what stands arranged now, and the days of a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from witnessmark.jobs.arranging import NowArranged
    from witnessmark.jobs.second_marking import SecondTaken
    from witnessmark.marking.standing import AttemptStanding

SAID = {
    "extended": ("has until {value}", "has the day of the class again"),
    "excused": ("is excused as {value}", "is excused no longer"),
    "attempt": ("has attempt {value}", "has that attempt no longer"),
    "received": ("counts as received on {value}", "counts as received when it was taken in"),
    "second": ("got {value} from a second teacher", "has no second mark"),
    "left": ("left on {value}", "did not leave"),
    "group": ("is in the group {value}", "is in the group of the list"),
}


def arranged_lines(done: NowArranged) -> list[str]:
    """What stands now, and how to go back."""
    stands, no_longer = SAID[done.kind.value]
    said = stands.format(value=done.value) if done.value else no_longer
    whose = ", ".join(word for word in (done.student, done.task, done.sheet) if word)
    return [f"{whose}: {said}" + ("" if done.changed else ", as before")]


def arranged_data(done: NowArranged) -> Mapping[str, object]:
    """The same for machines."""
    return {
        "kind": done.kind.value, "task": done.task, "student": done.student, "sheet": done.sheet, "value": done.value,
        "changed": done.changed,
    }  # fmt: skip


def second_lines(done: SecondTaken) -> list[str]:
    """How far two teachers agree, and the answers to talk about, the widest apart first."""
    found = done.agreement
    share = found.same.interval()
    same = f"{found.same.count}, {found.same.value or 0:.0%} (95 %: {share.low:.0%} to {share.high:.0%})"
    lines = [f"{counted(len(done.marks), 'answer')} marked twice; the same marks in {same}"]
    if found.kappa is not None and found.interval is not None:
        ends = f"95 %: {found.interval.low:.2f} to {found.interval.high:.2f}"
        lines.append(f"kappa with quadratic weights {found.kappa:.2f} ({ends}); 1 is no difference, 0 is chance")
    else:
        lines.append("no kappa: one of both gave the same mark throughout")
    return [*lines, *(f"  {one.sheet} {one.label}: {one.first} and {one.second}" for one in done.differing)]


def second_data(done: SecondTaken) -> Mapping[str, object]:
    """The same for machines."""
    found = done.agreement
    marks = [{"sheet": m.sheet, "answer": m.label, "first": str(m.first), "second": str(m.second)} for m in done.marks]
    ends = (found.interval.low, found.interval.high) if found.interval else None
    return {"task": done.task, "same": found.same.count, "of": found.same.of, "kappa": found.kappa, "interval": ends,
            "marks": marks, "changed": done.changed}  # fmt: skip


def days_line(days: AttemptStanding) -> str:
    """The days of a sheet and what they cost, in a line; empty where nothing was due and nothing came."""
    due = f"due {days.due}" if days.due else ""
    if days.earned is None or days.received is None:
        return due
    late = f"{counted(days.days_late, 'day')} late" if days.days_late else ("in time" if days.due else "")
    off = f"{days.off} off, {days.counts} count" if days.off else ""
    return ", ".join(part for part in (due, f"received {days.received}", late, off) if part)


def late_lines(late: Iterable[AttemptStanding], students: Mapping[str, str]) -> list[str]:
    """Each sheet that came in late, with whose it is and what that costs."""
    return [f"late: {students[one.sheet]} ({one.sheet}): {days_line(one)}" for one in late]
