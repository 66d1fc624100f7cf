"""A class of which several apprentices use one wrong method that no question knows, each with their own numbers."""

from pathlib import Path

from jobs.small_class import (
    BANK_FOLDER,
    NOW,
    TASK,
    hand_in,
    right_answers,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import from_si
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import unit_of

CODES = ("HB01", "HB02", "LW01", "LW02", "QS01", "QS02", "SC01", "SC02")
SQUARE = "4*tau*d*t"
"""The way round a square where the way round a circle belongs."""
DID_SO = ("HB02", "LW01", "QS01", "SC02")


def by_formula(sheet: Sheet, key: str, text: str, figures: int = 4) -> str:
    """What a formula gives at an ask (`1.a`) of a sheet, as typed."""
    number, _, within = key.partition(".")
    variant = sheet.variants[int(number) - 1]
    unit = unit_of(variant.question, within)
    value = from_si(float(compiled(parse(text))({"pi": 3.141592653589793, **variant.values})), unit)
    return f"{float(to_figures(value, figures)):.10g} {unit}"


def shared_class(folder: Path, bank: Path = BANK_FOLDER) -> Path:
    """Eight apprentices, issued and marked: four went round a square, and the rest worked properly."""
    small_class(folder, bank)
    write_students(folder, [(code, f"Name of {code}", code[:2]) for code in CODES])
    write_task(folder, "[drain-hole]")
    issue(folder, TASK, NOW)
    for code, sheet in sheets_of(folder).items():
        answers = right_answers(sheet)
        if code in DID_SO:
            answers["1.a"] = by_formula(sheet, "1.a", SQUARE)
        hand_in(folder, sheet, answers)
    mark(folder, TASK, NOW)
    return folder
