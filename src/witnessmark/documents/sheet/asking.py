"""What is asked, and the places to write: one part of a question as blocks, by its kind."""

import re

from witnessmark.documents.page.blocks import AnswerBox, Ask, Block, Maths, Options, Runs, Words, words
from witnessmark.documents.page.wordings import filled, marks_words, symbols_of
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.question import Kind, Line, Part
from witnessmark.questions.sheet.listing import letter_of, listed_options, listed_steps
from witnessmark.questions.sheet.variant import Variant

ENGLISH_WORDS = frozenset("aAI")
NUMBER_WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def ask_blocks(variant: Variant, part: Part, figures: int) -> tuple[Block, ...]:
    """The text of a part with its marks, its options, and its answer boxes, steps of the working first."""
    also = _also(part, figures)
    runs = (*asked_runs(variant, part), *(words(also) if also else ()))
    return (Ask(part.key, runs, marks_words(part.marks)), *_places(variant, part))


def asked_runs(variant: Variant, part: Part) -> Runs:
    """What is asked, in the student's numbers; where a formula is asked, its letters are set as letters."""
    text = filled(part.ask, variant)
    names = {given.name for given in variant.question.givens} - ENGLISH_WORDS
    if part.kind is not Kind.EXPRESSION or not names:
        return words(text)
    pieces = re.split(rf"\b({'|'.join(sorted(map(re.escape, names), key=len, reverse=True))})\b", text)
    symbols = symbols_of(variant.question)
    return tuple(Maths(letter(p, symbols)) if p in names else Words(p) for p in pieces if p)


def _also(part: Part, figures: int) -> str:
    if part.kind is Kind.QUANTITY and part.figures not in (None, figures):
        return f" Give it to {part.figures} significant figures."
    if part.kind is Kind.ORDER:
        return " Write their letters one after the other."
    if part.kind is Kind.EXPRESSION:
        return " Write it in the letters of this question, without numbers put in."
    if part.kind is Kind.POINTS and part.needed > 1 and number_word(part.needed) not in part.ask.casefold().split():
        return f" Give {number_word(part.needed)}."
    return ""


def number_word(number: int) -> str:
    """`three`; digits above ten."""
    return NUMBER_WORDS[number] if number < len(NUMBER_WORDS) else str(number)


def _places(variant: Variant, part: Part) -> list[Block]:
    match part.kind:
        case Kind.QUANTITY:
            lines: list[Block] = [_line_box(variant, line) for line in part.lines]
            return [*lines, AnswerBox(_equals(variant, part.symbol), unit_text(part.unit), part.is_)]
        case Kind.EXPRESSION:
            return [AnswerBox(_equals(variant, part.symbol), hint=part.is_)]
        case Kind.JUDGE:
            return [AnswerBox(words("Answer"), choices=("yes", "no"))]
        case Kind.CHOICE:
            options = tuple((letter_of(i), o.text) for i, o in enumerate(listed_options(variant, part)))
            return [Options(options), AnswerBox(words("Letter"))]
        case Kind.ORDER:
            steps = tuple((letter_of(i), filled(s, variant)) for i, s in enumerate(listed_steps(part)))
            return [Options(steps), AnswerBox(words("Order"))]
        case Kind.POINTS:
            return [AnswerBox((), lines=2 * max(part.needed, 1))]
        case Kind.HAND:
            criteria = tuple(("•", f"{text} ({marks_words(marks)})") for text, marks in part.criteria)
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
