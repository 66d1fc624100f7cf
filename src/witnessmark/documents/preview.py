"""A question before it is set: some variants as students would get them, worked, with what each slip would earn.

For the author alone: nothing here goes to a student.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from witnessmark.documents.kinds.dispatch import solution_blocks
from witnessmark.documents.page.blocks import (
    Block,
    Document,
    Heading,
    Inset,
    Keep,
    Note,
    PageBreak,
    Paragraph,
    Runs,
    Table,
    TitleBlock,
    Typed,
    Words,
    words,
)
from witnessmark.documents.page.wordings import marks_of, marks_text, total_of
from witnessmark.documents.sheet.sheet import Drawn, question_blocks
from witnessmark.marking.examples import Example
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.sheet.variant import Variant

NO_SLIPS = "No wrong method is modelled here."
FOOT = "a preview for the author, with exercise values"


@dataclass(frozen=True, slots=True)
class Shown:
    """One variant of a preview: its figure, and every wrong answer that the question models, as it would be marked."""

    variant: Variant
    figure: Drawn | None
    examples: tuple[Example, ...]


def preview_document(
    question: Question, shown: Sequence[Shown], facts: Sequence[tuple[str, str]], remarks: Sequence[str], figures: int
) -> Document:
    """The preview of a question; `facts` stand in its title block, `remarks` below it."""
    marks = marks_text(total_of(question.parts))
    fields = (
        ("Key", question.key),
        ("Topic", question.topic),
        ("Level", str(question.level)),
        ("Marks", marks),
        *facts,
    )
    blocks: list[Block] = [TitleBlock("Preview of a question", question.title, "", fields)]
    if remarks:
        blocks.append(Inset("Remarks", tuple(Paragraph(words(remark)) for remark in remarks)))
    for number, one in enumerate(shown, 1):
        blocks += [PageBreak()] if number > 1 else []
        blocks += _variant(number, len(shown), one, question.misconceptions, figures)
    return Document(f"{question.title}: preview", tuple(blocks), "", f"{question.key}: {FOOT}")


def _variant(number: int, count: int, one: Shown, known: Mapping[str, Misconception], figures: int) -> list[Block]:
    heading = Heading(f"Variant {number} of {count}", 1)
    sheet = question_blocks(number, one.variant, one.figure, figures)
    values = one.variant.expected_si
    worked = [
        Keep((Inset(f"{part.key}, worked", solution_blocks(one.variant, part, values, figures)),))
        for part in one.variant.question.parts
    ]
    return [heading, *sheet, Heading("Worked solution", 3), *worked, *_wrong(one.examples, known)]


def _wrong(found: Sequence[Example], known: Mapping[str, Misconception]) -> list[Block]:
    heading = Heading("Wrong answers that the question knows", 3)
    if not found:
        return [heading, Note(words(NO_SLIPS))]
    header = ("Part", "Typed", "Marks", "Misconception, and what the student is told")
    rows = tuple(_row(example, known) for example in found)
    return [heading, Table(header, rows, frozenset({2}), wide=3, whole=frozenset({0, 2}))]


def _row(example: Example, known: Mapping[str, Misconception]) -> tuple[Runs, ...]:
    outcome = example.outcome
    told = (outcome.because, *(known[m].say for m in outcome.misconceptions if m in known))
    named = set(example.misconceptions) <= set(outcome.misconceptions)
    waits = (*outcome.in_tray, *(() if named else (f"marked as: {outcome.verdict}",)))
    notes = tuple(Words(f" ({reason})", quiet=True) for reason in waits)
    key = Words(f"{' + '.join(example.misconceptions)}: " if example.misconceptions else "", strong=True)
    marks = marks_of(outcome.marks, outcome.out_of)
    said = (key, *words(" ".join(told)), *notes)
    return words(example.part.key), (Typed(example.typed),), words(marks), said
