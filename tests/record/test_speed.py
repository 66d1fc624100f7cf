"""A faculty's task, a thousand students with six questions of three answers each, is stored and read in seconds."""

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import perf_counter, process_time
from typing import TypeVar

import pytest

from record.examples import LATER, NOW, outcome, question, slip, task, variant
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Entry, Return, Sheet, Student
from witnessmark.record.record import Record

T = TypeVar("T")
STUDENTS, QUESTIONS = 1000, 6
STORED_WITHIN = 4.0
"""Seconds of the processor, whatever else the machine does; twice what was aimed at, for slower machines."""


def faculty() -> tuple[tuple[Sheet, ...], dict[str, Question]]:
    """A thousand sheets, and the questions by their text."""
    questions = [question(f"question-{n}", "its text " * 300) for n in range(QUESTIONS)]
    of = replace(task(), questions=tuple(q.key for q in questions))
    sheets = (
        Sheet(f"S{n}", of, Student(f"A{n}", f"Student {n}", "Yard"), tuple(variant(q, n) for q in questions))
        for n in range(STUDENTS)
    )
    return tuple(sheets), {q.source: q for q in questions}


class Clock:
    """Times actions (seconds of the processor), and says how long each took."""

    def __init__(self) -> None:
        self.took: dict[str, float] = {}

    def __call__(self, what: str, action: Callable[[], T]) -> T:
        start, wall = process_time(), perf_counter()
        found = action()
        self.took[what] = process_time() - start
        sys.stdout.write(f"\n{what}: {self.took[what]:.2f} s (by the clock {perf_counter() - wall:.2f} s)")
        return found


def test_a_faculty_is_stored_and_read_in_seconds(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheets, questions = faculty()
    returns = [
        Return(s.code, f"{s.student.code}.xlsx", tuple((a.key, Entry("94.2 kN")) for a in s.asks)) for s in sheets
    ]
    marked = {s.code: {a.key: slip() if a.line else outcome() for a in s.asks} for s in sheets}
    asks = sum(len(s.asks) for s in sheets)
    assert asks == STUDENTS * QUESTIONS * 3
    clock = Clock()
    with capsys.disabled(), Record(path, questions.__getitem__) as record:
        clock("sheets stored", lambda: record.add_sheets(sheets, NOW))
        clock("returns stored", lambda: record.add_returns(returns, NOW))
        clock(f"{asks} outcomes stored", lambda: record.set_outcomes("shear-1", marked, NOW, "marked"))
        stored = sum(clock.took.values())
        sys.stdout.write(f"\nall stored: {stored:.2f} s, {path.stat().st_size / 1e6:.1f} MB")
        assert clock("the same outcomes again", lambda: record.set_outcomes("shear-1", marked, LATER, "again")) == ()
        assert clock("sheets read", lambda: record.sheets("shear-1")) == sheets
        assert clock("outcomes read", lambda: record.outcomes("shear-1")) == marked
        assert len(clock("returns read", lambda: record.returns("shear-1"))) == STUDENTS
        assert clock("several returns", lambda: record.differences("shear-1")) == ()
        clock("verified", record.verify)
        clock("one student removed", lambda: record.remove_student("A500", LATER))
    assert stored < STORED_WITHIN
