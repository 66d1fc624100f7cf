"""Stores and reads the record of a faculty (1,000 students, 6 questions) and prints seconds with ratios to a floor.

Run with `python scripts/benchmark_record.py [STUDENTS]` when nothing else runs; `src` on PYTHONPATH. The floor, in the
same run: SQLite alone writes, in one transaction, and reads again, as many rows of a kilobyte as there are outcomes.
"""

import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import process_time
from typing import TypeVar

from witnessmark.files.bank.folder import load_bank
from witnessmark.jobs.previewing import drawn
from witnessmark.marking.marker import mark
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Entry, Return, Sheet, Student, Task
from witnessmark.record.record import Record

T = TypeVar("T")
BANK = Path(__file__).parents[1] / "bank"
QUESTIONS = ("drain-hole", "rod-shroud", "glued-lap", "tube-strut", "press-limit", "punch-work")
NOW = datetime(2027, 1, 4, tzinfo=UTC)
LATER = NOW + timedelta(days=7)
ROW = "x" * 1000


def timed(what: str, floor: float, act: Callable[[], T]) -> T:
    """What an action gives; prints its seconds of the processor, and how many times the floor that is."""
    start = process_time()
    found = act()
    took = process_time() - start
    print(f"{what:28} {took:7.2f} s {took / floor:7.1f} x")
    return found


def floor_of(folder: Path, rows: int) -> float:
    """Seconds in which SQLite alone writes and reads the rows."""
    start = process_time()
    with sqlite3.connect(folder / "floor.db") as plain:
        plain.execute("CREATE TABLE floor (n INTEGER PRIMARY KEY, text TEXT)")
        plain.executemany("INSERT INTO floor VALUES (?, ?)", ((n, ROW) for n in range(rows)))
        plain.commit()
        assert len(plain.execute("SELECT * FROM floor").fetchall()) == rows
    return process_time() - start


def main() -> None:
    """The whole run."""
    students = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    bank = load_bank(BANK)
    of = {question.source: question for question in bank.values()}
    task = Task("big", "Big task", QUESTIONS)
    variants = tuple(drawn(bank[key], 1)[0] for key in QUESTIONS)
    sheets = tuple(Sheet(f"S{n}", task, Student(f"A{n}", f"Apprentice {n}", "Yard"), variants) for n in range(students))
    outcomes = marked_once(sheets[0])
    entries = tuple((key, Entry("94.2 kN")) for key in outcomes)
    returns = [Return(sheet.code, f"{sheet.student.code}.xlsx", entries) for sheet in sheets]
    marked = {sheet.code: outcomes for sheet in sheets}
    with tempfile.TemporaryDirectory() as folder:
        rows = students * len(outcomes)
        floor = floor_of(Path(folder), rows)
        print(f"floor: {rows} rows by SQLite alone in {floor:.3f} s")
        with Record(Path(folder) / "record.db", of.__getitem__) as record:
            timed("sheets stored", floor, lambda: record.add_sheets(sheets, NOW))
            timed("returns stored", floor, lambda: record.add_returns(returns, NOW))
            timed("outcomes stored", floor, lambda: record.set_outcomes("big", marked, NOW, "marked"))
            timed("the same outcomes again", floor, lambda: record.set_outcomes("big", marked, LATER, "again"))
            timed("sheets read", floor, lambda: record.sheets("big"))
            timed("outcomes read", floor, lambda: record.outcomes("big"))
            timed("returns read", floor, lambda: record.returns("big"))
            timed("verified", floor, record.verify)
            timed("one student removed", floor, lambda: record.remove_student("A5", LATER))


def marked_once(sheet: Sheet) -> dict[str, Outcome]:
    """An outcome for each place for an answer, all of one entry; how fast the record is does not hang on which."""
    by_question = [
        mark(v, {a.within: "94.2 kN" for a in sheet.asks if sheet.variants[a.number - 1] is v}) for v in sheet.variants
    ]
    return {ask.key: by_question[ask.number - 1][ask.within] for ask in sheet.asks}


if __name__ == "__main__":
    main()
