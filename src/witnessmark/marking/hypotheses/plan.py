"""What is found out once for a question, whoever's answers are marked: methods, pairs, edits and their hypotheses."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache, lru_cache

from witnessmark.marking.hypotheses.first_thoughts import first_thoughts, unit_hypotheses
from witnessmark.marking.hypotheses.hypotheses import Hypothesis, edit_hypotheses, hypotheses, works_alike
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.same_object import SameObject
from witnessmark.questions.drawing.likeness import Likeness, Newcomers, is_times, likeness, merged, new_to, telling
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import declared_units
from witnessmark.questions.working.edited import Edited, edited_at, edited_twice
from witnessmark.questions.working.evaluation import can_work
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.questions.working.pairs import bare_pairs_at, pairs_at
from witnessmark.questions.working.rarer import rarer_at
from witnessmark.questions.working.unconverted import unconverted_at

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
        self._units_left: dict[str, tuple[Edited, ...]] = {}
        self._candidates: dict[tuple[str, int], Sequence[Hypothesis]] = {}
        self._further: dict[tuple[str, int], Further] = {}

    def candidates(self, place: NumberPlace, own_count: int) -> Sequence[Hypothesis]:
        """The hypotheses of rungs 2 to 6 where so many own earlier results may be carried."""
        at = (place.key, own_count)
        if at not in self._candidates:
            methods, pairs = self._known(place)
            first = unit_hypotheses(place, methods, self._telling_units(place), own_count, self.rules)
            listed = hypotheses(place, methods, pairs, own_count, self.rules)
            self._candidates[at] = (*self._without_slips(place, methods, listed), *first)
        return self._candidates[at]

    def further(self, place: NumberPlace, own_count: int) -> Further:
        """The hypotheses that are weighed where those leave an answer in doubt, made at the first call."""
        at = (place.key, own_count)
        if at not in self._further:
            self._further[at] = cache(lambda: self._edits(place, own_count))
        return self._further[at]

    def _without_slips(
        self, place: NumberPlace, methods: tuple[Method, ...], listed: Sequence[Hypothesis]
    ) -> Iterator[Hypothesis]:
        """Those that are listed but for conversions which are always a slip's number: the slip says more."""
        right, slips = methods[0], methods[1:]
        of_right, *of_slips = self._alike.of_each(methods)
        named: dict[float, list[Method]] = {}
        for h in listed:
            if h.kind == "conversion":
                by = h.factor.value
                if by not in named:
                    named[by] = [
                        s for s, of_slip in zip(slips, of_slips, strict=True) if is_times(of_slip, by, of_right)
                    ]
                if any(not works_alike(place, slip, [right], h.carried) for slip in named[by]):
                    continue
            yield h

    def _known(self, place: NumberPlace) -> tuple[tuple[Method, ...], tuple[Method, ...]]:
        """The methods that the bank models at a place, the right one first, and their pairs."""
        if place.key not in self._methods:
            workable = tuple(m for m in methods_at(place, self.dimensions) if can_work(m, self.names))
            methods = merged(workable, self._alike)
            self._methods[place.key] = (methods, new_to(methods, pairs_at(methods, self.dimensions), self._alike))
        return self._methods[place.key]

    def _telling_units(self, place: NumberPlace) -> tuple[Edited, ...]:
        """Every way of leaving one unit as it is that no listed method always gives."""
        if place.key not in self._units_left:
            methods, units = self._known(place)[0], declared_units(self.question)
            every = (e for e in unconverted_at(methods[0], units) if can_work(e.method, self.names))
            self._units_left[place.key] = telling(methods, tuple(every), self._alike)
        return self._units_left[place.key]

    def _edits(self, place: NumberPlace, own_count: int) -> Sequence[Hypothesis]:
        methods, pairs = self._known(place)
        newcomers = Newcomers((*methods, *pairs, *(e.method for e in self._telling_units(place))), self._alike)

        def new(edited: Iterable[Edited]) -> tuple[Edited, ...]:
            return newcomers.among_edits([e for e in edited if can_work(e.method, self.names)])

        bare = newcomers.among([p for p in bare_pairs_at(methods, self.dimensions) if can_work(p, self.names)])
        found = edited_at(methods[0], self.dimensions, self.question)
        singles = tuple(e for e in found if can_work(e.method, self.names))
        edits, rarer = new(singles), new(rarer_at(methods[0], self.dimensions, self.question))
        doubles = new(edited_twice(singles, self.dimensions, self.question, MOST_DOUBLE_EDITS))
        first = first_thoughts(place, methods, bare, own_count, self.rules)
        return (*first, *edit_hypotheses(place, methods, edits, rarer, doubles, own_count, self.rules))


def plan_of(question: Question, rules: Rules, names: frozenset[str]) -> Plan:
    """The plan of a question, shared by all calls with the same question object, rules and names."""
    return _plan(SameObject(question), rules, names)


@lru_cache(maxsize=256)
def _plan(same: SameObject[Question], rules: Rules, names: frozenset[str]) -> Plan:
    return Plan(same.it, rules, names)
