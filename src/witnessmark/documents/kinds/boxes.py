"""The places to write on a sheet: for a number and the steps of its working, a formula, what is marked by hand."""

from collections.abc import Sequence

from witnessmark.documents.page.blocks import AnswerBox, Block, Maths, Options, Paragraph, Runs, Table, Words, words
from witnessmark.documents.page.wordings import criteria_texts, marks_words, symbols_of
from witnessmark.maths.printing.numbers import quantity_text, shown_number, unit_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.parts import ExpressionPart, HandPart, Line, QuantityPart, StandardPart
from witnessmark.questions.model.sizes import Size
from witnessmark.questions.sheet.variant import Variant

MOST_IN_A_ROW = 8


def quantity_boxes(variant: Variant, part: QuantityPart) -> list[Block]:
    """A dashed box for each line, then that of the result."""
    lines: list[Block] = [_line_box(variant, line) for line in part.lines]
    return [*lines, AnswerBox(_equals(variant, part.symbol), unit_text(part.unit), part.is_)]


def symbol_box(variant: Variant, part: ExpressionPart) -> AnswerBox:
    """The box of a formula, after its letter."""
    return AnswerBox(_equals(variant, part.symbol), hint=part.is_)


def size_blocks(part: StandardPart) -> list[Block]:
    """The sizes to choose from: as a line where their names tell their values, else with the values below the names."""
    names = [size.name for size in part.sizes]
    if all(_plain(size.name) == _plain(quantity_text(size.value, part.unit)) for size in part.sizes):
        return [Paragraph((Words("To choose from: ", strong=True), Words(", ".join(names))), under=True)]
    unit = unit_text(part.unit)
    column = part.column.replace("_", " ") + (f" in {unit}" if unit else "")
    rows = -(-len(names) // MOST_IN_A_ROW)
    each = -(-len(names) // rows)
    return [_size_table(column, part.sizes[n : n + each]) for n in range(0, len(names), each)]


def _size_table(column: str, sizes: Sequence[Size]) -> Table:
    values = (words(shown_number(size.value)) for size in sizes)
    header = ("size", *(size.name for size in sizes))
    numbers = frozenset(range(1, len(header)))
    return Table(header, ((words(column), *values),), numbers, whole=numbers)


def _plain(text: str) -> str:
    """A size without its blanks, and with plain powers."""
    return "".join(text.replace("²", "^2").replace("³", "^3").split())


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
