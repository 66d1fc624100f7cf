"""The job `second`: a sample of answers marked again by a second teacher who does not see the first marks.

The second's marks are kept beside the first, with who and why, and change none of them; `undo` takes them back.
"""

import hashlib
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from witnessmark.documents.gradebook.second_marks import MARKS, PART, SHEET, ToMark, second_marks
from witnessmark.files.safe.atomic import write_together
from witnessmark.files.tables.class_table_cells import Row, filled_cell, read_tables
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.mark_steps import marks_typed, may_give, steps_text
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.sheet_codes import repaired_code
from witnessmark.questions.sheet.task import Ask, Sheet, ask_labelled
from witnessmark.record.record import Record
from witnessmark.review.statistics.agreement import Agreement, agreement
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

Standing = dict[str, dict[str, Outcome]]


@dataclass(frozen=True, slots=True)
class SecondAsked:
    """The table that was written for the second teacher, and how many answers of how many it holds."""

    file: Path
    answers: int
    of: int


@dataclass(frozen=True, slots=True)
class SecondMark:
    """One answer marked twice."""

    sheet: str
    label: str
    first: Decimal
    second: Decimal


@dataclass(frozen=True, slots=True)
class SecondTaken:
    """What the second teacher gave, how far both agree, and whether anything is new in the record."""

    task: str
    marks: tuple[SecondMark, ...]
    agreement: Agreement
    changed: bool

    @property
    def differing(self) -> tuple[SecondMark, ...]:
        """The answers to talk about, the widest apart first."""
        apart = (one for one in self.marks if one.first != one.second)
        return tuple(sorted(apart, key=lambda one: (-abs(one.first - one.second), one.sheet, one.label)))


def ask_second(class_path: Path, task_key: str, count: int, seed: int) -> SecondAsked:
    """Write a table of so many marked answers (all, where there are fewer), chosen evenly by the seed alone, without
    anybody's marks. Raises ProblemsFound where nothing was marked."""
    with alone(class_path, "second"):
        with open_class(class_path).record() as record:
            sheets, outcomes = _marked(record, class_path, task_key)
        every = [
            ToMark(sheet, ask, outcome.raw, outcome.out_of)
            for sheet in sheets
            for ask in sheet.asks
            if ask.line is None and (outcome := outcomes.get(sheet.code, {}).get(ask.key)) and outcome.raw.strip()
            and not outcome.is_waiting
        ]  # fmt: skip
        chosen = sorted(every, key=lambda one: _lot(seed, one))[:count]
        chosen.sort(key=lambda one: (one.ask.key, one.sheet.code))
        name = f"second-marks-{task_key}.xlsx"
        write_together(class_path, {name: second_marks(sheets[0].task.title, chosen)})
        return SecondAsked(class_path / name, len(chosen), len(every))


def _lot(seed: int, one: ToMark) -> str:
    return hashlib.sha256(f"second mark|{seed}|{one.sheet.code}|{one.ask.key}".encode()).hexdigest()


def take_second(class_path: Path, task_key: str, file: Path, decision: Decision) -> SecondTaken:
    """Keep the second teacher's marks of a table, and tell how far both agree; an empty cell says nothing.

    Raises ProblemsFound with every cell that cannot be used, and then nothing is kept.
    """
    with alone(class_path, "second", decision.now), open_class(class_path).record() as record:
        sheets, outcomes = _marked(record, class_path, task_key)
        given = _given(file, {sheet.code: sheet for sheet in sheets}, outcomes)
        with record.step("second", task_key, decision.now, decision.who):
            kept = [record.arrange(_kept(sheet, ask, marks, decision)) for sheet, ask, marks in given]
    marks = tuple(SecondMark(s.code, ask.label, outcomes[s.code][ask.key].marks, m) for s, ask, m in given)
    found = agreement([(float(one.first), float(one.second)) for one in marks])
    return SecondTaken(task_key, marks, found, any(kept))


def _marked(record: Record, class_path: Path, task_key: str) -> tuple[tuple[Sheet, ...], Standing]:
    sheets, outcomes = record.sheets(task_key), record.outcomes(task_key)
    if not sheets:
        raise ProblemsFound([not_issued(class_path, task_key)])
    if not outcomes:
        remedy = f"witnessmark mark {class_path} {task_key}"
        raise ProblemsFound([Problem("not-marked", Place(str(class_path)), "a marked task", task_key, remedy)])
    return sheets, outcomes


def _kept(sheet: Sheet, ask: Ask, marks: Decimal, by: Decision) -> Arrangement:
    about = f"{sheet.code} {ask.key}"
    task, student = sheet.task.key, sheet.student.code
    return Arrangement(Arranging.SECOND, task, student, f"{marks.normalize():f}", by.who, by.why, by.now, about)


def _given(file: Path, sheets: dict[str, Sheet], outcomes: Standing) -> list[tuple[Sheet, Ask, Decimal]]:
    """Every mark of the table, or ProblemsFound."""
    tables, unread = read_tables(file)
    problems = list(unread)
    found: dict[tuple[str, str], tuple[Sheet, Ask, Decimal]] = {}
    for rows in tables:
        columns: dict[str, int] = {}
        for row in rows:
            heads = {cell.text.casefold(): cell.column for cell in row if cell.text}
            if {SHEET, PART, MARKS} <= heads.keys():
                columns = heads
            elif columns and (one := _one(row, columns, sheets, outcomes, problems)):
                found[one[0].code, one[1].key] = one
    if not found and not problems:
        expected = f"the columns {SHEET}, {PART} and {MARKS}, with marks in the last"
        problems.append(Problem("no-marks", Place(str(file)), expected, "none"))
    if problems:
        raise ProblemsFound(problems)
    return list(found.values())


def _one(
    row: Row, columns: dict[str, int], sheets: dict[str, Sheet], outcomes: Standing, problems: list[Problem]
) -> tuple[Sheet, Ask, Decimal] | None:
    code, label, marks = (filled_cell(row, columns[name]) for name in (SHEET, PART, MARKS))
    if marks is None:
        return None
    sheet = sheets.get(repaired_code(code.text) or "") if code else None
    ask = ask_labelled(sheet.asks, label.text) if sheet and label else None
    outcome = outcomes.get(sheet.code, {}).get(ask.key) if sheet and ask else None
    if sheet is None or ask is None or outcome is None:
        expected = "a sheet code of this task and a part that was marked"
        problems.append(Problem("no-answer", row[0].place, expected, " ".join(c.text for c in (code, label) if c)))
        return None
    given = marks_typed(marks.text)
    if given is None or not may_give(given, outcome.out_of, sheet.task.rules.half_marks):
        expected = f"{steps_text(sheet.task.rules.half_marks)} from 0 to {outcome.out_of}"
        problems.append(Problem("marks-out-of-range", marks.place, expected, f"'{marks.text}'"))
        return None
    return sheet, ask, given
