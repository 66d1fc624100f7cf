"""What code that serves every kind of find asks of one. The one module of `questions/` that tells kinds apart."""

from collections.abc import Iterable
from decimal import Decimal
from typing import assert_never

from witnessmark.maths.syntax import Comparison, Tree, is_name
from witnessmark.questions.model.division import Division
from witnessmark.questions.model.parts import (
    AnySlip,
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
    Slip,
    StandardPart,
    ValueChoicePart,
)


def results_of(part: Part) -> tuple[QuantityPart, ...]:
    """The numbers with a unit that it asks: itself, both of two limits, or none."""
    if isinstance(part, LimitsPart):
        return part.sides
    return (part,) if isinstance(part, QuantityPart) else ()


def quantities_in(parts: Iterable[Part]) -> tuple[QuantityPart, ...]:
    """The numbers with a unit that they ask: worked by lines, carried on, marked by digits."""
    return tuple(result for part in parts for result in results_of(part))


def limits_in(parts: Iterable[Part]) -> tuple[LimitsPart, ...]:
    """Those that ask two numbers in either order."""
    return tuple(part for part in parts if isinstance(part, LimitsPart))


def standards_in(parts: Iterable[Part]) -> tuple[StandardPart, ...]:
    """Those that choose a size of a table."""
    return tuple(part for part in parts if isinstance(part, StandardPart))


def value_choices_in(parts: Iterable[Part]) -> tuple[ValueChoicePart, ...]:
    """Those that offer values, which must stay apart on the sheet."""
    return tuple(part for part in parts if isinstance(part, ValueChoicePart))


def balloons_in(parts: Iterable[Part]) -> tuple[MatchPart, ...]:
    """Those whose things are the numbered balloons of the figure."""
    return tuple(part for part in parts if isinstance(part, MatchPart) and part.in_figure)


def expressions_in(parts: Iterable[Part]) -> tuple[ExpressionPart, ...]:
    """Those that ask for a formula."""
    return tuple(part for part in parts if isinstance(part, ExpressionPart))


