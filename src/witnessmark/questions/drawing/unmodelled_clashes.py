"""How crowded a variant is: how often an unmodelled edit, or a pair of slips, gives the digits of a known method.

No draw can keep every thinkable wrong method apart, so this forbids nothing: of the variants that may be issued, those
with the least crowding are taken first.
"""

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.questions.drawing.likeness import Likeness, likeness, merged, new_to
from witnessmark.questions.drawing.separation import span_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import edited_at
from witnessmark.questions.working.evaluation import bare_factor, can_work, names_between, names_in_full, value_of
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.pairs import pairs_at
from witnessmark.questions.working.working import Columns, envelopes, worked


class Crowding:
    """Counts, for many variants of a question at once, how often an unmodelled method has a known one's digits."""

    def __init__(self, question: Question, figures: int) -> None:
        self.question, self.figures = question, figures
        self._known = dimensions(question)
        self._rivals = _rivals(question, figures, likeness(question))

    def of(self, givens: Columns, size: int) -> npt.NDArray[np.int64]:
        """How many unmodelled methods meet a known one, or a power of ten of it; shape (size,)."""
        right = worked(self.question, givens)
        full = names_in_full(self.question, givens, right)
        between = names_between(self.question, givens, envelopes(self.question, givens, self.figures))
        total = np.zeros(size, np.int64)
        for known, others in self._rivals:
            spans = [span_of(m, between, self._known, size) for m in known if can_work(m, full)]
            for other in others:
                if can_work(other, full):
                    total += self._meets(other, full, spans, size)
        return total

    def _meets(
        self, other: Method, full: Mapping[str, Array], spans: list[Interval], size: int
    ) -> npt.NDArray[np.bool_]:
        divisors, factor = bare_factor(other, self._known)
        names = {k: v / divisors.get(k, 1.0) for k, v in full.items()} if divisors else full
        value = np.broadcast_to(value_of(other, names, {}) * factor, (size,))
        met = np.zeros(size, np.bool_)
        for low, high in spans:
            with np.errstate(all="ignore"):
                shifted = value * 10.0 ** np.round(np.log10(np.abs((low + high) / 2 / value)))
            met |= (shifted >= low) & (shifted <= high)
        return met


def _rivals(question: Question, figures: int, alike: Likeness) -> list[tuple[tuple[Method, ...], tuple[Method, ...]]]:
    """For each result: the methods that the bank knows, and those that it does not (pairs of slips, single edits)."""
    known_dimensions = dimensions(question)
    found = []
    for place in places(question, figures):
        if place.line is None:
            known = merged(methods_at(place, known_dimensions), alike)
            pairs = new_to(known, pairs_at(known, known_dimensions), alike)
            edits = [e.method for e in edited_at(known[0], known_dimensions, question)]
            found.append((known, pairs + new_to((*known, *pairs), edits, alike)))
    return found
