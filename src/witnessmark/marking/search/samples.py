"""Tables of formulas on a sample of variants: what they give, what was changed in each, which are kept, how long it is.

The description length of a formula, in nats, is the negative logarithm of its share among all that are tried: of the
formulas with one change, which have `SHARES[0]` together, and of those with two, which have `SHARES[1]`, each has a
share by the weights of its changes, which is `WRONG_DIMENSION` of that where the result has another dimension than is
asked.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.marking.search.tables import NO_CHANGE, POWERS_OF_DIMENSION, Ints
from witnessmark.maths.compiled import Array

MOST_ROWS = 60_000
"""How many of the likeliest formulas a table keeps."""
SHARES = (0.6, 0.3)
WRONG_DIMENSION = 0.2
DIGITS = 1e9
SIZE_OF_CHANGE = 2


@dataclass(frozen=True, slots=True)
class Table:
    """Formulas on the sample: values (rows, columns), changes by number (rows, 2), weights as natural logarithms, and
    dimensions (rows, 6)."""

    values: Array
    changes: Ints
    weights: Array
    dimensions: Array

    def only(self, rows: Ints) -> "Table":
        """These of the formulas."""
        return Table(self.values[rows], self.changes[rows], self.weights[rows], self.dimensions[rows])


def joined(tables: Sequence[Table]) -> Table:
    """Tables one after the other."""
    return Table(
        np.concatenate([t.values for t in tables]), np.concatenate([t.changes for t in tables]),
        np.concatenate([t.weights for t in tables]), np.concatenate([t.dimensions for t in tables]),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample of variants: every name and line (in full), and the dimension of each."""

    columns: Mapping[str, Array]
    dimensions: Mapping[str, Array]
    size: int


def empty(size: int) -> Table:
    """A table without a formula, for so many variants."""
    none = np.empty((0, SIZE_OF_CHANGE), np.intp)
    return Table(np.empty((0, size)), none, np.empty(0), np.empty((0, POWERS_OF_DIMENSION)))


def crossed(one: Ints, other: Ints) -> Ints:
    """The changes of every combination of rows, those that are none behind."""
    both = np.concatenate([np.repeat(one, len(other), 0), np.tile(other, (len(one), 1))], 1)
    empty = np.iinfo(np.intp).max
    ranked = np.sort(np.where(both == NO_CHANGE, empty, both), 1)[:, :SIZE_OF_CHANGE]
    return np.where(ranked == empty, NO_CHANGE, ranked)


def with_one_more(changes: Ints, number: int) -> Ints:
    """The changes with one more, done last."""
    found = changes.copy()
    at = (found != NO_CHANGE).sum(1)
    found[np.arange(len(found)), at] = number
    return found


def same_values(values: Array) -> Ints:
    """One number for all rows with the same values; 0 for rows that are no numbers."""
    with np.errstate(all="ignore"):
        signed = np.log10(np.abs(values)) + np.where(values < 0, 1000.0, 0.0)
        return np.asarray(np.where(np.isfinite(signed).all(1), hashed(signed), 0))


def hashed(rows: Array) -> Ints:
    """A whole number for each row, equal for rows that are equal to nine digits."""
    weigh = np.random.default_rng(7).uniform(0.5, 1.5, (2, rows.shape[1]))
    with np.errstate(all="ignore"):
        first, second = (np.nan_to_num(np.round((rows * w).sum(1) * DIGITS)) for w in weigh)
        return np.asarray((first % 2**31).astype(np.intp) * 2**31 + (second % 2**31).astype(np.intp) + 1)


def cheapest(table: Table, keys: Ints, usable: Array | None = None) -> Ints:
    """Of rows with one key the likeliest, at most `MOST_ROWS`, in their order."""
    order = np.argsort(-table.weights, kind="stable")
    order = order[keys[order] != 0] if usable is None else order[usable[order].astype(np.bool_)]
    _, first = np.unique(keys[order], return_index=True)
    return np.sort(order[np.sort(first)[:MOST_ROWS]])


def description_lengths(table: Table, asked: Array) -> Array:
    """The description length of each formula in nats."""
    fits = np.isclose(table.dimensions, asked).all(1)
    weights = table.weights + np.where(fits, 0.0, math.log(WRONG_DIMENSION))
    two = table.changes[:, 1] != NO_CHANGE
    costs = np.zeros(len(weights))
    for share, rows in zip(SHARES, (~two, two), strict=True):
        if rows.any():
            costs[rows] = np.log(np.exp(weights[rows]).sum()) - weights[rows] - math.log(share)
    return costs
