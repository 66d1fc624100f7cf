"""A follow-up sheet: a worked example, somebody else's wrong working, the case that parts right from wrong, once more.

All of it can be told from the sheet as it is stored: each misconception has three questions in a row, or two where
nobody can be shown working so, since the wrong number is of another kind.
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
from witnessmark.documents.page.wordings import GENERAL_CAUTION, filled, paragraphs
from witnessmark.documents.sheet.asking import ask_blocks
from witnessmark.documents.sheet.sheet import WIDEST_COMPACT, Asked, Drawn, compact_blocks, opening_blocks
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.wrong_working import Wrong, worked_wrong

HOW_TO = (
    "This sheet is made for you alone. Read the worked example, then do the questions in the answer book. "
    "There is no hurry, and nothing here is new."
)
FARTHER_ON = (
    "Nothing went wrong on the sheet before. Here is a harder question for whoever likes one; nothing depends on it. "
    "Do it in the answer book."
)
BELOW = "Their working:"


@dataclass(frozen=True, slots=True)
class Fault:
    """Somebody else's working: what is asked about it, and the numbers that it was worked in."""

    asked: Variant
    told: Variant


@dataclass(frozen=True, slots=True)
class Round:
    """What one misconception is followed up with: a worked example, and its questions on the sheet, the first of which
    is `number`. Without a `fault` there are two."""

    number: int
    wrong: Wrong
    example: Variant
    fault: Fault | None
    apart: Variant
    plain: Variant

    @property
    def questions(self) -> int:
        """How many questions it has on the sheet."""
        return 2 if self.fault is None else 3


def follow_up_document(sheet: Sheet, rounds: tuple[Round, ...], figures: Mapping[int, Drawn]) -> Document:
    """The sheet; `figures` are by number of the question. Without rounds it goes farther on, for who showed nothing."""
    fields = (("For", sheet.student.code),)
    kind, how_to = ("Follow-up", HOW_TO) if rounds else ("Farther on", FARTHER_ON)
    title = TitleBlock(kind, sheet.task.title, sheet.code, fields)
    blocks: list[Block] = [title, Note(words(how_to)), Caution(GENERAL_CAUTION)]
    asked = sheet.task.rules.figures
    for one in rounds:
        blocks += _round(one, figures, asked)
    for number, variant in enumerate(() if rounds else sheet.variants, 1):
        blocks += compact_blocks(Asked(number, variant, figures.get(number), asked))
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
    number = one.number
    if one.fault is not None:
        yield from _fault(one.fault, one.wrong, Asked(number, one.fault.asked, figures.get(number), asked))
        number += 1
    yield from compact_blocks(Asked(number, one.apart, figures.get(number), asked))
    yield from compact_blocks(Asked(number + 1, one.plain, None, asked))


def _fault(fault: Fault, wrong: Wrong, asked: Asked) -> Iterator[Block]:
    """Somebody else's working may run on to the next page; what is asked about it stays together."""
    question, told = fault.asked.question, fault.told
    caution = (Caution(filled(question.caution, told)),) if question.caution else ()
    yield Keep((asked.heading, *opening_blocks(told, asked.figure, WIDEST_COMPACT, caution)))
    taken, values = worked_wrong(told, wrong)
    inner = [b for p in taken.question.parts for b in solution_blocks(taken, p, values, asked.figures)]
    yield Inset(BELOW, tuple(b for b in inner if not isinstance(b, Note)))
    yield Keep(tuple(ask_blocks(fault.asked, question.parts[0], asked.figures)))
