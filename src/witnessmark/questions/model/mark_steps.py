"""The steps that marks come in: halves, or whole marks where a task says so. Banks are written in halves."""

import re
from decimal import ROUND_FLOOR, Decimal

HALF, WHOLE = Decimal("0.5"), Decimal(1)
HALF_SIGN = "½"
TYPED = re.compile(rf"[0-9]{{1,6}}(?:[.,][0-9]{{1,6}})?|[0-9]{{0,6}} ?{HALF_SIGN}")


def marks_typed(text: str) -> Decimal | None:
    """Marks as people type them or as they are printed (`2`, `1.5`, `1,5`, `1½`, `½`); None where it is none of these.

    Whether a task can give them is another matter.
    """
    plain = text.strip()
    if not TYPED.fullmatch(plain):
        return None
    whole = plain.removesuffix(HALF_SIGN).strip()
    return Decimal(whole.replace(",", ".") or 0) + (HALF if plain.endswith(HALF_SIGN) else 0)


def is_in_steps(marks: Decimal, half_marks: bool = True) -> bool:
    """True of marks, none or more, that a task can give."""
    return marks.is_finite() and marks >= 0 and not marks % _step(half_marks)


def steps_text(half_marks: bool = True) -> str:
    """What marks a task can give, in words."""
    return "halves or whole marks" if half_marks else "whole marks"


def may_give(marks: Decimal, most: Decimal, half_marks: bool = True) -> bool:
    """True of marks that a task can give for something that has so many."""
    return is_in_steps(marks, half_marks) and marks <= most


def range_text(most: Decimal, half_marks: bool = True) -> str:
    """What a task can give for something that has so many marks, in words."""
    return f"{'whole or half marks' if half_marks else 'whole marks'} from 0 to {most}"


def rounded_down(marks: Decimal, half_marks: bool = True) -> Decimal:
    """The most that a task can give of so many marks."""
    step = _step(half_marks)
    down = (marks / step).to_integral_value(ROUND_FLOOR) * step
    return down.quantize(WHOLE) if down == down.to_integral_value() else down


def may_keep(keeps: Decimal, marks: Decimal, half_marks: bool = True) -> bool:
    """True where a wrong method can keep so much of the marks of a part: less than all."""
    return is_in_steps(keeps, half_marks) and keeps < marks


def keeps_text(marks: Decimal, half_marks: bool = True) -> str:
    """What a wrong method can keep, in words."""
    return f"{steps_text(half_marks)}, at least 0 and less than {marks}, the marks of the part"


def _step(half_marks: bool) -> Decimal:
    return HALF if half_marks else WHOLE
