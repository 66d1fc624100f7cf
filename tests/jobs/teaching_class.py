"""A class over part of a year, straight into its record: two tasks with planted wrong methods, nothing printed."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from bank_fixture import BANK
from jobs.small_class import BANK_FOLDER, LATER, NOW, right_answers, write_students
from marking.students import Habit, worked
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.opened import open_class
from witnessmark.marking.class_marking import mark_returns
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.model.parts import QuantityPart, Slip
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Sheet, Student, Task

YARDS = ("Heron Boats", "Low Wharf")
APPRENTICES = tuple(
    Student(f"{'HL'[n % 2]}B{n:02}", name, YARDS[n % 2])
    for n, name in enumerate(("Maren Tolk", "Idris Vael", "Oona Brisk", "Jory Pask", "Petra Lindow", "Nell Corvane"))
)
FACE, EDGE = "face-area-for-sheared-edge", "sheared-edge-for-face-area"
HOLDS = {"HB00": (FACE, EDGE), "LB01": (FACE,), "HB02": (FACE,)}
GROUPS = (
    "groups:\n  Heron Boats: {place: Heron Lane 4, visits: [2027-02-01]}\n"
    "  Low Wharf: {place: The low wharf, visits: [2027-02-01, 2027-03-01]}\n"
)


def teaching_class(folder: Path, holds: Mapping[str, Sequence[str]]) -> Path:
    """A class of six at two yards, one task marked; `holds` are the misconceptions that each student acts on."""
    start_class(folder, "First years", BANK_FOLDER, NOW)
    with (folder / "class.yaml").open("a", encoding="utf-8") as file:
        file.write(GROUPS)
    write_students(folder, [(s.code, s.name, s.group) for s in APPRENTICES])
    set_and_mark(folder, Task("shear-1", "Shear and punching", ("drain-hole", "bottle-jack")), holds, NOW)
    return folder


def taught(folder: Path) -> None:
    """The class of which three hold something."""
    teaching_class(folder, HOLDS)


def set_and_mark(folder: Path, task: Task, holds: Mapping[str, Sequence[str]], now: datetime) -> tuple[Sheet, ...]:
    """A task drawn, stored and marked at once; everybody hands in."""
    codes = [s.code for s in APPRENTICES]
    drawn = {key: draw_class(BANK[key], task, codes, frozenset()) for key in task.questions}
    sheets = tuple(
        Sheet(sheet_code(task.key, s.code, 1), task, s, tuple(drawn[key][s.code] for key in task.questions))
        for s in APPRENTICES
    )
    hand_in_all(folder, sheets, holds, now)
    return sheets


def hand_in_all(folder: Path, sheets: Sequence[Sheet], holds: Mapping[str, Sequence[str]], now: datetime) -> None:
    """Every sheet stored, worked by what its student holds, and marked."""
    returns = [Return(s.code, "", tuple((k, Entry(t)) for k, t in typed(s, holds).items())) for s in sheets]
    with open_class(folder).record() as record:
        record.add_sheets(sheets, now)
        record.add_returns(returns, LATER if now == NOW else now)
        marked = mark_returns({s.code: s for s in sheets}, returns, sheets[0].task.rules)
        record.set_outcomes(sheets[0].task.key, marked, LATER if now == NOW else now, "marked")


def _slip(part: QuantityPart, mine: Sequence[str]) -> Slip | None:
    return next((slip for slip in part.slips if slip.misconception in mine), None)


def typed(sheet: Sheet, holds: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """What a student types who acts on what they hold wherever a question knows it, and else works properly."""
    mine, answers = holds.get(sheet.student.code, ()), right_answers(sheet)
    for number, variant in enumerate(sheet.variants, 1):
        slips: dict[str, Slip] = {}
        for part in variant.question.quantities:
            slips |= dict.fromkeys([part.key], one) if (one := _slip(part, mine)) else {}
        found = worked(variant, Habit(written=4), shows_lines=False, slips=slips)
        answers |= {f"{number}.{key}": text for key, text in found.items()}
    return answers
