"""Hypotheses: every method that could explain an entry at one place, with what it earns; the rungs of the ladder."""

import itertools
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass, replace
from decimal import Decimal

from witnessmark.marking.hypotheses.conversions import factors_for
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weights import PI_AS_THREE, POWERS, PRIOR_OF_KIND, SHARE_OF_POWER, SLIP_POWERS
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Number, Tree
from witnessmark.questions.sheet.task import USUAL_G, Rules
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.methods import Method, NumberPlace

MOST_CARRIED = 3
MANY = MOST_CARRIED + 1
USUAL_HABITS = ("9.81", "9.8")  # of g: right as well where a task takes another
SECOND_SLIP = Decimal(1)
"""What a second slip takes off the smaller of what the two keep (design, section 5)."""


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor between what the method gives and what was written: a power of ten, a named conversion, or -1."""

    value: float = 1.0
    power: int = 0
    conversion: str = ""

    def on(self, value: Array, unit_name: str) -> Array:
        """What is written (SI) where a method gives this value: the factor acts on the number in the unit asked, which
        for a temperature on a scale of its own is not the SI value."""
        zero = unit(unit_name).offset
        return (value - zero) * self.value + zero if zero else value * self.value


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One explanation: a method, which own results it starts from (indices), a factor, and its place on the ladder.

    `off` is what a rule of the task took off to give `marks`; `cut_off` tells that further digits were left out where
    the last one should have been rounded; `told` that the student is told how the number arises; `weight` is how often
    it is met beside the others of its kind.
    """

    kind: str
    rung: int
    verdict: Verdict
    method: Method
    carried: tuple[int, ...] = ()
    factor: Factor = Factor()
    figures: int | None = None
    prior: float = 0.0
    marks: Decimal = Decimal(0)
    done: tuple[str, ...] = ()
    off: Decimal = Decimal(0)
    cut_off: bool = False
    told: bool = True
    weight: float = 1.0


def hypotheses(
    place: NumberPlace, methods: Sequence[Method], pairs: Sequence[Method], own_count: int, rules: Rules
) -> tuple[Hypothesis, ...]:
    """Every hypothesis of rungs 2 to 6 at a place; `own_count` earlier results may be carried into it.

    Marks are those of the method and the factor; what carried lines and missing units cost is taken off by the ladder.
    """
    two = pair_hypotheses("two slips", place, methods, pairs, own_count)
    found = [*_bare(place, methods, own_count, rules), *two]
    totals: dict[str, float] = {"carried": 1.0, "carried early": 1.0}
    for h in found:
        if not h.carried:
            totals[h.kind] = totals.get(h.kind, 0.0) + h.weight
    totals["slip carried"] = max(totals.get("slip", 0.0), 1.0)
    return tuple(replace(h, prior=PRIOR_OF_KIND[h.kind] * h.weight / totals[h.kind]) for h in found)


def edit_hypotheses(
    place: NumberPlace,
    methods: Sequence[Method],
    singles: Sequence[Edited],
    rarer: Sequence[Edited],
    doubles: Sequence[Edited],
    own_count: int,
    rules: Rules,
) -> tuple[Hypothesis, ...]:
    """The hypotheses of rung 7: one edit of the right method, a rarer one, or two; alone, or from own earlier
    results. `methods` are the right one and every slip."""
    found: list[Hypothesis] = []
    for kind, edited in (("edit", singles), ("rarer edit", rarer), ("two edits", doubles)):
        total = sum(e.weight for e in edited)
        for e in edited:
            prior = PRIOR_OF_KIND[kind] * e.weight / total
            for own in starts(place, own_count):
                if works_alike(place, e.method, methods, own):
                    continue
                marks = rules.unknown_method
                edit = Hypothesis(kind, 7, Verdict.EDIT, e.method, own, prior=prior, marks=marks, done=e.done)
                found.append(replace(edit, told=e.is_one_thing))
    return tuple(found)


def starts(place: NumberPlace, own_count: int) -> tuple[tuple[int, ...], ...]:
    """What two slips or an edit may start from: the right results, all own results of earlier parts, or these and all
    own lines."""
    parts = range(min(len(place.lines_before), own_count), own_count)
    return tuple(dict.fromkeys([(), tuple(parts), tuple(range(own_count))]))


def works_alike(place: NumberPlace, method: Method, others: Sequence[Method], own: tuple[int, ...]) -> bool:
    """True where a method differs from one of the others only in lines for which own results stand."""
    if not own:
        return False
    taken = {line.name for i, line in enumerate(place.lines_before) if i in own}
    worked = _worked(method, taken)
    return any(_worked(other, taken) == worked for other in others)


def _worked(method: Method, taken: Set[str]) -> tuple[Tree, ...]:
    return (*(step.asked.tree for step in method.steps if step.name not in taken), method.final.tree)


