"""Marking the parts that are not numbers: each kind of find has its own module."""

from collections.abc import Mapping, Sequence

from witnessmark.marking.kinds.choice import mark_choice
from witnessmark.marking.kinds.hand import for_the_teacher
from witnessmark.marking.kinds.judge import judgements
from witnessmark.marking.kinds.order import mark_order
from witnessmark.marking.kinds.points import mark_points
from witnessmark.marking.kinds.quantity import Bench, PlaceMarked
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.question import Kind, Part
from witnessmark.questions.sheet.variant import Variant

Variants = Sequence[Variant | None]
"""Each student's variant; None where it is not known whole."""


def mark_words(
    b: Bench, part: Part, texts: Sequence[str], numbers: Mapping[str, PlaceMarked], variants: Variants
) -> tuple[Outcome, ...] | None:
    """The outcomes of one part that is not a number, one a student; None when its givens are absent."""
    match part.kind:
        case Kind.JUDGE:
            return judgements(b, part, texts, numbers)
        case Kind.CHOICE:
            return tuple(mark_choice(part, text, v) for text, v in zip(texts, variants, strict=True))
        case Kind.ORDER:
            return tuple(mark_order(part, text, v, b.rules) for text, v in zip(texts, variants, strict=True))
        case Kind.POINTS:
            return tuple(mark_points(part, text, b.rules) for text in texts)
        case Kind.EXPRESSION:
            return _formulae(b, part, texts)
    return tuple(for_the_teacher(part, text) for text in texts)


def _formulae(b: Bench, part: Part, texts: Sequence[str]) -> tuple[Outcome, ...]:
    from witnessmark.marking.kinds.expression import asked_formula, mark_expression  # algebra takes a second to load

    asked = asked_formula(b.question, part)
    marked = {text: mark_expression(asked, text) for text in dict.fromkeys(texts)}
    return tuple(marked[text] for text in texts)
