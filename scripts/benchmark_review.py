"""How long the review of 3,000 students and 8 tasks takes, of each task and of the year, and whether it is linear.

Run with `python scripts/benchmark_review.py [STUDENTS [TASKS]]` when nothing else runs (3,000 and 8): the reviews of a
quarter, of half and of all of the students; 1 where all take longer than LIMIT, or where twice the students take more
than LINEAR times as long. Each task is one question of two dozen sets of numbers; of its entries six in ten are right,
two follow a modelled slip, one a wrong method that no question knows and several share, and one follows nothing.
"""

import random
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from benchmark_class import BANK, NOW
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.previewing import drawn
from witnessmark.jobs.reviewing import review
from witnessmark.jobs.reviewing_year import review_of_year
from witnessmark.marking.class_marking import mark_returns
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant, unit_of

QUESTIONS = (
    "drain-hole",
    "rod-shroud",
    "glued-lap",
    "tube-strut",
    "press-limit",
    "punch-work",
    "bottle-jack",
    "clevis-pin",
)
STUDENTS, TASKS = 3_000, 8
LIMIT = 60.0
LINEAR = 2.4
NUMBERS = 24
SHARED = 0.3
"""What a wrong method that no question knows makes of a result."""


def entry(variant: Variant, key: str, chance: random.Random) -> str:
    """What a student of chance types for a part that asks a number."""
    unit, right = unit_of(variant.question, key), float(variant.expected[key].magnitude)
    slips = [float(v.magnitude) for v in variant.slips.get(key, {}).values() if hasattr(v, "magnitude")]
    kind = chance.random()
    if kind < 0.6:
        value = right
    elif kind < 0.8 and slips:
        value = chance.choice(slips)
    elif kind < 0.9:
        value = right * SHARED
    else:
        value = right * 10 ** chance.uniform(-0.9, 0.9)
    return f"{value:.4g} {unit}".strip()


def sheets_of(task: Task, question: Question, students: Sequence[Student]) -> Iterator[Sheet]:
    """Everybody's sheet; students far apart in the list share their numbers."""
    variants = drawn(question, NUMBERS)
    for n, student in enumerate(students):
        yield Sheet(f"{task.key}-{n}", task, student, (variants[n % len(variants)],))


def handed_in(sheet: Sheet, chance: random.Random) -> Return:
    """The results of one student."""
    variant = sheet.variants[0]
    asked = [ask for ask in sheet.asks if ask.line is None and ask.within in variant.expected]
    entries = tuple((ask.key, Entry(entry(variant, ask.within, chance))) for ask in asked)
    return Return(sheet.code, f"{sheet.student.code}.xlsx", entries)


def made(folder: Path, count: int, tasks: int) -> None:
    """A class whose tasks are marked and stored."""
    start_class(folder, "Benchmark", BANK, NOW)
    students = [Student(f"B{n:04}", f"Apprentice {n}", f"Yard {n % 50}") for n in range(count)]
    lines = ["code,name,group", *(f"{s.code},{s.name},{s.group}" for s in students)]
    (folder / "students.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    bank, chance = load_bank(BANK), random.Random(7)  # noqa: S311 - students of chance
    with open_class(folder).record() as record:
        for n in range(tasks):
            key = QUESTIONS[n % len(QUESTIONS)]
            task = Task(f"task-{n}", f"Task {n}", (key,))
            sheets = {sheet.code: sheet for sheet in sheets_of(task, bank[key], students)}
            returns = [handed_in(sheet, chance) for sheet in sheets.values()]
            record.add_sheets(tuple(sheets.values()), NOW)
            record.add_returns(returns, NOW)
            record.set_outcomes(task.key, mark_returns(sheets, returns, Rules()), NOW, "marked")


def seconds(folder: Path, count: int, tasks: int) -> float:
    """Seconds of the reviews of all tasks and of the year."""
    made(folder, count, tasks)
    start = time.perf_counter()
    for n in range(tasks):
        review(folder, f"task-{n}")
    of_tasks = time.perf_counter() - start
    review_of_year(folder)
    took = time.perf_counter() - start
    print(f"{count} students, {tasks} tasks: {took:.1f} s, of these the year {took - of_tasks:.1f} s", flush=True)
    return took


def main(arguments: Sequence[str]) -> int:
    """The whole run."""
    count, tasks = (*map(int, arguments), *(STUDENTS, TASKS)[len(arguments) :])
    with tempfile.TemporaryDirectory() as temporary:
        quarter, half, whole = (seconds(Path(temporary) / str(n), count // n, tasks) for n in (4, 2, 1))
    print(f"slowest {whole:.1f} s for {count} students (limit {LIMIT:g} s)")
    print(f"twice the students: {half / quarter:.2f} and {whole / half:.2f} times as long (limit {LINEAR:g})")
    return int(whole > LIMIT or whole / half > LINEAR or half / quarter > LINEAR)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
