"""The history of a class replayed, command by command, from its journal into a new record.

Sheets, returns, corrections and reasons come from the old record; marks do not: they are worked out anew by marking
what counts.
"""

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby
from pathlib import Path

from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.jobs.proposing import proposals
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.task import Task
from witnessmark.record.codec import load
from witnessmark.record.record import Record
from witnessmark.record.rows import Event, JournalRow

REMARKS = frozenset({Event.RETURNED, Event.CHOSEN, Event.CORRECTED, Event.MARKED})


def replay(old: Record, path: Path) -> None:
    """Make a record in which happened what happened in the old one. Commands are told apart by their time."""
    with Record(path, question_from_bundle) as new:
        for at, rows in groupby(old.journal(), key=lambda row: row.at):
            _command(old, new, list(rows), at)


def _command(old: Record, new: Record, rows: Sequence[JournalRow], at: datetime) -> None:
    undone = next((row for row in rows if row.event is Event.UNDONE), None)
    if undone:
        new.undo(undone.who, undone.why, at)
        return
    for row in rows:
        if row.event is Event.TASK:
            new.add_task(load(Task, row.detail), at)
        if row.event is Event.ISSUED:
            sheet = old.sheet(row.sheet)
            assert sheet is not None
            new.add_sheets([sheet], at)
    task = rows[0].task
    if all(row.event in (Event.TASK, Event.ISSUED) for row in rows):
        return
    with new.step("replayed", task, at, rows[-1].who):
        _take_in(old, new, rows, at)
        said = {(row.sheet, row.ask): row.detail for row in rows if row.event is Event.TOLD}
        for row in rows:
            if row.event is Event.ARRANGED:
                _arrange(new, row)
            if row.event is Event.CORRECTED:
                made = len(new.corrections(task))
                new.correct(task, old.corrections(task)[made], row.detail, row.who, row.why, at)
            if row.event is Event.WITHDRAWN:
                new.withdraw(row.sheet, row.ask, row.who, row.why, at)
            if row.event is Event.MODERATED and row.after is not None:
                words = said.get((row.sheet, row.ask), "")
                new.moderate(row.sheet, row.ask, row.after, row.who, row.why, at, words)
        if any(row.event in REMARKS for row in rows):
            sheets = {sheet.code: sheet for sheet in new.sheets(task)}
            marked = proposals(
                sheets, new.returns(task), new.differences(task), corrections=new.corrections(task)
            )  # fmt: skip
            new.set_outcomes(task, marked, at, "marked")


def _take_in(old: Record, new: Record, rows: Sequence[JournalRow], at: datetime) -> None:
    wanted = {row.sheet for row in rows if row.event is Event.RETURNED}
    stored = [r for r in old.all_returns(rows[0].task) if r.handed_in.sheet_code in wanted and r.received == at]
    if stored:
        hashes = {r.handed_in.file: r.sha256 for r in stored}
        new.take_in([r.handed_in for r in stored], at, hashes, stored[0].source)


def _arrange(new: Record, row: JournalRow) -> None:
    kind, sheet, value = row.detail.split("|", 2)
    if value:
        new.arrange(Arrangement(Arranging(kind), row.task, row.sheet, value, row.who, row.why, row.at, sheet))
    else:
        new.drop_arrangement(Arranging(kind), row.task, row.sheet, row.who, row.why, row.at, sheet)
