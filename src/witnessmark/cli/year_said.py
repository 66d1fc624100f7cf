"""The results of the commands of a year, as data for machines and lines for people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from witnessmark.cli.words import counted
from witnessmark.cli.year_lines import arranged_data, arranged_lines, second_data, second_lines

if TYPE_CHECKING:
    from witnessmark.jobs.arranging import NowArranged
    from witnessmark.jobs.keeping_mark_book import MarkBookKept
    from witnessmark.jobs.printing import ToPrint
    from witnessmark.jobs.second_marking import SecondAsked, SecondTaken

Said = tuple[Mapping[str, object], Sequence[str]]


def arranged(done: NowArranged) -> Said:
    """The result of `extend`, `excuse`, `received`, `leave` and `group`."""
    return arranged_data(done), arranged_lines(done)


def second_asked(done: SecondAsked) -> Said:
    """The result of `second` without a file."""
    data = {"file": done.file, "answers": done.answers, "of": done.of}
    return data, [f"{done.answers} of {counted(done.of, 'answer')}, without marks", f"  {done.file}"]


def second_taken(done: SecondTaken) -> Said:
    """The result of `second` with a file."""
    return second_data(done), second_lines(done)


def mark_book(done: MarkBookKept) -> Said:
    """The result of `mark-book`."""
    data = {"files": done.files, "tasks": done.tasks, "students": done.students, "to_mark": done.waiting}
    said = f"{counted(done.tasks, 'task')}, {counted(done.students, 'student')}"
    waits = [f"still to mark: {counted(done.waiting, 'answer')}"] if done.waiting else []
    return data, [said, *waits, *(f"  {file}" for file in done.files)]


def printed(done: ToPrint) -> Said:
    """The result of `print`."""
    sides = "both sides" if done.both_sides else "one side"
    data = {"file": done.file, "sheets": [sheet.code for sheet in done.sheets], "print": sides}
    kept = [f"  class.yaml says so from now on: print: {sides}"] if done.is_new else []
    return data, [f"{counted(len(done.sheets), 'sheet')}, for {sides} of the paper", f"  {done.file}", *kept]
