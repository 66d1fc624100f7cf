"""A correction as a teacher types it, checked as the same line of a question file is."""

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from witnessmark.files.bank.cells import rows_by_column
from witnessmark.files.bank.scope import Scope
from witnessmark.files.shapes.placed import Placed
from witnessmark.files.shapes.yaml_text import Spot, YamlText
from witnessmark.maths.syntax import Comparison
from witnessmark.questions.checking.accepted_slips import names_at, own_names
from witnessmark.questions.checking.corrections import Changes, Correction
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.words.problems import Place, Problem

OPTION = {
    Changes.ANSWER: "--answer", Changes.TOLERANCE: "--tolerance", Changes.WORDING: "--wording",
    Changes.SLIP: "--formula", Changes.ALSO: "--also",
}  # fmt: skip
NUMBERS = frozenset({Changes.ANSWER, Changes.TOLERANCE, Changes.SLIP, Changes.ALSO})


def tolerance_share(text: str) -> str:
    """The share that a tolerance such as `2 %` is, as text; what is no number where it is none."""
    number, percent, rest = text.replace(",", ".").partition("%")
    try:
        share = Decimal(number.strip()) / 100
    except InvalidOperation:
        return text
    if not percent:
        return f"{text} without %"
    return f"{share.normalize():f}" if not rest.strip() and share.is_finite() and 0 <= share < 1 else text


def correction_problems(question: Question, correction: Correction) -> tuple[Problem, ...]:
    """Every problem of a correction of a question."""
    if correction.changes not in NUMBERS:
        if correction.changes is Changes.WORDING and not correction.text.strip():
            return (Problem("no-wording", Place(OPTION[Changes.WORDING]), "what is asked, in words", "nothing"),)
        return ()
    part = question.part(correction.part)
    if not isinstance(part, QuantityPart):
        expected, found = "an answer that is a number with a unit", f"a {part.kind}"
        return (Problem("not-a-quantity", Place("ANSWER"), expected, found, "set it aside with --full or --out"),)
    if correction.changes is Changes.TOLERANCE:
        return tuple(_tolerance(correction))
    slip = tuple(_slip(part, correction)) if correction.changes is Changes.SLIP else ()
    return (*slip, *_expression(question, part, correction))


def _tolerance(correction: Correction) -> Iterator[Problem]:
    try:
        Decimal(correction.text)
    except InvalidOperation:
        place, found = Place(OPTION[Changes.TOLERANCE]), f"'{correction.text}'"
        yield Problem("tolerance", place, "a percentage from 0 % and below 100 %", found, "type it like '2 %'")


def _slip(part: QuantityPart, correction: Correction) -> Iterator[Problem]:
    there = [slip.misconception for slip in part.slips if slip.line == correction.line]
    if correction.misconception not in there:
        expected = f"a slip of this answer: {', '.join(there) or 'it has none'}"
        yield Problem("no-slip", Place("--slip"), expected, f"'{correction.misconception}'")


def _expression(question: Question, part: QuantityPart, correction: Correction) -> Iterator[Problem]:
    option, text, line = OPTION[correction.changes], correction.text, correction.line
    placed = Placed(YamlText(option, text, text, {(): Spot(1, 1, 0, len(text))}))
    scope, names = Scope(placed, columns=rows_by_column(question)), names_at(question, part, line)
    own = own_names(part, line) if correction.changes is Changes.SLIP else ()
    tree = scope.expression((), text, names, own)
    if isinstance(tree, Comparison):
        placed.add("no-comparison", (), "an expression", "a comparison with <, <=, > or >=")
    elif tree is not None and correction.changes is not Changes.SLIP:
        asked = next((x.unit for x in part.lines if x.name == line), part.unit) if line else part.unit
        scope.has_unit((), tree, names, asked, "the answer")
    yield from placed.in_order()
