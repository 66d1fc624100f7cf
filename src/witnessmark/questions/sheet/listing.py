"""The order of options and steps on the sheet, so that whoever prints and whoever marks agree on the letters.

Options stand in an order of each student's own, which follows from their numbers alone: whoever has the variant has the
letters, for years and on every machine.
"""

import hashlib
import json
from dataclasses import replace

import numpy as np

from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.quantities import from_si
from witnessmark.maths.syntax import Tree
from witnessmark.questions.model.kinds import balloons_in
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.orders import Order, is_near, shown_by
from witnessmark.questions.model.parts import (
    ChoicePart,
    MatchPart,
    OrderPart,
    Part,
    SeveralPart,
    ValueChoicePart,
)
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES, Variant
from witnessmark.questions.working.evaluation import names_in_full

MOST_ATTEMPTS = 100


def listed_steps(part: OrderPart, variant: Variant | None) -> tuple[str, ...]:
    """The steps of an `order` find as this student's sheet lists them.

    In an order of the student's own, sorted by SHA-256 as options are, that is never near the right one and shows no
    slip: whoever copies the list earns nothing and is told of no wrong method. Steps that are not shuffled, or have no
    variant, stand by alphabet, or against it where the alphabet happens to be the right order.
    """
    if part.shuffled and variant is not None:
        return tuple(part.steps[place] for place in _far_order(part, variant))
    by_alphabet = tuple(sorted(part.steps, key=str.casefold))
    return by_alphabet if by_alphabet != part.steps else tuple(reversed(by_alphabet))


def _far_order(part: OrderPart, variant: Variant) -> Order:
    """The first of the student's orders that is far from the right one; the right one backwards where none is."""
    places = range(len(part.steps))
    for attempt in range(MOST_ATTEMPTS):
        lots = _lots(variant, part, attempt * len(places), len(places))
        order = tuple(sorted(places, key=lots.__getitem__))
        if not is_near(order) and not shown_by(part, order):
            return order
    return tuple(reversed(places))


def listed_options(variant: Variant, part: ChoicePart | SeveralPart | ValueChoicePart) -> tuple[Option, ...]:
    """The options of a `choice` or `several` find as this student's sheet lists them, with their numbers filled in.

    Sorted by SHA-256 of the variant's numbers and rows, the part and the option's place in the question.
    """
    options = values_offered(variant, part) if isinstance(part, ValueChoicePart) else part.options
    lots = dict(zip(options, _lots(variant, part, 0, len(options)), strict=True))
    listed = sorted(options, key=lambda option: lots[option])
    return tuple(replace(option, text=filled(option.text, variant)) for option in listed)


def numbered_things(part: MatchPart, variant: Variant | None) -> tuple[str, ...]:
    """The things of a `match` find as this student's sheet, or its figure, numbers them from 1; as the question has
    them without a variant."""
    return _dealt(part, part.things, variant, len(part.options))


def lettered_options(part: MatchPart, variant: Variant | None) -> tuple[str, ...]:
    """Its options as this student's sheet letters them."""
    return _dealt(part, part.options, variant, 0)


def _dealt(part: MatchPart, texts: tuple[str, ...], variant: Variant | None, before: int) -> tuple[str, ...]:
    """Texts in an order of the student's own, as options are; so many lots of the part `before` are other texts'."""
    if variant is None:
        return texts
    lots = dict(zip(texts, _lots(variant, part, before, len(texts)), strict=True))
    return tuple(sorted(texts, key=lots.__getitem__))


def balloon_numbers(variant: Variant) -> dict[str, int]:
    """The number of every balloon in this student's figure, by the name that the template has for it."""
    return {
        name: n for part in balloons_in(variant.question.parts)
        for n, name in enumerate(numbered_things(part, variant), 1)
    }  # fmt: skip


def with_letters(variant: Variant | None) -> Variant | None:
    """The variant where it has every given and row, from which the letters of options follow; None where it has not."""
    if variant is None:
        return None
    question = variant.question
    whole = all(g.name in variant.shown for g in question.givens if not g.is_hidden)
    return variant if whole and all(row.name in variant.row_names for row in question.rows) else None


def _lots(variant: Variant, part: Part, first: int, count: int) -> list[str]:
    """So many lots of a part from the first on: each the hash of a list that ends with its place, as JSON text."""
    seed = json.dumps(["order of options 1", variant.identity, part.key], ensure_ascii=True).removesuffix("]")
    return [hashlib.sha256(f"{seed}, {place}]".encode()).hexdigest() for place in range(first, first + count)]


def values_offered(variant: Variant, part: ValueChoicePart) -> tuple[Option, ...]:
    """The options of a choice between values: what is right first, then what each slip gives, no text twice.

    KeyError where the variant lacks a given that they need.
    """
    right = Option(value_offered(variant, part, part.answer), right=True)
    found = {right.text: right}
    for slip in sorted(part.slips, key=lambda slip: -slip.keeps):
        text = value_offered(variant, part, slip.answer)
        found.setdefault(text, Option(text, False, slip.misconception, slip.keeps))
    return tuple(found.values())


def value_offered(variant: Variant, part: ValueChoicePart, tree: Tree) -> str:
    """One value as an option is printed: rounded to the figures of the part, with its unit."""
    return quantity_text(from_si(si_of(tree, variant), part.unit), part.unit, part.figures or DEFAULT_FIGURES)


def si_of(tree: Tree, variant: Variant) -> float:
    """What an expression of givens and results comes to with a student's numbers (SI)."""
    names = names_in_full(variant.question, variant.columns)
    return float(np.ravel(compiled(tree)(names))[0])


def letter_of(index: int) -> str:
    """The letter of an option or step on the sheet: A, B, C, ..."""
    return chr(ord("A") + index)
