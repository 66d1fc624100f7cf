"""How crowded a variant is: how often an unmodelled edit, or a pair of slips, gives the digits of a known method.

No draw can keep every thinkable wrong method apart, so this forbids nothing: of the variants that may be issued, those
with the least crowding are taken first.
"""

import numpy as np
import numpy.typing as npt

from witnessmark.questions.drawing.likeness import Likeness, likeness, merged, new_to
from witnessmark.questions.drawing.separation import meets_but_for_tens, span_in
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import edited_at
from witnessmark.questions.working.evaluation import can_work, names_between, names_in_full, number_of
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
            spans = [span_in(m, between, self._known, size) for m in known if can_work(m, full)]
            for other in others:
                if can_work(other, full):
                    value = np.broadcast_to(number_of(other, full, self._known), (size,))
                    total += meets_but_for_tens(value, spans)
        return total


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
