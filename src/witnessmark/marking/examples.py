"""What a question models as wrong, worked with one student's numbers: what would be typed, and what it would earn."""

from dataclasses import dataclass

import numpy as np

from witnessmark.marking.answered import Answered
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.marking.marker import mark_question
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant


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
    wrong = [(part, who, typed) for part in question.parts for who, typed in wrong_answers(variant, part, rules)]
    size = len(wrong)
    givens = {name: np.repeat(values, size) for name, values in variant.columns.items()}
    entries = {p.key: [typed if part is p else "" for part, _, typed in wrong] for p in question.parts}
    marked = mark_question(question, Answered(givens, entries, size, [variant] * size), rules) if wrong else None
    if marked is None:
        return ()
    return tuple(
        Example(part, who, typed, marked.outcome(part.key, row)) for row, (part, who, typed) in enumerate(wrong)
    )
