"""What a question models as wrong, worked with one student's numbers: what would be typed, and what it would earn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.marking.answered import Answered
from witnessmark.marking.marker import mark_question
from witnessmark.marking.outcome import Outcome
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import from_si
from witnessmark.questions.model.question import Kind, Part
from witnessmark.questions.sheet.listing import letter_of, listed_options, listed_steps
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.evaluation import can_work, names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at

YES_NO = {True: "yes", False: "no"}


@dataclass(frozen=True, slots=True)
class Example:
    """One wrong answer: its part, the misconceptions that it comes from, what is typed, and how that is marked."""

    part: Part
    misconceptions: tuple[str, ...]
    typed: str
    outcome: Outcome


def examples(variant: Variant, rules: Rules) -> tuple[Example, ...]:
    """Every modelled wrong answer of a variant, part by part, marked with nothing else entered."""
    question = variant.question
    wrong = [(part, who, typed) for part in question.parts for who, typed in _wrong(variant, part, rules)]
    size = len(wrong)
    givens = {name: np.repeat(values, size) for name, values in variant.columns.items()}
    entries = {p.key: [typed if part is p else "" for part, _, typed in wrong] for p in question.parts}
    marked = mark_question(question, Answered(givens, entries, size, [variant] * size), rules) if wrong else None
    if marked is None:
        return ()
    return tuple(
        Example(part, who, typed, marked.outcome(part.key, row)) for row, (part, who, typed) in enumerate(wrong)
    )


def _wrong(variant: Variant, part: Part, rules: Rules) -> Iterator[tuple[tuple[str, ...], str]]:
    """The misconceptions and the text of each wrong answer of a part."""
    match part.kind:
        case Kind.QUANTITY:
            yield from _numbers(variant, part, rules)
        case Kind.JUDGE:
            yield from _judgement(variant, part)
        case Kind.CHOICE:
            options = enumerate(listed_options(variant, part))
            yield from ((_one(o.misconception), letter_of(i)) for i, o in options if not o.right)
        case Kind.EXPRESSION:
            yield from ((_one(s.misconception), plain(s.answer)) for s in part.slips if s.answer is not None)
        case Kind.ORDER:
            yield from ((_one(s.misconception), _order(part, s.puts, s.before)) for s in part.slips)


def _one(misconception: str) -> tuple[str, ...]:
    return (misconception,) if misconception else ()


def _numbers(variant: Variant, part: Part, rules: Rules) -> Iterator[tuple[tuple[str, ...], str]]:
    known = dimensions(variant.question)
    names = names_in_full(variant.question, variant.columns)
    told: set[tuple[tuple[str, ...], str]] = set()
    for method in methods_at(NumberPlace(part, None, rules.figures), known)[1:]:
        if can_work(method, names):
            number = from_si(si_of_method(method, variant), part.unit)
            found = (method.misconceptions, quantity_text(number, part.unit, part.figures or rules.figures))
            if found not in told:
                told.add(found)
                yield found


def si_of_method(method: Method, variant: Variant) -> float:
    """What a method gives with a student's numbers (SI); bare numbers as if they were in the unit that is asked."""
    question = variant.question
    names = names_in_full(question, variant.columns)
    return float(np.ravel(number_of(method, names, dimensions(question)))[0])


def _judgement(variant: Variant, part: Part) -> Sequence[tuple[tuple[str, ...], str]]:
    assert part.judge is not None
    names = names_in_full(variant.question, variant.columns)
    truth = bool(np.ravel(compiled(part.judge)(names))[0])
    return [(tuple(slip.misconception for slip in part.slips), YES_NO[not truth])]


def _order(part: Part, puts: str, before: str) -> str:
    """The right order with one step taken forward, in the letters of the sheet."""
    rest = [step for step in part.steps if step != puts]
    rest.insert(rest.index(before), puts)
    return ", ".join(letter_of(listed_steps(part).index(step)) for step in rest)
