"""How hard an answer was: the one place that says what counts into a facility."""

from collections.abc import Iterable
from decimal import Decimal

from witnessmark.marking.outcome import Outcome, Verdict


def facility(outcomes: Iterable[Outcome], with_waiting: bool = True) -> float | None:
    """Mean marks over marks available of these outcomes, 0 to 1; None where there are no marks to earn.

    Answers that wait for the teacher's mark count by the marks that stand so far, or are left out; those of a part that
    was set aside are left out, since they say nothing of how hard it was.
    """
    counted = [o for o in outcomes if o.verdict is not Verdict.SET_ASIDE and (with_waiting or not o.is_waiting)]
    out_of = sum((outcome.out_of for outcome in counted), Decimal(0))
    return float(sum((outcome.marks for outcome in counted), Decimal(0)) / out_of) if out_of else None
