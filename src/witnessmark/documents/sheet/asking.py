"""What is asked, and the places to write: one part of a question as blocks."""

import re

from witnessmark.documents.kinds.dispatch import answer_boxes, manner_of
from witnessmark.documents.page.blocks import Ask, Block, Maths, Runs, Words, words
from witnessmark.documents.page.wordings import filled, marks_words, symbols_of
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.variant import Variant

ENGLISH_WORDS = frozenset("aAI")


def ask_blocks(variant: Variant, part: Part, figures: int) -> tuple[Block, ...]:
    """The text of a part with its marks, its options, and its answer boxes, steps of the working first."""
    also = manner_of(part, figures).also
    runs = (*asked_runs(variant, part), *(words(also) if also else ()))
    return (Ask(part.key, runs, marks_words(part.marks)), *answer_boxes(variant, part))


def asked_runs(variant: Variant, part: Part) -> Runs:
    """What is asked, in the student's numbers; where a formula is asked, its letters are set as letters."""
    text = filled(part.ask, variant)
    names = {given.name for given in variant.question.givens} - ENGLISH_WORDS
    if not manner_of(part).in_letters or not names:
        return words(text)
    pieces = re.split(rf"\b({'|'.join(sorted(map(re.escape, names), key=len, reverse=True))})\b", text)
    symbols = symbols_of(variant.question)
    return tuple(Maths(letter(p, symbols)) if p in names else Words(p) for p in pieces if p)
