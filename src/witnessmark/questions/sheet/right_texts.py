"""What is right at one place of a question, and what was given and asked, as lines of text in a student's numbers."""

from collections.abc import Mapping

import numpy as np

from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import answer_of, lines_of
from witnessmark.questions.model.parts import JudgePart, Line, Part, QuantityPart, StandardPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.chosen_sizes import place_of
from witnessmark.questions.working.envelope_words import MORE_FIGURES, value_text
from witnessmark.questions.working.evaluation import names_in_full


def number_text(variant: Variant, part: QuantityPart, line: Line | None, figures: int) -> str:
    """The right number at a place, with more figures than are asked; empty where givens are absent."""
    key, unit_name = (f"{part.key}.{line.name}", line.unit) if line else (part.key, part.unit)
    values = variant.expected_si
    asked = figures if line else part.figures or figures
    return value_text(values[key], unit_name, asked + MORE_FIGURES) if key in values else ""


def judged_text(variant: Variant, part: JudgePart) -> str:
    """The right judgement; empty where givens are absent."""
    names = names_in_full(variant.question, variant.columns)
    try:
        truth = bool(np.ravel(compiled(part.judge)(names))[0])
    except KeyError:
        return ""
    return "yes" if truth else "no"


def size_text(variant: Variant, part: StandardPart) -> str:
    """The right size; empty where givens are absent, or no size of the table serves."""
    names = names_in_full(variant.question, variant.columns)
    try:
        place = int(np.ravel(place_of(part, compiled(part.value)(names)))[0])
    except KeyError:
        return ""
    return part.sizes[place].name if 0 <= place < len(part.sizes) else ""


def relation_text(question: Question, part: Part, line: Line | None) -> str:
    """How the number at a place is worked, in symbols: `τ × A_s`; empty where none is asked."""
    tree = line.value if line else answer_of(part)
    return in_sentence(tree, symbols_of(question)) if tree is not None else ""


def symbols_of(question: Question) -> Mapping[str, str]:
    """The symbol of every name that a question states one for, and of the constants."""
    found = {name: constant.symbol for name, constant in CONSTANTS.items()}
    found |= {given.name: given.symbol for given in question.givens if given.symbol}
    return found | {line.name: line.symbol for part in question.parts for line in lines_of(part) if line.symbol}


def given_texts(variant: Variant) -> tuple[tuple[str, str], ...]:
    """What the student was told: (`hole diameter`, `20 mm`), and the rows drawn for them (`material`, `mild steel`).

    What is read from the figure is not among it.
    """
    rows = tuple(variant.row_names.items())
    told = tuple(
        (given.is_ or given.name, quantity_text(variant.shown[given.name].number, variant.shown[given.name].unit))
        for given in variant.question.givens
        if given.name in variant.shown and not given.in_figure and not given.is_hidden
    )
    return (*rows, *told)


def asked_text(variant: Variant, part: Part, line: Line | None) -> str:
    """What is asked, in the student's numbers; for a line its name."""
    return f"{line.is_ or line.name}, on the way to: {filled(part.ask, variant)}" if line else filled(part.ask, variant)
