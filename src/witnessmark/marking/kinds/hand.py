"""Parts that the teacher marks against named criteria: they wait in the in-tray, without marks yet.

Also where the entry is blank, because what is asked is mostly on paper: a sketch, a bent piece, a filed edge.
"""

from decimal import Decimal

from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.parts import HandPart

BY_TEACHER = "Your teacher marks this part."


def for_the_teacher(part: HandPart, text: str) -> Outcome:
    """The outcome of a part that is marked by hand: its criteria, each with its marks, as what waits."""
    tray = tuple(f"{criterion} ({marks:g})" for criterion, marks in part.criteria)
    return Outcome(
        Decimal(0), part.marks, Verdict.UNEXPLAINED, BY_TEACHER, raw=text, read_as=text.strip(), sure=0.0,
        in_tray=("to be marked by hand", *tray),
    )  # fmt: skip
