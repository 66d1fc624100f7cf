"""A follow-up sheet: a worked example, somebody else's wrong working, the case that parts right from wrong, once more.

All of it can be told from the sheet as it is stored: each misconception has three questions in a row.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from witnessmark.documents.kinds.dispatch import solution_blocks
from witnessmark.documents.page.blocks import (
    Block,
    Caution,
    Document,
    Heading,
    Inset,
    Keep,
    Note,
    Paragraph,
    TitleBlock,
    words,
)
from witnessmark.documents.page.wordings import GENERAL_CAUTION, filled, marks_words, paragraphs, total_of
from witnessmark.documents.sheet.asking import ask_blocks
from witnessmark.documents.sheet.sheet import WIDEST_COMPACT, Asked, Drawn, compact_blocks, opening_blocks
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.wrong_working import Wrong, worked_wrong

HOW_TO = (
    "This sheet is made for you alone. Read the worked example, then do the three questions in the answer book. "
    "There is no hurry, and nothing here is new."
)
FARTHER_ON = (
    "Nothing went wrong on the sheet before. Here is a harder question for whoever likes one; nothing depends on it. "
    "Do it in the answer book."
)
BELOW = "Their working:"


@dataclass(frozen=True, slots=True)
class Round:
    """What one misconception is followed up with: a worked example, and the numbers of its three questions on the
    sheet, the first of which is `number`."""

    number: int
    wrong: Wrong
    example: Variant
    fault: Variant
    told: Variant
    apart: Variant
    plain: Variant


def follow_up_document(sheet: Sheet, rounds: tuple[Round, ...], figures: Mapping[int, Drawn]) -> Document:
    """The sheet; `figures` are by number of the question. Without rounds it goes farther on, for who showed nothing."""
    fields = (("For", sheet.student.code),)
    kind, how_to = ("Follow-up", HOW_TO) if rounds else ("Farther on", FARTHER_ON)
    blocks: list[Block] = [TitleBlock(kind, sheet.task.title, sheet.code, fields), Note(words(how_to))]
    asked = sheet.task.rules.figures
    for one in rounds:
        blocks += _round(one, figures, asked)
    for number, variant in enumerate(() if rounds else sheet.variants, 1):
        blocks += compact_blocks(Asked(number, variant, figures.get(number), asked))
    blocks.append(Caution(GENERAL_CAUTION))
    return Document(f"{sheet.task.title}: sheet {sheet.code}", tuple(blocks), sheet.code, sheet.task.title)


def _round(one: Round, figures: Mapping[int, Drawn], asked: int) -> Iterator[Block]:
    question, part = one.example.question, one.wrong.part
    told = [Paragraph(words(filled(p, one.example))) for p in paragraphs(question.setting)]
    worked = [
        block
        for p in question.parts
        for block in solution_blocks(one.example, p, one.example.expected_si, asked)
    ]  # fmt: skip
    wanted = Paragraph(words(filled(part.ask, one.example)))
    yield Keep((Heading(f"An example: {question.title}"), *told, wanted))
    yield Inset("Worked", tuple(worked))
    yield from _fault(one, figures.get(one.number), asked)
    yield from compact_blocks(Asked(one.number + 1, one.apart, figures.get(one.number + 1), asked))
    yield from compact_blocks(Asked(one.number + 2, one.plain, None, asked))


def _fault(one: Round, figure: Drawn | None, asked: int) -> Iterator[Block]:
    """Somebody else's working may run on to the next page; what is asked about it stays together."""
    question = one.fault.question
    caution = (Caution(filled(question.caution, one.told)),) if question.caution else ()
    heading = Heading(question.title, 2, str(one.number), marks_words(total_of(question.parts)))
    yield Keep((heading, *opening_blocks(one.told, figure, WIDEST_COMPACT, caution)))
    taken, values = worked_wrong(one.told, one.wrong)
    inner = [b for p in taken.question.parts for b in solution_blocks(taken, p, values, asked)]
    yield Inset(BELOW, tuple(b for b in inner if not isinstance(b, Note)))
    yield Keep(tuple(ask_blocks(one.fault, question.parts[0], asked)))
