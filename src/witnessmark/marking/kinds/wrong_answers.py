"""Wrong answers that a question models, as one student would type them, kind by kind of find."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from witnessmark.marking.kinds.judge import YES_NO
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import from_si
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import (
    ExpressionPart,
    JudgePart,
    LimitsPart,
    OrderPart,
    QuantityPart,
    SeveralPart,
    StandardPart,
)
from witnessmark.questions.model.sizes import SizeSlip, Takes
from witnessmark.questions.sheet.listing import letter_of, listed_options, listed_steps
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.chosen_sizes import BESIDE, places_between, slips_through, value_slips
from witnessmark.questions.working.evaluation import can_work, names_between, names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at
from witnessmark.questions.working.working import envelopes

Wrong = tuple[tuple[str, ...], str]
"""The misconceptions that an answer comes from, and what is typed."""


def wrong_numbers(variant: Variant, part: QuantityPart, figures: int) -> Iterator[Wrong]:
    """What every modelled slip gives, to the figures that are asked; each number once for one misconception."""
    known = dimensions(variant.question)
    names = names_in_full(variant.question, variant.columns)
    told: set[Wrong] = set()
    for method in methods_at(NumberPlace(part, None, figures), known)[1:]:
        if can_work(method, names):
            number = from_si(si_of_method(method, variant), part.unit)
            if not math.isfinite(number):
                continue
            found = (method.misconceptions, quantity_text(number, part.unit, part.figures or figures))
            if found not in told:
                told.add(found)
                yield found


def wrong_limits(variant: Variant, part: LimitsPart, figures: int) -> Iterator[Wrong]:
    """Both values of every misconception: what its slip gives, and the right one beside it where only one is wrong."""
    known = dimensions(variant.question)
    names = names_in_full(variant.question, variant.columns)
    by_side = [
        {name: m for m in methods_at(NumberPlace(side, None, figures), known) if can_work(m, names)
         for name in m.misconceptions or ("",)}
        for side in part.sides
    ]  # fmt: skip
    for misconception in dict.fromkeys(name for methods in by_side for name in methods if name):
        both = [methods.get(misconception, methods.get("")) for methods in by_side]
        numbers = [from_si(si_of_method(m, variant), part.largest.unit) for m in both if m is not None]
        if len(numbers) == len(both) and all(map(math.isfinite, numbers)):
            asked = part.largest.figures or figures
            yield (misconception,), " and ".join(quantity_text(n, part.largest.unit, asked) for n in numbers)


def si_of_method(method: Method, variant: Variant) -> float:
    """What a method gives with a student's numbers (SI); bare numbers as if they were in the unit that is asked."""
    question = variant.question
    names = names_in_full(question, variant.columns)
    return float(np.ravel(number_of(method, names, dimensions(question)))[0])


def wrong_judgements(variant: Variant, part: JudgePart) -> Iterator[Wrong]:
    """The judgement that the right numbers do not bear out."""
    names = names_in_full(variant.question, variant.columns)
    truth = bool(np.ravel(compiled(part.judge)(names))[0])
    yield tuple(slip.misconception for slip in part.slips), YES_NO[not truth]


def wrong_sizes(variant: Variant, part: StandardPart, figures: int) -> Iterator[Wrong]:
    """Every wrong size that a slip of the choice, or of an earlier result put to the table, leads to, each once."""
    question, givens = variant.question, variant.columns
    names = names_between(question, givens, envelopes(question, givens, figures))
    right, last = places_between(part, part.value, names, 1)
    told = [(s.misconception, int((right if s.takes is Takes.BELOW else last)[0]) + BESIDE[s.takes])
            for s in part.slips if isinstance(s, SizeSlip) and s.takes in BESIDE]  # fmt: skip
    told += [(s.misconception, int(places_between(part, s.answer, names, 1)[0][0])) for s in value_slips(part, names)]
    for earlier in question.quantities:
        if set(names_of(earlier)) & names_in(part.value):
            through = slips_through(part, earlier, names, dimensions(question), figures, 1)
            told += [(who, int(span[0][0])) for who, span in through]
    by_place: dict[int, list[str]] = {}
    for who, place in told:
        if 0 <= place < len(part.sizes) and not right[0] <= place <= last[0]:
            by_place.setdefault(place, []).append(who)
    for place, names_of_slips in sorted(by_place.items()):
        yield tuple(dict.fromkeys(names_of_slips)), part.sizes[place].name


def wrong_letters(options: Sequence[Option]) -> Iterator[Wrong]:
    """The letter of every wrong option, as a sheet lists them."""
    for place, option in enumerate(options):
        if not option.right:
            yield (option.misconception,) if option.misconception else (), letter_of(place)


def wrong_sets(variant: Variant, part: SeveralPart) -> Iterator[Wrong]:
    """The letters of every set that a slip describes, then of the right options with each wrong one that shows
    something; each set once."""
    listed = listed_options(variant, part)
    right = frozenset(i for i, option in enumerate(listed) if option.right)
    sets = {
        frozenset(i for i, o in enumerate(listed) if o.text in {filled(text, variant) for text in slip.chooses}):
        slip.misconception for slip in part.slips
    }  # fmt: skip
    for i, option in enumerate(listed):
        if option.misconception:
            sets.setdefault(right | {i}, option.misconception)
    for chosen, misconception in sets.items():
        yield (misconception,), ", ".join(letter_of(i) for i in sorted(chosen))


def wrong_formulae(part: ExpressionPart) -> Iterator[Wrong]:
    """The formula of every slip."""
    for slip in part.slips:
        yield (slip.misconception,), plain(slip.answer)


def wrong_orders(variant: Variant, part: OrderPart) -> Iterator[Wrong]:
    """For every slip the right order with one step taken forward, in the letters of the sheet."""
    listed = listed_steps(part, variant)
    for slip in part.slips:
        rest = [step for step in part.steps if step != slip.puts]
        rest.insert(rest.index(slip.before), slip.puts)
        yield (slip.misconception,), ", ".join(letter_of(listed.index(step)) for step in rest)
