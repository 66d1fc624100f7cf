"""What each rung of marking gave at a task: how many results stand there, and the marks that they were given."""

from dataclasses import dataclass
from decimal import Decimal

from witnessmark.marking.outcome import Verdict
from witnessmark.review.sightings import marked_answers
from witnessmark.review.year.history import SetTask


@dataclass(frozen=True, slots=True)
class Rung:
    """One verdict: how many results of the task have it (steps of the working left out), the marks that they were given
    as they stand, and the marks that there were."""

    verdict: Verdict
    answers: int
    marks: Decimal
    out_of: Decimal


def rungs_of(task: SetTask) -> tuple[Rung, ...]:
    """Every verdict of a task that came back, in the order of the ladder; what waits is left out."""
    results = [
        marked.outcome
        for marked in marked_answers(task.back, task.outcomes)
        if marked.ask.line is None and not marked.outcome.is_waiting
    ]  # fmt: skip
    found = []
    for verdict in Verdict:
        mine = [outcome for outcome in results if outcome.verdict is verdict]
        if mine:
            marks, out_of = (
                sum(column, Decimal(0)) for column in zip(*((o.marks, o.out_of) for o in mine), strict=True)
            )
            found.append(Rung(verdict, len(mine), marks, out_of))
    return tuple(found)
