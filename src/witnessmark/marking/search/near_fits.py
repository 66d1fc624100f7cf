"""Which of the changed workings may be shared: all of them against all answers at once, with room for rounding."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from witnessmark.marking.search.shared_odds import (
    COST_OF_RIGHT_SIZE,
    LEAST_ODDS,
    LEAST_STUDENTS,
    of_chosen,
)
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.variations import Variations
from witnessmark.maths.compiled import Array

COLUMNS = 24
"""How many answers are worked at once, to bound memory."""
ROUGH_ROOM = 0.011
"""How far lines that are rounded to two figures move a result more often than not, as common logarithms."""
MOST_LOOKED_AT = 120
"""How many formulas are looked at with every habit, of those that fit in full and of those that fit nearly."""


def likely_rows(
    varied: Variations, answers: Unexplained, full: Mapping[str, Any], gains: Array, room: float
) -> list[int]:
    """The formulas that may pass: those that would if each answer that lies as near as habits may move it fitted."""
    size, count = len(gains), varied.count
    still = answers.still()
    counted = np.stack([np.maximum(np.log(gains), 0.0), np.where(gains > 1, 1.0, 0.0), np.where(gains > 1, still, 0.0)])
    rooms = (0.0, room, ROUGH_ROOM) if room > 0 else (0.0,)
    totals = [np.zeros((count, len(counted))) for _ in rooms]
    columns = {n: np.broadcast_to(v, (size,)) for n, v in full.items()}
    written, chance = np.log10(np.abs(answers.si)), answers.chance() * 1.001
    for start in range(0, size, COLUMNS):
        some = slice(start, min(start + COLUMNS, size))
        apart = _apart(varied.values({n: v[some] for n, v in columns.items()}, some.stop - start), written[some])
        for total, wide in zip(totals, rooms, strict=True):
            fits = apart <= chance[some] / 2 + (wide + chance[some] / 2 if wide else 0.0)
            total += fits @ counted[:, some].T
    found: dict[int, None] = {}
    for odds, fitting, open_ones in (total.T for total in totals):
        beside = np.maximum(still.sum() - open_ones, 0.0)
        best = odds - of_chosen(fitting.astype(np.intp), beside) - varied.costs - COST_OF_RIGHT_SIZE
        rows = np.flatnonzero((fitting >= LEAST_STUDENTS) & (best >= LEAST_ODDS))
        found |= dict.fromkeys(rows[np.argsort(-best[rows], kind="stable")[:MOST_LOOKED_AT]].tolist())
    return list(found)


def _apart(values: Array, written: Array) -> Array:
    """How far what is written lies from what formulas give, as common logarithms, whatever the power of ten."""
    with np.errstate(all="ignore"):
        apart = written - np.log10(np.abs(values))
        return np.asarray(np.abs(apart - np.round(apart)))
