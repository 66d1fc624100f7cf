"""Rung 8: answers that are the right ones of another student's sheet (sheets swapped, or worked from another sheet).

Worded neutrally and told to the teacher alone. One number can agree by accident, so at least two unexplained answers
of a sheet must agree with the same other sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from witnessmark.marking.outcome import Outcome, SheetOutcomes, Verdict
from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import half_unit
from witnessmark.questions.sheet.task import Rules, Sheet

LEAST_ALIKE = 2
OPEN = (Verdict.UNEXPLAINED, Verdict.EDIT)
NEUTRAL = "This is not the right value for your numbers; your teacher will look at it with you."

ReadValues = Mapping[str, float]
"""SI values as read, by ask key."""


@dataclass(frozen=True, slots=True)
class RightValues:
    """The right results (SI) of every sheet at every ask, so that one sheet's answers are compared with all at once;
    the code of each sheet, and that of its student."""

    codes: tuple[str, ...]
    owners: tuple[str, ...]
    by_ask: dict[str, Array]


def right_values(sheets: Sequence[Sheet]) -> RightValues:
    """The right results of these sheets by ask key; nan where a sheet has no such ask."""
    by_ask: dict[str, Array] = {}
    for index, sheet in enumerate(sheets):
        for number, variant in enumerate(sheet.variants, 1):
            for key, value in variant.expected_si.items():
                column = by_ask.setdefault(f"{number}.{key}", np.full(len(sheets), np.nan))
                column[index] = value
    return RightValues(tuple(s.code for s in sheets), tuple(s.student.code for s in sheets), by_ask)


def with_other_sheets(
    sheet: Sheet, outcomes: SheetOutcomes, read: ReadValues, known: RightValues, rules: Rules
) -> dict[str, Outcome]:
    """The outcomes, those that agree with another sheet marked so."""
    open_keys = [key for key, o in outcomes.items() if o.verdict in OPEN and key in read and key in known.by_ask]
    alike = {key: _agrees(read[key], known.by_ask[key], rules.figures) for key in open_keys}
    counts = sum((a.astype(int) for a in alike.values()), np.zeros(len(known.codes), int))
    counts[known.codes.index(sheet.code)] = 0
    if counts.max() < LEAST_ALIKE:
        return dict(outcomes)
    best = int(counts.argmax())
    note = f"equal to the right answer of {known.owners[best]}'s sheet: sheets swapped, or worked from another sheet"
    return {key: _as_other(o, note) if key in alike and alike[key][best] else o for key, o in outcomes.items()}


def _agrees(value: float, right: Array, figures: int) -> npt.NDArray[np.bool_]:
    with np.errstate(invalid="ignore"):
        return np.asarray(np.abs(value - right) <= 1.05 * half_unit(right, figures))


def _as_other(outcome: Outcome, note: str) -> Outcome:
    return replace(
        outcome, verdict=Verdict.OTHER_SHEET, because=NEUTRAL, misconceptions=(), sure=1.0,
        notes=(note, *outcome.notes), in_tray=(note,),
    )  # fmt: skip
