"""What came back taken in and marked."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from witnessmark.desk.acts.faults import of_faults
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done
from witnessmark.jobs.marking import CameOn, Marked, mark
from witnessmark.jobs.opened import Progress
from witnessmark.words.problems import Problem


def take_in(
    progress: Progress, class_path: Path, task: str, now: datetime, came: date | None, who: str, before: Done
) -> Done:
    """What lies in the folder of a task taken in and marked; `before` is what was said of putting it there."""
    done = mark(class_path, task, now, None, progress, None, CameOn(came, who) if came else None)
    problems = (*before.problems, *_not_chosen(done.problems), *of_faults(done.faults), *done.notes)
    return Done((*before.told, *_marked(done)), problems, (), ("task", task, "back"))


def _not_chosen(problems: Sequence[Problem]) -> list[Problem]:
    """Without entries that differ, which stand side by side in a room of their own."""
    return [problem for problem in problems if problem.code != "entries-differ"]


def _marked(done: Marked) -> list[str]:
    told = [
        counted(done.taken_in, "{n} return read", "{n} returns read"),
        counted(done.added, "{n} answer more counts now", "{n} answers more count now"),
        _("{n} of {all} sheets are marked").format(n=len(done.outcomes), all=len(done.sheets)),
        counted(done.waiting, "{n} answer waits in the in-tray", "{n} answers wait in the in-tray"),
    ]
    if done.differences:
        told.append(counted(
            len(done.differences), "{n} entry differs from the one that counts; choose below",
            "{n} entries differ from those that count; choose below"))  # fmt: skip
    for one in done.fell:
        words = _("lower than before: {student}, {before} to {after} marks")
        told.append(words.format(student=one.student, before=one.before, after=one.after))
    gone = [_("no longer in the folder, and counts all the same: {file}").format(file=r.handed_in.file)
            for r in done.gone]  # fmt: skip
    return [*told, *gone]