def lines_of(part: Part) -> tuple[Line, ...]:
    """The lines of its working that are places for an answer."""
    match part:
        case QuantityPart():
            return part.lines
        case (
            LimitsPart()
            | JudgePart()
            | StandardPart()
            | ChoicePart()
            | ValueChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return ()
    assert_never(part)


def carried_by(part: Part) -> tuple[str, ...]:
    """The letters of the earlier parts whose results it uses."""
    match part:
        case LimitsPart():
            return tuple(dict.fromkeys(key.partition(".")[0] for side in part.sides for key in side.carries))
        case QuantityPart() | JudgePart() | StandardPart():
            return tuple(dict.fromkeys(key.partition(".")[0] for key in part.carries))
        case (
            ChoicePart()
            | ValueChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return ()
    assert_never(part)


def answer_of(part: Part) -> Tree | None:
    """The expression that is worked, or asked for; None where there is none."""
    match part:
        case QuantityPart() | ValueChoicePart() | ExpressionPart():
            return part.answer
        case StandardPart():
            return part.value
        case (
            LimitsPart()
            | JudgePart()
            | ChoicePart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return None
    assert_never(part)


def right_trees(part: Part) -> tuple[Tree, ...]:
    """Every expression of what is right: of its lines, its answer or its judgement."""
    match part:
        case LimitsPart():
            return part.largest.answer, part.smallest.answer
        case QuantityPart():
            return (*(line.value for line in part.lines), part.answer)
        case ValueChoicePart() | ExpressionPart():
            return (part.answer,)
        case StandardPart():
            return (part.value,)
        case JudgePart():
            return (part.judge,)
        case ChoicePart() | SeveralPart() | MatchPart() | OrderPart() | PointsPart() | HandPart():
            return ()
    assert_never(part)


def slips_of(part: Part) -> tuple[AnySlip, ...]:
    """Its modelled wrong answers, but for the options that a question words."""
    match part:
        case LimitsPart():
            return (*part.largest.slips, *part.smallest.slips)
        case (
            QuantityPart()
            | JudgePart()
            | StandardPart()
            | ValueChoicePart()
            | SeveralPart()
            | MatchPart()
            | ExpressionPart()
            | OrderPart()
        ):
            return part.slips
        case ChoicePart() | PointsPart() | HandPart():
            return ()
    assert_never(part)


def wrong_trees(part: Part) -> tuple[Tree, ...]:
    """The expression of every slip that has one."""
    return tuple(slip.answer for slip in slips_of(part) if isinstance(slip, Slip))


def shown_by(part: Part) -> tuple[str, ...]:
    """The misconception of every slip and option, `` for an option that shows none."""
    match part:
        case LimitsPart():
            return tuple(dict.fromkeys(slip.misconception for side in part.sides for slip in side.slips))
        case ChoicePart():
            return tuple(option.misconception for option in part.options)
        case SeveralPart():
            return (*(o.misconception for o in part.options), *(slip.misconception for slip in part.slips))
        case (
            QuantityPart()
            | JudgePart()
            | StandardPart()
            | ValueChoicePart()
            | MatchPart()
            | ExpressionPart()
            | OrderPart()
        ):
            return tuple(slip.misconception for slip in part.slips)
        case PointsPart() | HandPart():
            return ()
    assert_never(part)


def meaning_of(part: Part) -> str:
    """What is asked, in a few words (`punching force`); `` where the question has none."""
    match part:
        case LimitsPart():
            return f"{part.largest.is_} and {part.smallest.is_}"
        case QuantityPart() | StandardPart() | ValueChoicePart() | ExpressionPart():
            return part.is_
        case JudgePart() | ChoicePart() | SeveralPart() | MatchPart() | OrderPart() | PointsPart() | HandPart():
            return ""
    assert_never(part)


def symbol_of(part: Part) -> str:
    """The letter of what is asked; `` where it has none."""
    match part:
        case QuantityPart() | ExpressionPart():
            return part.symbol
        case (
            LimitsPart()
            | JudgePart()
            | StandardPart()
            | ChoicePart()
            | ValueChoicePart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return ""
    assert_never(part)


def unit_asked(part: Part) -> str:
    """The unit that is proposed for the answer, `` where there is none or the answer is a pure number."""
    match part:
        case LimitsPart():
            return part.largest.unit
        case QuantityPart() | StandardPart() | ValueChoicePart() | ExpressionPart():
            return part.unit
        case JudgePart() | ChoicePart() | SeveralPart() | MatchPart() | OrderPart() | PointsPart() | HandPart():
            return ""
    assert_never(part)


def tolerance_of(part: Part) -> Decimal:
    """The share of the right value that is allowed beside rounding."""
    match part:
        case LimitsPart():
            return part.largest.tolerance
        case QuantityPart():
            return part.tolerance
        case (
            JudgePart()
            | StandardPart()
            | ChoicePart()
            | ValueChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return Decimal(0)
    assert_never(part)


def off_of(part: Part) -> Decimal:
    """The amount, in its unit, that it may be off beside rounding."""
    one = part.largest if isinstance(part, LimitsPart) else part
    return one.off if isinstance(one, QuantityPart) else Decimal(0)


def division_of(part: Part) -> Division | None:
    """The division of the scale that it is read from; None for what is worked out."""
    return part.division if isinstance(part, QuantityPart) else None


def judged_by(part: Part) -> Comparison | None:
    """The comparison that is judged; None where none is."""
    match part:
        case JudgePart():
            return part.judge
        case (
            LimitsPart()
            | QuantityPart()
            | StandardPart()
            | ChoicePart()
            | ValueChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return None
    assert_never(part)


def names_of(part: Part) -> tuple[str, ...]:
    """The names by which later expressions call its result: its symbol where that can be typed, else its key; both
    symbols of two limits."""
    return (
        tuple(result.symbol for result in part.sides)
        if isinstance(part, LimitsPart)
        else result_names(part.key, symbol_of(part))
    )


def result_names(key: str, symbol: str) -> tuple[str, ...]:
    """The same for the result of a part with this letter and symbol."""
    return (symbol,) if is_name(symbol) else (key,)


def figures_of(part: Part) -> int | None:
    """The significant figures that it asks for itself; None where those of the task hold."""
    match part:
        case LimitsPart():
            return part.largest.figures
        case QuantityPart() | ValueChoicePart():
            return part.figures
        case (
            JudgePart()
            | StandardPart()
            | ChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return None
    assert_never(part)


def shows_numbers(part: Part) -> bool:
    """True where a number is asked or offered, so that each student should have numbers of their own."""
    match part:
        case QuantityPart() | LimitsPart() | StandardPart() | ValueChoicePart():
            return True
        case (
            JudgePart()
            | ChoicePart()
            | ExpressionPart()
            | SeveralPart()
            | MatchPart()
            | OrderPart()
            | PointsPart()
            | HandPart()
        ):
            return False
    assert_never(part)


def has_letters(part: Part) -> bool:
    """True where the answer is letters whose meaning may hang on the student's own numbers."""
    match part:
        case ChoicePart() | ValueChoicePart() | SeveralPart() | MatchPart() | OrderPart():
            return True
        case (
            LimitsPart() | QuantityPart() | JudgePart() | StandardPart() | ExpressionPart() | PointsPart() | HandPart()
        ):
            return False
    assert_never(part)
