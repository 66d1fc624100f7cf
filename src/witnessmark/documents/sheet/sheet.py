"""One student's sheet: the task's questions with their own numbers, and places to write."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Protocol

from witnessmark.documents.page.blocks import (
    Beside,
    Block,
    Caution,
    Document,
    Figure,
    GivenRow,
    GivenTable,
    Heading,
    Keep,
    Note,
    Paragraph,
    TitleBlock,
    Words,
    words,
)
from witnessmark.documents.page.wordings import (
    GENERAL_CAUTION,
    date_text,
    filled,
    marks_text,
    marks_words,
    paragraphs,
    student_field,
    symbols_of,
    total_of,
)
from witnessmark.documents.sheet.asking import ask_blocks
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.maths.syntax import Name, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import right_trees
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant

WIDEST_BESIDE = 235.0  # points: a wider figure goes under the text
CONSTANT_NAMES = {"g": "acceleration of free fall"}
TAKEN_AS_KNOWN = frozenset({"pi"})


class Drawn(Protocol):
    """A finished figure, as `documents.figures` makes it: the SVG, its sentence, its width in points."""

    @property
    def svg(self) -> str:
        """The drawing."""

    @property
    def alt(self) -> str:
        """What it shows, in a sentence."""

    @property
    def width(self) -> float:
        """Its width in points; 0 when it is not known."""


def sheet_document(sheet: Sheet, figures: Mapping[int, Drawn], with_name: bool = False) -> Document:
    """The sheet of one student. `figures` are by number of the question on the sheet, from 1.

    The student's code stands on it; the name only `with_name`, since sheets travel. KeyError for a placeholder that
    names no given.
    """
    blocks: list[Block] = [_title_block(sheet, with_name), _how_to(sheet)]
    for number, variant in enumerate(sheet.variants, 1):
        blocks += question_blocks(number, variant, figures.get(number), sheet.task.rules.figures)
    blocks.append(Caution(GENERAL_CAUTION))
    title = f"{sheet.task.title}: sheet {sheet.code}"
    return Document(title, tuple(blocks), sheet.code, sheet.task.title)


def _title_block(sheet: Sheet, with_name: bool) -> TitleBlock:
    fields = [("For", student_field(sheet.student, with_name))]
    if sheet.task.due:
        fields.append(("Due", date_text(sheet.task.due)))
    total = sum((total_of(v.question.parts) for v in sheet.variants), Decimal(0))
    fields.append(("Marks", marks_text(total)))
    if sheet.attempt > 1:
        fields.append(("Attempt", str(sheet.attempt)))
    return TitleBlock("Calculation sheet", sheet.task.title, sheet.code, tuple(fields))


def _how_to(sheet: Sheet) -> Note:
    asks = sheet.asks
    numbers = any(ask.has_unit for ask in asks)
    sentences = [
        "The numbers on this sheet are yours alone: work with them, and enter your results in the answer book."
    ]
    if numbers:
        figures = sheet.task.rules.figures
        sentences.append(
            f"Give each result to {figures} significant figures and with its unit; the unit in the box is a proposal, "
            "and any other of the same kind will do."
        )
    if any(ask.line for ask in asks):
        sentences.append(
            "Dashed boxes are steps of the working. They may stay empty; filled in, they can earn marks even if the "
            "result goes wrong."
        )
    return Note(words(" ".join(sentences)))


def question_blocks(number: int, variant: Variant, figure: Drawn | None, figures: int) -> list[Block]:
    """One question in the student's numbers: setting, figure, givens, caution, and what is asked."""
    question = variant.question
    heading = Heading(question.title, 2, str(number), marks_words(total_of(question.parts)))
    caution = [Caution(filled(question.caution, variant))] if question.caution else []
    first, *others = [ask_blocks(variant, part, figures) for part in question.parts]
    opening = Keep((heading, *opening_blocks(variant, figure), *caution, *first))
    return [opening, *(Keep(part) for part in others)]


def opening_blocks(variant: Variant, figure: Drawn | None) -> tuple[Block, ...]:
    """The setting with its figure and the table of givens."""
    told: list[Block] = [Paragraph(words(filled(p, variant))) for p in paragraphs(variant.question.setting)]
    rows = given_rows(variant)
    if rows:
        told.append(GivenTable(rows))
    if figure is None:
        return tuple(told)
    art = Figure(figure.svg, figure.alt, figure.width)
    if 0 < art.width <= WIDEST_BESIDE:
        return (Beside(tuple(told), art),)
    settings = sum(isinstance(b, Paragraph) for b in told)
    return (*told[:settings], art, *told[settings:])


def given_rows(variant: Variant) -> tuple[GivenRow, ...]:
    """Every value that the student needs: the givens, cells of tables that formulae use by name, named constants."""
    question = variant.question
    symbols = symbols_of(question)
    rows = [
        GivenRow(letter(given.name, symbols), given.is_, _value(given.name, variant))
        for given in question.givens
        if given.name in variant.shown and given.is_
    ]
    used = _names_used(question)
    aliased = {g.value.name for g in question.givens if g.is_ and isinstance(g.value, Name)}
    cells = [name for name in sorted(used - aliased) if "." in name and name in variant.shown]
    rows += [GivenRow(None, _cell_words(name, variant), _value(name, variant)) for name in cells]
    for name in sorted(used & CONSTANTS.keys() - TAKEN_AS_KNOWN):
        constant = CONSTANTS[name]
        value = _value(name, variant) if name in variant.shown else Words(quantity_text(constant.value, constant.unit))
        rows.append(GivenRow(letter(name, symbols), CONSTANT_NAMES.get(name, "constant"), value))
    return tuple(rows)


def _value(name: str, variant: Variant) -> Words:
    shown = variant.shown[name]
    return Words(quantity_text(shown.number, shown.unit))


def _cell_words(name: str, variant: Variant) -> str:
    owner, _, column = name.partition(".")
    row = variant.row_names.get(owner)
    return f"{column.replace('_', ' ')} of {row or 'the ' + owner.replace('_', ' ')}"


def _names_used(question: Question) -> frozenset[str]:
    trees = [tree for part in question.parts for tree in right_trees(part)]
    trees += [given.value for given in question.givens if given.value is not None and not given.is_]  # worked, not told
    return frozenset().union(*(names_in(tree) for tree in trees))
