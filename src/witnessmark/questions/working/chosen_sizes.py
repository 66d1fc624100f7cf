"""Which listed size a value chooses, on columns: places in the list of sizes, counted from 0.

Where no size serves, the place is one beyond the end of the list on which it would stand. A value that is no number
chooses NO_PLACE.
"""

from collections.abc import Iterator, Mapping

import numpy as np
import numpy.typing as npt

from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.quantities import Dimension, to_si
from witnessmark.maths.syntax import Tree, names_in
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import QuantityPart, Slip, StandardPart
from witnessmark.questions.model.sizes import Choose, Takes
from witnessmark.questions.working.evaluation import can_work, span_of
from witnessmark.questions.working.methods import NumberPlace, methods_at
from witnessmark.questions.working.working import SLACK

Places = npt.NDArray[np.intp]
Span = tuple[Places, Places]
"""From which place to which, both included."""
NO_PLACE = -2
BESIDE = {Takes.BELOW: -1, Takes.ABOVE: 1}


def place_of(part: StandardPart, values: Array) -> Places:
    """The place of the size that each value (SI) chooses, shape of `values`."""
    values = np.asarray(values, np.float64)
    sizes = np.array([to_si(float(size.value), part.unit) for size in part.sizes])
    room = np.abs(sizes) * SLACK
    if part.choose is Choose.AT_LEAST:
        places = np.searchsorted(sizes + room, values, side="left")
    else:
        places = np.searchsorted(sizes - room, values, side="right") - 1
    return np.asarray(np.where(np.isnan(values), NO_PLACE, places), np.intp)


def places_between(part: StandardPart, tree: Tree, names: Mapping[str, Interval], size: int) -> Span:
    """The first and the last place that a value can choose whose names lie in intervals (SI), each of shape (size,)."""
    low, high = (place_of(part, np.broadcast_to(end, (size,))) for end in interval_of(tree)(names))
    return np.where(high == NO_PLACE, NO_PLACE, low), np.where(low == NO_PLACE, NO_PLACE, high)


def value_slips(part: StandardPart, names: Mapping[str, object]) -> tuple[Slip, ...]:
    """The slips that put another value to the table, as far as all their names are known."""
    return tuple(slip for slip in part.slips if isinstance(slip, Slip) and names_in(slip.answer) <= names.keys())


def is_listed(part: StandardPart, places: Places) -> npt.NDArray[np.bool_]:
    """True where a place is one of the list."""
    return np.asarray((places >= 0) & (places < len(part.sizes)))


def slips_through(
    part: StandardPart,
    earlier: QuantityPart,
    names: Mapping[str, Interval],
    known: Mapping[str, Dimension],
    figures: int,
    size: int,
) -> Iterator[tuple[str, Span]]:
    """The places that each slip of an earlier part leads to, whose wrong result is put to the table, with its
    misconception; `known` are the dimensions of names."""
    for method in methods_at(NumberPlace(earlier, None, figures), known)[1:]:
        if can_work(method, names):
            own = {**names, **dict.fromkeys(names_of(earlier), span_of(method, names, known))}
            yield method.misconceptions[0], places_between(part, part.value, own, size)
