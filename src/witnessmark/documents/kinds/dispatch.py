"""Each kind of find on paper. The one module of `documents/` that tells kinds apart."""

from collections.abc import Mapping
from typing import assert_never

from witnessmark.documents.kinds.boxes import hand_boxes, quantity_boxes, size_blocks, symbol_box
from witnessmark.documents.kinds.manner import Manner, number_word
from witnessmark.documents.kinds.working import Working, points_blocks
from witnessmark.documents.page.blocks import AnswerBox, Block, Options, words
from witnessmark.documents.page.wordings import criteria_texts, filled
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.syntax import is_count
from witnessmark.questions.model.kinds import figures_of
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    LimitsPart,
    Line,
    MatchPart,
    OrderPart,
    Part,
    PointsPart,
    QuantityPart,
    SeveralPart,
    StandardPart,
    ValueChoicePart,
)
from witnessmark.questions.sheet.listing import (
    letter_of,
    lettered_options,
    listed_options,
    listed_steps,
    numbered_things,
    values_offered,
)
from witnessmark.questions.sheet.right_texts import judged_text, number_text, size_text, symbols_of
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES, Variant


def manner_of(part: Part, figures: int = DEFAULT_FIGURES) -> Manner:
    """In which manner a find is asked and answered, on a sheet that asks for so many significant figures."""
    match part:
        case QuantityPart():
            unit = unit_text(part.unit)
            own = part.figures not in (None, figures)
            also = f" Give it to {part.figures} significant figures." if own else ""
            also = " Give a whole number." if is_count(part.answer) else also
            return Manner(
                "number", unit or "no unit", f"a number in {unit}" if unit else "a number without a unit", also
            )
        case LimitsPart():
            unit, given = unit_text(part.largest.unit), part.largest.figures
            asks = f" Give both to {given} significant figures." if given not in (None, figures) else ""
            how = (
                f"two numbers in {unit}, in either order, with “and” between" if unit else "two numbers without a unit"
            )
            return Manner("limits", unit or "no unit", how, asks)
        case JudgePart():
            return Manner("yes or no", "yes or no", "yes or no", offers=("yes", "no"))
        case StandardPart():
            sizes = tuple(size.name for size in part.sizes)
            return Manner("size", "a size listed", "one size of the table on your sheet", offers=sizes)
        case ChoicePart() | ValueChoicePart():
            return Manner("choice", "letter", "one letter of {letters}", title="The right choice", picks_letter=True)
        case SeveralPart():
            also, how = " Write the letters of all that are right.", "every right letter of {letters}, such as A, B"
            return Manner("several", "letters", how, also, "The right ones")
        case MatchPart():
            also = " Write each number with its letter, such as 1b; a letter fits one number at most."
            how = "each number with its letter of {letters}, such as 1b, 2a"
            return Manner("pairs", "numbers with letters", how, also, "The right pairs")
        case ExpressionPart():
            also = " Write it in the letters of this question, without numbers put in."
            how = "a formula in letters, such as 2*a/b"
            return Manner("formula", "formula", how, also, "The formula", in_letters=True)
        case OrderPart():
            also, how = " Write their letters one after the other.", "the letters {letters} in the right order"
            return Manner("order", "letters in order", how, also, "The right order")
        case PointsPart():
            several, needed = part.needed > 1, number_word(part.needed)
            also = f" Give {needed}." if several and needed not in part.ask.casefold().split() else ""
            how = "a few words for each, on lines of their own" if several else "a few words"
            return Manner("points", "words", how, also, "What counts", rows=2 * part.needed, in_words=True)
        case HandPart():
            how, title = "on paper, for your teacher; notes can go here", "What the marks are for"
            return Manner("by hand", "on paper", how, title=title, rows=3, in_words=True)
    assert_never(part)


def lettered(variant: Variant, part: Part) -> tuple[str, ...]:
    """The options or steps that this student's sheet has letters for."""
    match part:
        case ChoicePart() | SeveralPart() | ValueChoicePart():
            return tuple(option.text for option in listed_options(variant, part))
        case MatchPart():
            return tuple(filled(option, variant) for option in lettered_options(part, variant))
        case OrderPart():
            return tuple(filled(step, variant) for step in listed_steps(part, variant))
        case (
            QuantityPart() | LimitsPart() | JudgePart() | StandardPart() | ExpressionPart() | PointsPart() | HandPart()
        ):
            return ()
    assert_never(part)


def letters_of(variant: Variant, part: Part) -> tuple[str, ...]:
    """The letters that a sheet has for the options or steps of a part."""
    match part:
        case ChoicePart() | SeveralPart() | MatchPart():
            count = len(part.options)
        case ValueChoicePart():
            count = len(values_offered(variant, part))
        case OrderPart():
            count = len(part.steps)
        case (
            QuantityPart() | LimitsPart() | JudgePart() | StandardPart() | ExpressionPart() | PointsPart() | HandPart()
        ):
            count = 0
        case _:
            assert_never(part)
    return tuple(letter_of(n) for n in range(count))


