"""Which products of powers may be shared: all of them against all answers at once, of whatever size."""

from collections.abc import Iterator

import numpy as np

from witnessmark.marking.search.product_forms import Forms
from witnessmark.marking.search.shared_odds import (
    COST_OF_POWER,
    COST_OF_RIGHT_SIZE,
    LEAST_ODDS,
    LEAST_STUDENTS,
    Rows,
    of_chosen,
    shared_odds,
)
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.maths.compiled import Array

FITS = 0.85
"""The chance that a student who used the formula wrote exactly its digits, or their neighbours by 3.14 for pi."""
PI_ROOM = 0.00051
"""How wide a room round pi holds 3.14, and 22/7 which lies nearer, as common logarithms."""
AT_ONCE = 2_000_000
"""How many numbers of the search are held at once."""
SLACK = 1e-6
"""By how much less than what is wanted log odds that were added up in another order are looked at closely."""
NO_FIT = np.iinfo(np.int16).max
"""Stands where an answer does not fit."""


class ProductFits:
    """The products that at least three of some answers fit, with the power of ten between: worked once, since the
    search looks at the same answers again without those that a formula was found for."""

    def __init__(self, forms: Forms, logs: Array, answers: Unexplained) -> None:
        self.forms = forms
        self._chance = answers.chance()
        self._room = self._chance * 1.001 + PI_ROOM * forms.pis[:, None]
        self._rows, self._columns, self._powers = self._fitting(logs, np.log10(np.abs(answers.si)))

    def _fitting(self, logs: Array, written: Array) -> tuple[Rows, Rows, Rows]:
        """Rows and columns of the products, and the powers of ten, (products, answers)."""
        forms, where, powers_of = self.forms, [np.empty((0, 2), np.intp)], [np.empty((0, len(written)), np.int16)]
        step = max(1, AT_ONCE // (len(forms.logs) * len(written)))
        for start in range(0, len(forms.exponents), step):
            above = forms.exponents[start : start + step] @ logs
            apart = written - above[:, None, :] - forms.logs[None, :, None]
            powers = np.round(apart)
            fits = np.abs(apart - powers) <= self._room / 2
            found = np.argwhere(fits.sum(2) >= LEAST_STUDENTS)
            which = found[:, 0], found[:, 1]
            where.append(found + np.array([start, 0]))
            powers_of.append(np.where(fits[which], powers[which], NO_FIT).astype(np.int16))
        rows, columns = np.concatenate(where).T
        return rows, columns, np.concatenate(powers_of)

    def shared(self, left: Rows, gains: Array, still: Array) -> Iterator[tuple[int, int, tuple[int, Rows, float]]]:
        """The products, by row and column of the forms, that answers of those `left` share beyond doubt. `gains` and
        `still` are of these answers."""
        worth = FITS * gains * self._chance[left] / self._room[:, left]
        powers = self._powers[:, left]
        for product in self._promising(powers, worth, still).tolist():
            row, column = int(self._rows[product]), int(self._columns[product])
            odds = np.where(powers[product] != NO_FIT, worth[column], 0.0)
            cost = float(self.forms.costs[row] + self.forms.constant_costs[column])
            if (scored := shared_odds(odds, powers[product].astype(np.float64), cost, still)) is not None:
                yield row, column, scored

    def _promising(self, powers: Rows, worth: Array, still: Array) -> Rows:
        """The products that `shared_odds` may pass, by the same sums of all at once."""
        fits = (powers != NO_FIT) & (worth > 1)[self._columns]
        most = fits.sum(1)
        some = np.flatnonzero(most >= LEAST_STUDENTS)
        powers, fits = powers[some], fits[some]
        power, count = np.zeros(len(some), np.int16), np.zeros(len(some), np.intp)
        for one in np.unique(powers[fits]):
            having = (fits & (powers == one)).sum(1)
            power, count = np.where(having > count, one, power), np.maximum(having, count)
        mine = fits & (powers == power[:, None])
        with np.errstate(all="ignore"):
            odds = np.where(mine, np.log(worth)[self._columns[some]], 0.0).sum(1)
        beside = np.floor(still.sum() - mine @ still)
        costs = self.forms.costs[self._rows[some]] + self.forms.constant_costs[self._columns[some]]
        costs += np.where(power == 0, COST_OF_RIGHT_SIZE, COST_OF_POWER)
        total = odds - of_chosen(count, np.maximum(beside, 0.0)) - costs
        promising: Rows = some[(count >= LEAST_STUDENTS) & (total >= LEAST_ODDS - SLACK)]
        return promising
