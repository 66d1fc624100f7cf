"""Who recalculates what: one short function of plain Python for every calculated part of the bank.

A new calculated part (a number, limits, a judgement, a size, one of several values) needs a function here. To add one:

1. Open `tests/recalculated/TOPIC.py` (hyphens become underscores), or begin it; it is found by its name.
2. Read the printed sheet, not the question file; `pytest tests/recalculated -k QUESTION` prints it for a missing one.
3. Write the physics from what is printed, in SI, with `math` and `recalculated.shapes` only:
   `@works("stepped-rod", "a")`, then `def greatest_stress(sheet: Printed) -> float: ...`.
4. A given is taken by its printed words, in SI: `sheet["pull"]`; a row of a table too ("shear strength of mild steel",
   where its beginning is unique: `sheet["shear strength"]`).
5. A number that stands in the text alone: `sheet.behind("a round bar that is")`; a word: `sheet.says("upright")`.
6. A judgement gives a bool, a size of a table its name (`sheet.sizes["c"]` has them all by name), limits give
   (largest, smallest), one of several values gives that value. An angle is in radians, a temperature in kelvin, a share
   a fraction. An earlier result is had by calling its function.
7. The readings of a table are had by the letter above their column, in SI: `sheet.columns["F"]`. A cell that is asked
   is a part of its own (`a1`, `a2`, ...).
8. What is read from a figure is read from its lines and numbers, `sheet.figure`, by `recalculated.instruments`.
"""

from collections.abc import Callable
from typing import TypeVar

from recalculated.printed import Printed

Result = float | bool | str | tuple[float, float]
Work = Callable[[Printed], Result]
W = TypeVar("W", bound=Work)
WORKED: dict[tuple[str, str], Work] = {}


def works(question: str, part: str) -> Callable[[W], W]:
    """The mark of a function that recalculates this part of this question."""

    def keep(work: W) -> W:
        assert (question, part) not in WORKED, f"{question} {part} is worked twice"
        WORKED[question, part] = work
        return work

    return keep