def pair_hypotheses(
    kind: str, place: NumberPlace, methods: Sequence[Method], pairs: Sequence[Method], own_count: int
) -> Iterator[Hypothesis]:
    """Two slips together, from what they may start from; `methods` are the right one and every slip."""
    for pair in pairs:
        keeps = max(kept(place, pair) - SECOND_SLIP, Decimal(0))
        for own in starts(place, own_count):
            if not works_alike(place, pair, methods, own):
                yield Hypothesis(kind, 6, Verdict.TWO_SLIPS, pair, own, marks=keeps)


def _bare(place: NumberPlace, methods: Sequence[Method], own_count: int, rules: Rules) -> Iterator[Hypothesis]:
    right, slips = methods[0], methods[1:]
    full = place.line.marks if place.line else place.part.marks
    carried = carried_together(own_count)
    carried_marks = full if rules.carried_forward else Decimal(0)
    yield Hypothesis("right", 2, Verdict.RIGHT, right, marks=full)
    early, off = max(full - rules.rounded_early, Decimal(0)), rules.rounded_early
    for own in carried:
        yield Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, right, own, marks=carried_marks)
        less = max(carried_marks - off, Decimal(0))
        yield Hypothesis("carried early", 3, Verdict.CARRIED_FORWARD, right, own, figures=2, marks=less, off=off)
    for own in [(), *carried]:
        verdict, most = (Verdict.CARRIED_FORWARD, carried_marks) if own else (Verdict.RIGHT, full)
        yield Hypothesis("cut off", 3, verdict, right, own, marks=most, cut_off=True)
    yield Hypothesis("rounded early", 3, Verdict.ROUNDED_EARLY, right, figures=2, marks=early, off=off)
    yield Hypothesis("each rounded", 3, Verdict.RIGHT, right, marks=full)
    if rules.g != USUAL_G:
        for g in USUAL_HABITS:
            if (exact := with_g(right, g)) != right:
                yield Hypothesis("other g", 3, Verdict.RIGHT, exact, marks=full)
    elif (by_ten := with_round_g(right)) != right:
        yield Hypothesis("coarse constant", 3, Verdict.ROUNDED_EARLY, by_ten, marks=early, off=off)
    if (by_three := with_pi_as_three(right)) != right:
        coarse = Hypothesis("coarse constant", 3, Verdict.ROUNDED_EARLY, by_three, marks=early, off=off)
        yield replace(coarse, weight=PI_AS_THREE)
    for own in [(), *carried]:
        for factor, weight in _factors(place):
            kind = "power of ten" if factor.power else "conversion"
            off = rules.power_of_ten if factor.power else rules.wrong_unit
            verdict = Verdict.POWER_OF_TEN if factor.power else Verdict.UNIT
            less = max(full - off, Decimal(0))
            yield Hypothesis(kind, 4, verdict, right, own, factor, marks=less, off=off, weight=weight)
    for slip in slips:
        keeps = kept(place, slip)
        yield Hypothesis("slip", 5, Verdict.SLIP, slip, marks=keeps)
        for own in carried:
            if not works_alike(place, slip, [right], own):
                yield Hypothesis("slip carried", 5, Verdict.SLIP, slip, own, marks=keeps)
        for power in SLIP_POWERS:
            off = rules.power_of_ten
            less, factor = max(keeps - off, Decimal(0)), Factor(10.0**power, power)
            weight = SHARE_OF_POWER[power]
            yield Hypothesis(
                "slip and power of ten", 5, Verdict.SLIP, slip, (), factor, marks=less, off=off, weight=weight
            )


def carried_together(own_count: int) -> list[tuple[int, ...]]:
    """Which of so many own earlier results may be carried into a place together: up to MOST_CARRIED of them, or where
    they are many, as the cells of a table, all that went wrong."""
    if own_count >= MANY:
        return [tuple(range(own_count))]
    return [some for n in range(1, own_count + 1) for some in itertools.combinations(range(own_count), n)]


def with_round_g(method: Method) -> Method:
    """The method with g taken as 10 m/s^2, as many courses do (common practice, no source)."""
    return with_g(method, "10")


def with_g(method: Method, value: str) -> Method:
    """The method with this number (m/s^2) in the place of g."""
    return method.with_instead({"g": Number(value)})


def with_pi_as_three(method: Method) -> Method:
    """The method with pi taken as 3."""
    return method.with_instead({"pi": Number("3")})


def kept(place: NumberPlace, slip: Method) -> Decimal:
    """What a slip keeps of the marks; nothing in a line."""
    return Decimal(0) if place.line else slip.keeps


def _factors(place: NumberPlace) -> tuple[tuple[Factor, float], ...]:
    powers = tuple((Factor(10.0**n, n), SHARE_OF_POWER[n]) for n in POWERS)
    named = factors_for(place.asked.unit)
    return powers + tuple((Factor(value, 0, name), weight) for name, value, weight in named)
