"""One student's sheet: the task's questions with their own numbers, and places to write."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from witnessmark.documents.page.blocks import (
    AnswerBox,
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
    SideBySide,
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
from witnessmark.documents.sheet.readings import column_asked, readings_block
from witnessmark.documents.sheet.relations import relation_blocks
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.maths.syntax import Name, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import right_trees
from witnessmark.questions.model.parts import Part
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Layout, Sheet
from witnessmark.questions.sheet.variant import Variant

WIDEST_BESIDE = 235.0  # points: a wider figure goes under the text
WIDEST_COMPACT = 330.0  # where pages are to be few it is drawn smaller, to not less than three quarters
ROOMY_SHARE, COMPACT_SHARE = 48, 54  # hundredths of the page's width, of a figure beside the text
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
    blocks: list[Block] = [_title_block(sheet, with_name), _how_to(sheet), Caution(GENERAL_CAUTION)]
    for number, variant in enumerate(sheet.variants, 1):
        asked = Asked(number, variant, figures.get(number), sheet.task.rules.figures, sheet.task.working)
        compact = sheet.task.layout is Layout.COMPACT
        blocks += compact_blocks(asked) if compact else asked_blocks(asked)
    blocks += relation_blocks(sheet.task.relations)
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
    return asked_blocks(Asked(number, variant, figure, figures))


@dataclass(frozen=True, slots=True)
class Asked:
    """One question as it is asked: its number, its variant, its figure, the figures wanted, the lines for working."""

    number: int
    variant: Variant
    figure: Drawn | None
    figures: int
    working: int = 0

    @property
    def heading(self) -> Heading:
        """Number, title and marks."""
        question = self.variant.question
        return Heading(question.title, 2, str(self.number), marks_words(total_of(question.parts)))

    @property
    def caution(self) -> tuple[Caution, ...]:
        """The question's line of caution, if it has one."""
        text = self.variant.question.caution
        return (Caution(filled(text, self.variant)),) if text else ()

    @property
    def parts(self) -> tuple[tuple[Block, ...], ...]:
        """Each part with its places to write; room for working stands before the places for answers."""
        question = self.variant.question
        columns = {key: column for column in (question.table.columns if question.table else ()) for key in column.keys}
        found = []
        for part in question.parts:
            column = columns.get(part.key)
            if column is None:
                found.append(self._part(part))
            elif part.key == column.keys[0]:
                found.append(column_asked(column, self.variant, self.figures))
        return tuple(found)

    def _part(self, part: Part) -> tuple[Block, ...]:
        ask, *rest = ask_blocks(self.variant, part, self.figures)
        room = (AnswerBox(words("Working"), lines=self.working),) if self.working else ()
        return (ask, *room, *rest)


def asked_blocks(asked: Asked) -> list[Block]:
    """One question with room around it; no part of it is parted by the end of a page."""
    first, *others = asked.parts
    opening = Keep((asked.heading, *opening_blocks(asked.variant, asked.figure), *asked.caution, *first))
    return [opening, *(Keep(part) for part in others)]


def compact_blocks(asked: Asked) -> list[Block]:
    """One question in as little height as it needs: the figure beside the givens, places to write two in a row. It
    stands on one page with all its parts where a page can hold it."""
    first, *others = [two_in_a_row(part) for part in asked.parts]
    told = opening_blocks(asked.variant, asked.figure, WIDEST_COMPACT, asked.caution)
    return [Keep((Keep((asked.heading, *told, *first)), *(Keep(part) for part in others)), if_fits=True)]


def two_in_a_row(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """Blocks in which places to write a number stand side by side."""
    found: list[Block] = []
    for block in blocks:
        before = found[-1] if found else None
        if not (isinstance(block, AnswerBox) and block.before and block.lines == 1 and not block.choices):
            found.append(block)
        elif isinstance(before, SideBySide):
            found[-1] = SideBySide((*before.blocks, block))
        else:
            found.append(SideBySide((block,)))
    return tuple(found)


def opening_blocks(
    variant: Variant, figure: Drawn | None, widest: float = WIDEST_BESIDE, under: tuple[Caution, ...] = ()
) -> tuple[Block, ...]:
    """The setting with its figure and the table of givens, with what stands `under` it; a figure that is not wider than
    `widest` points stands beside them."""
    told: list[Block] = [Paragraph(words(filled(p, variant))) for p in paragraphs(variant.question.setting)]
    rows = given_rows(variant)
    if rows:
        told.append(GivenTable(rows))
    if variant.question.table:
        told.append(readings_block(variant.question.table, variant))
    told += under
    if figure is None:
        return tuple(told)
    art = Figure(figure.svg, figure.alt, figure.width)
    if 0 < art.width <= widest:
        return (Beside(tuple(told), art, ROOMY_SHARE if widest == WIDEST_BESIDE else COMPACT_SHARE),)
    settings = sum(isinstance(b, Paragraph) for b in told)
    return (*told[:settings], art, *told[settings:])


def given_rows(variant: Variant) -> tuple[GivenRow, ...]:
    """Every value that the student needs: the givens, cells of tables that formulae use by name, named constants."""
    question = variant.question
    symbols = symbols_of(question)
    rows = [
        GivenRow(letter(given.name, symbols), given.is_, _value(given.name, variant))
        for given in question.givens
        if given.name in variant.shown and given.is_ and not given.in_figure and not given.in_table
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
