"""Simulated classes: who holds a planted misconception gets a follow-up that shows it, who holds none is sent none."""

import random
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import pytest

from bank_fixture import BANK
from jobs.small_class import BANK_FOLDER, LATER, NOW, write_students
from jobs.teaching_class import typed
from marking.students import HABITS, worked
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.follow_up_rounds import rounds_of
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.opened import open_class
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.marker import mark
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Sheet, Student, Task

QUESTIONS = ("drain-hole", "clevis-pin", "bottle-jack")
TASK = Task("shear-1", "Shear and punching", QUESTIONS, date(2027, 1, 22))
CAN_HOLD = tuple(dict.fromkeys(
    key for name in QUESTIONS for part in BANK[name].parts if isinstance(part, QuantityPart) for key in shown_by(part)
))  # fmt: skip
HOLD, CLEAN = 24, 16
WANTED_SENT, WANTED_LEFT_ALONE = 0.95, 0.98


def planted(chance: random.Random) -> dict[str, Sequence[str]]:
    """A class of which 24 hold one misconception each that the task can show, and 16 none."""
    return {f"S{n:02}": (chance.choice(CAN_HOLD),) if n < HOLD else () for n in range(HOLD + CLEAN)}


def answered(sheet: Sheet, holds: Mapping[str, Sequence[str]], chance: random.Random) -> Return:
    """What a student types: by what they hold, or properly with a habit of rounding of their own."""
    mine = holds[sheet.student.code]
    answers = typed(sheet, holds)
    for number, variant in enumerate(() if mine else sheet.variants, 1):
        answers |= {f"{number}.{k}": t for k, t in worked(variant, chance.choice(HABITS), shows_lines=False).items()}
    return Return(sheet.code, "", tuple((key, Entry(text)) for key, text in answers.items()))


def class_of(folder: Path, holds: Mapping[str, Sequence[str]], chance: random.Random) -> Path:
    """The class with its task drawn, handed in and marked."""
    start_class(folder, "First years", BANK_FOLDER, NOW)
    who = [Student(code, f"Name of {code}", "Low Wharf") for code in holds]
    write_students(folder, [(s.code, s.name, s.group) for s in who])
    drawn = {key: draw_class(BANK[key], TASK, list(holds), frozenset()) for key in QUESTIONS}
    sheets = [Sheet(sheet_code(TASK.key, s.code, 1), TASK, s, tuple(drawn[k][s.code] for k in QUESTIONS)) for s in who]
    returns = [answered(sheet, holds, chance) for sheet in sheets]
    with open_class(folder).record() as record:
        record.add_sheets(sheets, NOW)
        record.add_returns(returns, LATER)
        marked = mark_returns({s.code: s for s in sheets}, returns, TASK.rules)
        record.set_outcomes(TASK.key, marked, LATER, "marked")
    return folder


def shows_again(sheet: Sheet, key: str) -> bool:
    """Whether the sheet has a question at which whoever still holds this is seen to."""
    for one in rounds_of(sheet):
        if one.wrong.slip.misconception == key:
            number = one.apart.slips[one.wrong.part.key][key]
            said = mark(one.apart, {one.wrong.part.key: f"{number:.5g~P}" if hasattr(number, "units") else str(number)})
            return key in said[one.wrong.part.key].misconceptions
    return False


@pytest.mark.deep
def test_holders_get_a_follow_up_that_shows_what_they_hold_and_nobody_else_gets_one(tmp_path: Path) -> None:
    sent, alone, holders, clean = 0, 0, 0, 0
    missed: list[str] = []
    for seed in range(4):
        chance = random.Random(f"follow-ups {seed}")
        holds = planted(chance)
        follow = follow_up(class_of(tmp_path / f"class-{seed}", holds, chance), TASK.key, LATER)
        sheets = {sheet.student.code: sheet for sheet in follow.new}
        for code, mine in holds.items():
            if mine:
                served = code in sheets and shows_again(sheets[code], mine[0])
                holders, sent = holders + 1, sent + served
                missed += [] if served else [f"{mine[0]}{'' if code in sheets else ' (no sheet)'}"]
            else:
                clean, alone = clean + 1, alone + (code not in sheets)
    assert sent >= WANTED_SENT * holders, f"{sent} of {holders}: {missed}"
    assert alone >= WANTED_LEFT_ALONE * clean, f"{alone} of {clean}"
