"""Placeholders of a question's texts filled with one student's numbers: `{d}` becomes `20 mm`."""

import re

from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.questions.sheet.variant import Variant

PLACEHOLDER = re.compile(r"\{([A-Za-z_]\w*(?:\.[A-Za-z_]\w*)?)\}")


def filled(text: str, variant: Variant) -> str:
    """A text of the question with the student's numbers in its placeholders; KeyError for a name it does not have."""
    return PLACEHOLDER.sub(lambda found: value_of(found[1], variant), " ".join(text.split()))


def value_of(name: str, variant: Variant) -> str:
    """What a placeholder stands for: a value with its unit, the name of a row, or a cell of text."""
    if name in variant.shown:
        shown = variant.shown[name]
        return quantity_text(shown.number, shown.unit)
    owner, _, column = name.partition(".")
    if owner in variant.row_names and column in ("", "name"):
        return variant.row_names[owner]
    return str(_text_cell(owner, column, variant))


def _text_cell(owner: str, column: str, variant: Variant) -> object:
    question = variant.question
    table = next((r.table for r in question.rows if r.name == owner), None)
    if table is None or owner not in variant.row_names:
        raise KeyError(f"{{{owner}{'.' if column else ''}{column}}} is not a given of question {question.key}")
    return question.tables[table].rows[variant.row_names[owner]][column]
