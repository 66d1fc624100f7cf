"""Sheets issued, issued again, and put into one file to print."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from witnessmark.desk.acts.faults import of_faults
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done
from witnessmark.jobs.crew import every_core
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.opened import Progress
from witnessmark.jobs.printing import Wanted, print_sheets
from witnessmark.jobs.setting_again import set_again


def issue_sheets(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """A sheet for everybody who has none."""
    done = issue(class_path, task, now, progress, crew=every_core)
    new = counted(len(done.new), "{n} sheet issued now", "{n} sheets issued now")
    before = counted(len(done.before), "{n} before", "{n} before")
    kept = [_("kept, since it was typed into: {file}").format(file=one.path.name) for one in done.kept]
    problems = (*of_faults(done.faults), *done.notes)
    return Done((f"{new}, {before}", *kept), problems, (), ("task", task))


def set_task_again(
    progress: Progress, class_path: Path, task: str, students: Sequence[str], due: date | None, decision: Decision,
    repeats: bool,
) -> Done:  # fmt: skip
    """A further sheet on fresh numbers for some students, or for all."""
    done = set_again(class_path, task, students, due, decision, progress, repeats, every_core)
    told = counted(len(done.new), "{n} further sheet on fresh numbers", "{n} further sheets on fresh numbers")
    return Done((told,), (*of_faults(done.faults), *done.notes), (), ("task", task))


def print_all(progress: Progress, class_path: Path, task: str, wanted: Wanted, both_sides: bool) -> Done:
    """The sheets of a task in one file."""
    progress(_("pages"), 0, 1)
    done = print_sheets(class_path, task, wanted, both_sides)
    told = counted(len(done.sheets), "{n} sheet in one file", "{n} sheets in one file")
    return Done((told,), (), (done.file,), ("task", task))
