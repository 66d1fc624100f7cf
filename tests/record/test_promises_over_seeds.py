"""Promises 3 and 6 of the design over many seeds and answers: drawn sheets of the bank, whatever is typed into them."""

import random
from collections.abc import Sequence
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bank_fixture import BANK
from marking.students import CALCULATED, HABITS, worked
from record.examples import NOW
from record.test_round_trips import told_by_journal
from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.marking.class_marking import mark_returns
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.record.record import Record

pytestmark = pytest.mark.deep

SIZE = 4
SOME = sorted(CALCULATED)[::3]
TYPED = st.sampled_from(["", "94.2 kN", "9,42e4 N", "12", "?", "300 MPa", "yes", "no", "1/3", "-5 mm", "1000", "two"])


def sheets_of(keys: Sequence[str], seed: str) -> tuple[Sheet, ...]:
    """A sheet for each of four students with these questions, drawn from a seed."""
    task = Task("many", "Many", tuple(keys), None, Rules())
    return tuple(
        Sheet(f"S{n}-{seed}", task, Student(f"A{n}", ""), tuple(BANK[key].draw(f"{seed}|{n}") for key in keys))
        for n in range(SIZE)
    )


def handed_in(sheet: Sheet, habit: int, typed: Sequence[str], name: str) -> Return:
    """A student's answers in some habit of rounding, every third replaced by what was typed."""
    answers = {
        f"{n}.{key}": text
        for n, variant in enumerate(sheet.variants, 1)
        for key, text in worked(variant, HABITS[habit % len(HABITS)]).items()
    }
    chance = random.Random(f"{habit} {typed}")
    for key in sorted(answers):
        if typed and not chance.randrange(3):
            answers[key] = chance.choice(typed)
    return Return(sheet.code, name, tuple((key, Entry(text)) for key, text in answers.items()))


CLASSES = {
    "keys": st.lists(st.sampled_from(SOME), min_size=1, max_size=2, unique=True),
    "seed": st.text("abcdef0123456789", min_size=1, max_size=6),
    "habits": st.lists(st.integers(0, len(HABITS) - 1), min_size=SIZE, max_size=SIZE),
    "typed": st.lists(TYPED, max_size=3),
}


@settings(max_examples=25, deadline=None)
@given(**CLASSES, order=st.permutations(range(SIZE)))
def test_3_the_order_of_students_and_files_has_no_say_and_marking_twice_changes_nothing(
    keys: list[str], seed: str, habits: list[int], typed: list[str], order: list[int]
) -> None:
    sheets = sheets_of(keys, seed)
    returns = [handed_in(s, h, typed, f"{s.student.code}.xlsx") for s, h in zip(sheets, habits, strict=True)]
    by_code = {sheet.code: sheet for sheet in sheets}
    first = mark_returns(by_code, returns, Rules())
    other = {sheets[n].code: sheets[n] for n in order}
    assert mark_returns(other, [returns[n] for n in order], Rules()) == first
    with TemporaryDirectory() as folder, Record(Path(folder) / "record.db", question_from_bundle) as record:
        record.add_sheets([sheets[n] for n in order], NOW)
        record.add_returns([returns[n] for n in order], NOW)
        stored = {sheet.code: sheet for sheet in record.sheets("many")}
        record.set_outcomes("many", mark_returns(stored, record.returns("many"), Rules()), NOW, "marked")
        assert record.proposals("many") == first
        rows = record.journal()
        again = mark_returns(stored, record.returns("many"), Rules())
        assert record.set_outcomes("many", again, NOW, "marked again") == ()
        assert record.journal() == rows


@settings(max_examples=25, deadline=None)
@given(**CLASSES, deeds=st.lists(st.integers(0, 10**6), min_size=1, max_size=8))
def test_6_no_mark_changes_without_a_row_in_the_record_that_says_why(
    keys: list[str], seed: str, habits: list[int], typed: list[str], deeds: list[int]
) -> None:
    sheets = sheets_of(keys, seed)
    by_code = {sheet.code: sheet for sheet in sheets}
    with TemporaryDirectory() as folder, Record(Path(folder) / "record.db", question_from_bundle) as record:
        record.add_sheets(sheets, NOW)
        for n, deed in enumerate(deeds):
            now, chance = NOW + timedelta(minutes=n), random.Random(deed)
            before, rows = record.outcomes("many"), len(record.journal())
            sheet = chance.choice(sheets)
            asks = sorted(before.get(sheet.code, {}))
            match chance.randrange(4):
                case 0 if asks:
                    with record.step("moderate", "many", now, "R. Vos"):
                        record.moderate(sheet.code, chance.choice(asks), Decimal(0), "R. Vos", f"deed {n}", now)
                case 1 if record.last_step() is not None:
                    record.undo("R. Vos", f"deed {n}", now)
                case _:
                    with record.step("mark", "many", now):
                        habit = habits[sheets.index(sheet)] + n
                        record.add_returns([handed_in(sheet, habit, typed, f"{n}.xlsx")], now)
                        record.set_outcomes(
                            "many", mark_returns(by_code, record.returns("many"), Rules()), now, "marked"
                        )
            new = record.journal()[rows:]
            after = record.outcomes("many")
            marks = [{(s, a): o.marks for s, by in found.items() for a, o in by.items()} for found in (before, after)]
            changed = {at for at in marks[0].keys() | marks[1].keys() if marks[0].get(at) != marks[1].get(at)}
            assert changed <= {(row.sheet, row.ask) for row in new if row.why.strip()}
            assert told_by_journal(record) == marks[1]
        assert record.verify() == ()