def listing(variant: Variant, part: Part) -> tuple[tuple[str, str], ...]:
    """All that the sheet lists for a part, each with its number or letter: things to be paired before their options."""
    things = numbered_things(part, variant) if isinstance(part, MatchPart) and not part.in_figure else ()
    numbers = tuple((str(n), filled(thing, variant)) for n, thing in enumerate(things, 1))
    return (*numbers, *((letter_of(n), text) for n, text in enumerate(lettered(variant, part))))


def answer_boxes(variant: Variant, part: Part) -> list[Block]:
    """The options or steps, and the places to write, steps of the working first."""
    listed = Options(listing(variant, part))
    match part:
        case QuantityPart():
            return quantity_boxes(variant, part)
        case LimitsPart():
            return [box for side in part.sides for box in quantity_boxes(variant, side)]
        case ExpressionPart():
            return [symbol_box(variant, part)]
        case JudgePart():
            return [AnswerBox(words("Answer"), choices=manner_of(part).offers)]
        case StandardPart():
            return [*size_blocks(part), AnswerBox(words("Size"), hint=part.is_)]
        case ChoicePart() | ValueChoicePart():
            return [listed, AnswerBox(words("Letter"))]
        case SeveralPart():
            return [listed, AnswerBox(words("Letters"))]
        case MatchPart():
            return [listed, AnswerBox(words("Pairs"))]
        case OrderPart():
            return [listed, AnswerBox(words("Order"))]
        case PointsPart():
            return [AnswerBox((), lines=2 * part.needed)]
        case HandPart():
            return hand_boxes(part)
    assert_never(part)


def solution_blocks(variant: Variant, part: Part, values: Mapping[str, float], figures: int = 3) -> tuple[Block, ...]:
    """The worked solution of a part. `values` holds right values in SI by key: `a`, and `a.A_s` for a line.

    KeyError when a value that the part needs is missing.
    """
    working = Working(variant, values, figures_of(part) or figures)
    match part:
        case QuantityPart():
            return working.quantity(part)
        case LimitsPart():
            return working.limits(part)
        case JudgePart():
            return working.judgement(part)
        case StandardPart():
            return working.standard(part)
        case ExpressionPart():
            return working.expression(part)
        case ChoicePart() | SeveralPart() | ValueChoicePart():
            listed = enumerate(listed_options(variant, part))
            right = Options(tuple((letter_of(i), option.text) for i, option in listed if option.right))
            return (*working.offered(part), right) if isinstance(part, ValueChoicePart) else (right,)
        case MatchPart():
            return (Options(tuple((pair, words_of_both) for pair, _, words_of_both in right_pairs(variant, part))),)
        case OrderPart():
            steps = listed_steps(part, variant)
            return (Options(tuple((letter_of(steps.index(s)), filled(s, variant)) for s in part.steps)),)
        case PointsPart():
            return points_blocks(part)
        case HandPart():
            return (Options(criteria_texts(part)),)
    assert_never(part)


def right_text(variant: Variant, part: Part, line: Line | None, figures: int = DEFAULT_FIGURES) -> str:
    """The right answer: a value with more figures than are asked, yes or no, the letters of choices, a formula.

    Empty where givens are absent.
    """
    match part:
        case QuantityPart():
            return number_text(variant, part, line, figures)
        case LimitsPart():
            both = [number_text(variant, side, None, figures) for side in part.sides]
            return " and ".join(both) if all(both) else ""
        case JudgePart():
            return judged_text(variant, part)
        case StandardPart():
            return size_text(variant, part)
        case ChoicePart() | ValueChoicePart():
            options = enumerate(listed_options(variant, part))
            return " or ".join(f"{letter_of(i)}, {option.text}" for i, option in options if option.right)
        case SeveralPart():
            options = enumerate(listed_options(variant, part))
            return "; ".join(f"{letter_of(i)}, {option.text}" for i, option in options if option.right)
        case MatchPart():
            return ", ".join(f"{pair} ({option})" for pair, option, _ in right_pairs(variant, part))
        case OrderPart():
            listed = listed_steps(part, variant)
            return " ".join(letter_of(listed.index(step)) for step in part.steps)
        case ExpressionPart():
            return in_sentence(part.answer, symbols_of(variant.question))
        case PointsPart():
            said = "; ".join(point.wordings[0] if point.wordings else point.name for point in part.points)
            return f"any {part.needed} of: {said}"
        case HandPart():
            return "; ".join(text for text, _ in part.criteria)
    assert_never(part)


def right_pairs(variant: Variant, part: MatchPart) -> tuple[tuple[str, str, str], ...]:
    """Every right pair as this student's sheet has it (`1C`), the words of its option, and those of thing and option. A
    balloon has no words, for its name is printed nowhere."""
    options, right = lettered_options(part, variant), dict(part.pairs)
    found = []
    for number, thing in enumerate(numbered_things(part, variant), 1):
        option = filled(right[thing], variant)
        both = option if part.in_figure else f"{filled(thing, variant)}: {option}"
        found.append((f"{number}{letter_of(options.index(right[thing]))}", option, both))
    return tuple(found)
