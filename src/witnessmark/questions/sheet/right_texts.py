"""What is right at one place of a question, and what was given and asked, as lines of text in a student's numbers."""

from collections.abc import Mapping

import numpy as np

from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.question import Kind, Line, Part, Question
from witnessmark.questions.sheet.listing import letter_of, listed_options, listed_steps
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES, Variant
from witnessmark.questions.working.envelope_words import MORE_FIGURES, value_text
from witnessmark.questions.working.evaluation import names_in_full


def right_text(variant: Variant, part: Part, line: Line | None, figures: int = DEFAULT_FIGURES) -> str:
    """The right answer: a value with more figures than are asked, yes or no, the letters of choices, a formula.

    Empty where givens are absent.
    """
    if line is not None or part.kind is Kind.QUANTITY:
        return _value(variant, part, line, figures)
    match part.kind:
        case Kind.JUDGE:
            return _judgement(variant, part)
        case Kind.CHOICE:
            options = enumerate(listed_options(variant, part))
            return " or ".join(f"{letter_of(i)}, {option.text}" for i, option in options if option.right)
        case Kind.ORDER:
            listed = listed_steps(part)
            return " ".join(letter_of(listed.index(step)) for step in part.steps)
        case Kind.EXPRESSION:
            return in_sentence(part.answer, symbols_of(variant.question)) if part.answer is not None else ""
        case Kind.POINTS:
            said = "; ".join(point.wordings[0] if point.wordings else point.name for point in part.points)
            return f"any {part.needed} of: {said}"
    return "; ".join(text for text, _ in part.criteria)


def _value(variant: Variant, part: Part, line: Line | None, figures: int) -> str:
    key, unit_name = (f"{part.key}.{line.name}", line.unit) if line else (part.key, part.unit)
    values = variant.expected_si
    asked = figures if line else part.figures or figures
    return value_text(values[key], unit_name, asked + MORE_FIGURES) if key in values else ""


def _judgement(variant: Variant, part: Part) -> str:
    names = names_in_full(variant.question, variant.columns)
    try:
        truth = bool(np.ravel(compiled(part.judge)(names))[0]) if part.judge is not None else False
    except KeyError:
        return ""
    return "yes" if truth else "no"


def relation_text(question: Question, part: Part, line: Line | None) -> str:
    """How the number at a place is worked, in symbols: `τ × A_s`; empty where none is asked."""
    tree = line.value if line else part.answer
    return in_sentence(tree, symbols_of(question)) if tree is not None else ""


def symbols_of(question: Question) -> Mapping[str, str]:
    """The symbol of every name that a question states one for, and of the constants."""
    found = {name: constant.symbol for name, constant in CONSTANTS.items()}
    found |= {given.name: given.symbol for given in question.givens if given.symbol}
    return found | {line.name: line.symbol for part in question.parts for line in part.lines if line.symbol}


def given_texts(variant: Variant) -> tuple[tuple[str, str], ...]:
    """What the student was told: (`hole diameter`, `20 mm`), and the rows drawn for them (`material`, `mild steel`)."""
    rows = tuple(variant.row_names.items())
    told = tuple(
        (given.is_ or given.name, quantity_text(variant.shown[given.name].number, variant.shown[given.name].unit))
        for given in variant.question.givens
        if given.name in variant.shown
    )
    return (*rows, *told)


def asked_text(variant: Variant, part: Part, line: Line | None) -> str:
    """What is asked, in the student's numbers; for a line its name."""
    return f"{line.is_ or line.name}, on the way to: {filled(part.ask, variant)}" if line else filled(part.ask, variant)
