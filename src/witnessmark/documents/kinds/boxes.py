"""The places to write on a sheet: for a number and the steps of its working, a formula, what is marked by hand."""

from witnessmark.documents.page.blocks import AnswerBox, Block, Maths, Options, Runs, Words, words
from witnessmark.documents.page.wordings import criteria_texts, marks_words, symbols_of
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.parts import ExpressionPart, HandPart, Line, QuantityPart
from witnessmark.questions.sheet.variant import Variant


def quantity_boxes(variant: Variant, part: QuantityPart) -> list[Block]:
    """A dashed box for each line, then that of the result."""
    lines: list[Block] = [_line_box(variant, line) for line in part.lines]
    return [*lines, AnswerBox(_equals(variant, part.symbol), unit_text(part.unit), part.is_)]


def symbol_box(variant: Variant, part: ExpressionPart) -> AnswerBox:
    """The box of a formula, after its letter."""
    return AnswerBox(_equals(variant, part.symbol), hint=part.is_)


def hand_boxes(part: HandPart) -> list[Block]:
    """What the teacher looks for, and room."""
    criteria = criteria_texts(part)
    shown: list[Block] = [Options(criteria)] if criteria else []
    return [*shown, AnswerBox((), lines=6)]


def _line_box(variant: Variant, line: Line) -> AnswerBox:
    earns = f", {marks_words(line.marks)}" if line.marks else ""
    before = _equals(variant, line.name)
    return AnswerBox(before, unit_text(line.unit), f"{line.is_} (optional{earns})", is_line=True)


def _equals(variant: Variant, name: str) -> Runs:
    if not name:
        return words("Result")
    return (Maths(letter(name, symbols_of(variant.question))), Words(" ="))
