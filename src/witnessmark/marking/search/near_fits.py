"""Which of the changed workings may be shared: all of them against all answers at once, with room for rounding."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.search.shared_odds import (
    COST_OF_RIGHT_SIZE,
    LEAST_ODDS,
    LEAST_STUDENTS,
    Rows,
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
Bits = npt.NDArray[np.uint8]


class NearFits:
    """Which of some answers lie near what each formula gives, exactly and in each room: worked once and kept as bits,
    since the search looks at the same answers again without those that a formula was found for."""

    def __init__(self, varied: Variations, answers: Unexplained, full: Mapping[str, Any], room: float) -> None:
        self._count, self._costs = varied.count, varied.costs
        rooms = (0.0, room, ROUGH_ROOM) if room > 0 else (0.0,)
        size = len(answers.si)
        columns = {n: np.broadcast_to(v, (size,)) for n, v in full.items()}
        firsts, which = _distinct(columns, size)
        written, chance = np.log10(np.abs(answers.si)), answers.chance() * 1.001
        self._near: list[Bits] = [np.empty((size, (varied.count + 7) // 8), np.uint8) for _ in rooms]
        for start in range(0, len(firsts), COLUMNS):
            some = firsts[start : start + COLUMNS]
            logs = _logs(varied.values({n: v[some] for n, v in columns.items()}, len(some)))
            for answer in np.flatnonzero((which >= start) & (which < start + COLUMNS)).tolist():
                apart = _apart(logs[which[answer] - start], written[answer])
                for bits, wide in zip(self._near, rooms, strict=True):
                    near = apart <= chance[answer] / 2 + (wide + chance[answer] / 2 if wide else 0.0)
                    bits[answer] = np.packbits(near)

    def likely_rows(self, left: Rows, gains: Array, still: Array) -> list[int]:
        """The formulas that may pass: those that would if each answer of those `left` that lies as near as habits may
        move it fitted. `gains` and `still` are of these answers."""
        worth = np.maximum(np.log(gains), 0.0)
        counted = np.stack([worth, np.where(gains > 1, 1.0, 0.0), np.where(gains > 1, still, 0.0)])
        found: dict[int, None] = {}
        for bits in self._near:
            odds, fitting, open_ones = self._totals(bits, left, counted).T
            beside = np.maximum(still.sum() - open_ones, 0.0)
            best = odds - of_chosen(fitting.astype(np.intp), beside) - self._costs - COST_OF_RIGHT_SIZE
            rows = np.flatnonzero((fitting >= LEAST_STUDENTS) & (best >= LEAST_ODDS))
            found |= dict.fromkeys(rows[np.argsort(-best[rows], kind="stable")[:MOST_LOOKED_AT]].tolist())
        return list(found)

    def _totals(self, bits: Bits, left: Rows, counted: Array) -> Array:
        """What the answers that each formula lies near add up to, (formulas, kinds of sums)."""
        total = np.zeros((self._count, len(counted)))
        for start in range(0, len(left), COLUMNS):
            some = slice(start, start + COLUMNS)
            near = np.unpackbits(bits[left[some]], axis=1, count=self._count)
            total += np.ascontiguousarray(near.T, dtype=np.float64) @ counted[:, some].T
        return total


def _distinct(columns: Mapping[str, Array], size: int) -> tuple[Rows, Rows]:
    """Of answers to the same numbers the first, and for each answer which of these it is like."""
    if not columns:
        return np.arange(size), np.arange(size)
    _, firsts, which = np.unique(np.stack(list(columns.values())), axis=1, return_index=True, return_inverse=True)
    return firsts, which.ravel()


def _logs(values: Array) -> Array:
    """The common logarithms of what formulas give, (answers, formulas)."""
    with np.errstate(all="ignore"):
        return np.ascontiguousarray(np.log10(np.abs(values)).T)


def _apart(logs: Array, written: float) -> Array:
    """How far what is written lies from what formulas give, as common logarithms, whatever the power of ten."""
    with np.errstate(all="ignore"):
        apart = written - logs
        return np.asarray(np.abs(apart - np.round(apart)))
