"""How hard an answer was: the one place that says what counts into a facility."""

from collections.abc import Iterable
from decimal import Decimal

from witnessmark.marking.outcome import Outcome


def facility(outcomes: Iterable[Outcome], with_waiting: bool = True) -> float | None:
    """Mean marks over marks available of these outcomes, 0 to 1; None where there are no marks to earn.

    Answers that wait for the teacher's mark count by the marks that stand so far, or are left out.
    """
    counted = [outcome for outcome in outcomes if with_waiting or not outcome.is_waiting]
    out_of = sum((outcome.out_of for outcome in counted), Decimal(0))
    return float(sum((outcome.marks for outcome in counted), Decimal(0)) / out_of) if out_of else None
