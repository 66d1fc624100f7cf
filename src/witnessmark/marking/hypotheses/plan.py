"""What is found out once for a question, whoever's answers are marked: methods, pairs, edits and their hypotheses."""

from collections.abc import Callable, Sequence
from functools import cache, lru_cache

from witnessmark.marking.hypotheses.hypotheses import Hypothesis, edit_hypotheses, hypotheses
from witnessmark.maths.quantities import Dimension
from witnessmark.questions.drawing.likeness import Likeness, likeness, merged, new_edits, new_to
from witnessmark.questions.model.question import Question
from witnessmark.questions.model.same_object import SameObject
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.edited import edited_at, edited_twice
from witnessmark.questions.working.evaluation import can_work
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.questions.working.pairs import pairs_at

MOST_DOUBLE_EDITS = 150
Further = Callable[[], Sequence[Hypothesis]]


class Plan:
    """The hypotheses of every place of a question under the rules of a task, made when they are first asked for.

    `names` are those that givens, constants and results give; a method that needs another is left out.
    """

    def __init__(self, question: Question, rules: Rules, names: frozenset[str]) -> None:
        self.question, self.rules, self.names = question, rules, names
        self.dimensions: dict[str, Dimension] = dimensions(question)
        self.places = places(question, rules.figures)
        self._alike: Likeness = likeness(question)
        self._methods: dict[str, tuple[tuple[Method, ...], tuple[Method, ...]]] = {}
        self._candidates: dict[tuple[str, int], Sequence[Hypothesis]] = {}
        self._further: dict[tuple[str, int], Further] = {}

    def candidates(self, place: NumberPlace, own_count: int) -> Sequence[Hypothesis]:
        """The hypotheses of rungs 2 to 6 where so many own earlier results may be carried."""
        at = (place.key, own_count)
        if at not in self._candidates:
            self._candidates[at] = hypotheses(place, *self._known(place), own_count, self.rules)
        return self._candidates[at]

    def further(self, place: NumberPlace, own_count: int) -> Further:
        """The hypotheses of rung 7, made at the first call."""
        at = (place.key, own_count)
        if at not in self._further:
            self._further[at] = cache(lambda: self._edits(place, own_count))
        return self._further[at]

    def _known(self, place: NumberPlace) -> tuple[tuple[Method, ...], tuple[Method, ...]]:
        """The methods that the bank models at a place, the right one first, and their pairs."""
        if place.key not in self._methods:
            workable = tuple(m for m in methods_at(place, self.dimensions) if can_work(m, self.names))
            methods = merged(workable, self._alike)
            self._methods[place.key] = (methods, new_to(methods, pairs_at(methods, self.dimensions), self._alike))
        return self._methods[place.key]

    def _edits(self, place: NumberPlace, own_count: int) -> Sequence[Hypothesis]:
        methods, pairs = self._known(place)
        every = edited_at(methods[0], self.dimensions, self.question)
        singles = tuple(e for e in every if can_work(e.method, self.names))
        new = new_edits((*methods, *pairs), singles, self._alike)
        doubles = edited_twice(singles, self.dimensions, self.question, MOST_DOUBLE_EDITS)
        twice = new_edits((*methods, *pairs, *(e.method for e in new)), doubles, self._alike)
        workable = tuple(e for e in twice if can_work(e.method, self.names))
        return edit_hypotheses(place, new, workable, own_count, self.rules)


def plan_of(question: Question, rules: Rules, names: frozenset[str]) -> Plan:
    """The plan of a question, shared by all calls with the same question object, rules and names."""
    return _plan(SameObject(question), rules, names)


@lru_cache(maxsize=256)
def _plan(same: SameObject[Question], rules: Rules, names: frozenset[str]) -> Plan:
    return Plan(same.it, rules, names)
