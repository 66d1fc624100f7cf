"""What a teacher thinks of first where no listed method fits: a sign, a unit left as it is, two digits turned, two
slips one of which changes the dimension."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from witnessmark.marking.hypotheses.hypotheses import Factor, Hypothesis, kept, pair_hypotheses, starts, works_alike
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weights import PRIOR_OF_KIND
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.methods import Method, NumberPlace

TURNED_SIGN = Factor(-1.0)


def first_thoughts(
    place: NumberPlace,
    methods: Sequence[Method],
    bare_pairs: Sequence[Method],
    own_count: int,
    rules: Rules,
) -> tuple[Hypothesis, ...]:
    """The hypotheses of these but for units; `methods` are the right one and every slip."""
    found = [
        *_signs(place, methods, own_count, rules),
        *_digits(place, methods[0], own_count, rules),
        *pair_hypotheses("two slips, other dimension", place, methods, bare_pairs, own_count),
    ]
    totals: dict[str, float] = {}
    for h in found:
        if not h.carried:
            totals[h.kind] = totals.get(h.kind, 0.0) + h.weight
    return tuple(replace(h, prior=PRIOR_OF_KIND[h.kind] * h.weight / totals[h.kind]) for h in found)


def _full(place: NumberPlace) -> Decimal:
    return place.line.marks if place.line else place.part.marks


def _signs(place: NumberPlace, methods: Sequence[Method], own_count: int, rules: Rules) -> Iterator[Hypothesis]:
    """The size is right, or that of a slip, and the sign is not; it costs what a power of ten does."""
    off = rules.power_of_ten
    marks = max(_full(place) - off, Decimal(0))
    for own in starts(place, own_count):
        yield Hypothesis("sign", 4, Verdict.SIGN, methods[0], own, TURNED_SIGN, figures=2, marks=marks, off=off)
    for slip in methods[1:]:
        keeps = max(kept(place, slip) - off, Decimal(0))
        yield Hypothesis("slip and sign", 5, Verdict.SLIP, slip, (), TURNED_SIGN, marks=keeps, off=off)


def unit_hypotheses(
    place: NumberPlace,
    methods: Sequence[Method],
    units: Sequence[Edited],
    own_count: int,
    rules: Rules,
) -> tuple[Hypothesis, ...]:
    """The hypotheses that one unit was left as it is; `methods` are the right one and every slip."""
    kind, off = "not converted", rules.wrong_unit
    marks = max(_full(place) - off, Decimal(0))
    return tuple(
        Hypothesis(
            kind, 4, Verdict.UNIT, e.method, own, marks=marks, done=e.done, off=off, weight=e.weight,
            prior=PRIOR_OF_KIND[kind] * e.weight,
        )
        for e in units
        for own in starts(place, own_count)
        if not works_alike(place, e.method, methods, own)
    )  # fmt: skip


def _digits(place: NumberPlace, right: Method, own_count: int, rules: Rules) -> Iterator[Hypothesis]:
    for own in starts(place, own_count):
        yield Hypothesis("digits", 7, Verdict.EDIT, right, own, marks=rules.unknown_method)
