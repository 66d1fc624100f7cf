"""Answers of one place that no method explains surely: what the class-wide search looks at."""

import math
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from witnessmark.marking.search.shared_odds import density_of_none
from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import half_unit


@dataclass(frozen=True, slots=True)
class Unexplained:
    """Answers of one place that no known method explains surely: SI values, figures written, the scale of the unit, the
    givens of each and whose they are (a name that no two share).

    `own` holds wrong earlier results that a student may have worked on from, by name; nan where theirs was right, which
    `typed` then has as they were typed.
    `open` is how far each is from being explained, from 0 to 1 (1 where it is left out).
    """

    si: Array
    figures: Array
    scale: Array
    givens: dict[str, Array]
    who: tuple[str, ...]
    own: dict[str, Array] = field(default_factory=dict)
    open: Array | None = None
    typed: dict[str, Array] = field(default_factory=dict)

    def only(self, kept: npt.NDArray[np.bool_]) -> "Unexplained":
        """These of the answers."""
        who = tuple(w for w, k in zip(self.who, kept, strict=True) if k)
        every = (self.givens, self.own, self.typed)
        givens, own, typed = ({n: v[kept] for n, v in columns.items()} for columns in every)
        still = None if self.open is None else self.open[kept]
        return Unexplained(self.si[kept], self.figures[kept], self.scale[kept], givens, who, own, still, typed)

    def usable(self) -> "Unexplained":
        """Those that are numbers."""
        kept = np.isfinite(self.si) & (self.si != 0) & (self.figures > 0)
        return self if kept.all() else self.only(kept)

    def chance(self) -> Array:
        """How likely a number without a method has exactly these digits, its power of ten left open; shape (n,)."""
        with np.errstate(all="ignore"):
            number = np.abs(self.si / self.scale)
            return np.asarray(2 * half_unit(number, self.figures) / number / math.log(10))

    def still(self) -> Array:
        """How far each answer is from being explained, shape (n,)."""
        return np.ones(len(self.si)) if self.open is None else self.open

    def gains(self, right: Array) -> Array:
        """How much likelier each answer is from a formula that gives its digits than without a method, shape (n,), less
        what is explained of it already. `right` is what is right there (SI)."""
        return np.asarray(self.still() / (self.chance() * density_of_none(self.si, right)))
