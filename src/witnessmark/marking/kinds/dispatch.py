"""Marking, and what would be marked wrong. The one module of `marking/` that tells kinds of find apart."""

from collections.abc import Iterable, Mapping, Sequence
from typing import assert_never

from witnessmark.marking.kinds.choice import mark_choice
from witnessmark.marking.kinds.hand import for_the_teacher
from witnessmark.marking.kinds.judge import judgements
from witnessmark.marking.kinds.match import mark_match, wrong_pairs
from witnessmark.marking.kinds.order import mark_order
from witnessmark.marking.kinds.points import mark_points
from witnessmark.marking.kinds.quantity import Bench, PlaceMarked
from witnessmark.marking.kinds.several import mark_several
from witnessmark.marking.kinds.standard import sizes_chosen
from witnessmark.marking.kinds.wrong_answers import (
    Wrong,
    wrong_formulae,
    wrong_judgements,
    wrong_letters,
    wrong_limits,
    wrong_numbers,
    wrong_orders,
    wrong_sets,
    wrong_sizes,
)
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    LimitsPart,
    MatchPart,
    OrderPart,
    Part,
    PointsPart,
    QuantityPart,
    SeveralPart,
    StandardPart,
    ValueChoicePart,
)
from witnessmark.questions.sheet.listing import listed_options
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant

Variants = Sequence[Variant | None]
"""Each student's variant; None where it is not known whole."""


def mark_words(
    b: Bench, part: Part, texts: Sequence[str], numbers: Mapping[str, PlaceMarked], variants: Variants
) -> tuple[Outcome, ...] | None:
    """The outcomes of one part that asks no number, one a student; None when its givens are absent, or it asks some."""
    match part:
        case QuantityPart() | LimitsPart():
            return None
        case JudgePart():
            return judgements(b, part, texts, numbers)
        case StandardPart():
            return sizes_chosen(b, part, texts, numbers)
        case ChoicePart() | ValueChoicePart():
            return tuple(mark_choice(part, text, v) for text, v in zip(texts, variants, strict=True))
        case SeveralPart():
            return tuple(mark_several(part, text, v, b.rules) for text, v in zip(texts, variants, strict=True))
        case MatchPart():
            return tuple(mark_match(part, text, v, b.rules) for text, v in zip(texts, variants, strict=True))
        case OrderPart():
            return tuple(mark_order(part, text, v, b.rules) for text, v in zip(texts, variants, strict=True))
        case PointsPart():
            return tuple(mark_points(part, text, b.rules) for text in texts)
        case ExpressionPart():
            return _formulae(b, part, texts)
        case HandPart():
            return tuple(for_the_teacher(part, text) for text in texts)
    assert_never(part)


def wrong_answers(variant: Variant, part: Part, rules: Rules) -> Iterable[Wrong]:
    """Every wrong answer that a part models, as it would be typed: its misconceptions, and its text."""
    match part:
        case QuantityPart():
            return wrong_numbers(variant, part, rules.figures)
        case LimitsPart():
            return wrong_limits(variant, part, rules.figures)
        case JudgePart():
            return wrong_judgements(variant, part)
        case StandardPart():
            return wrong_sizes(variant, part, rules.figures)
        case ChoicePart() | ValueChoicePart():
            return wrong_letters(listed_options(variant, part))
        case SeveralPart():
            return wrong_sets(variant, part)
        case MatchPart():
            return wrong_pairs(variant, part)
        case ExpressionPart():
            return wrong_formulae(part)
        case OrderPart():
            return wrong_orders(variant, part)
        case PointsPart() | HandPart():
            return ()
    assert_never(part)


def _formulae(b: Bench, part: ExpressionPart, texts: Sequence[str]) -> tuple[Outcome, ...]:
    from witnessmark.marking.kinds.expression import asked_formula, mark_expression  # algebra takes a second to load

    asked = asked_formula(b.question, part)
    marked = {text: mark_expression(asked, text) for text in dict.fromkeys(texts)}
    return tuple(marked[text] for text in texts)
