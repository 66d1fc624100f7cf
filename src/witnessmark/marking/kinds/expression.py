"""Marking formulae: equal by algebra to what the question asks, or to what a slip of it gives.

An ambiguous entry counts in its kindest reading. Lines and earlier results in it are written out in givens before
anything is compared; a formula that is right by them alone is shown to the teacher. A number in the declared spread of
a constant (9.8 for g) stands for that constant.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from witnessmark.marking.hypotheses.wording import WILL_LOOK, symbols_of
from witnessmark.marking.kinds.without_numbers import REPAIRED, TWO_WAYS, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.maths.formulas import Same, constant_ratio, equal
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.syntax import Name, Number, Tree, children, is_name, names_in, rebuilt, substituted, walk
from witnessmark.questions.checking.remarks import formulas_of
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import quantities_in, symbol_of
from witnessmark.questions.model.parts import ExpressionPart, Part, Slip
from witnessmark.questions.model.question import Question
from witnessmark.reading.formula.entry import FormulaReading, read_formula
from witnessmark.reading.result import Certainty

BY_RESULTS = "it is right where earlier results stand for how they are worked"
Spellings = Mapping[str, Collection[str]]


@dataclass(frozen=True, slots=True)
class AskedFormula:
    """A formula that is asked: its letters, those of earlier results, and what is right or a slip, in givens alone."""

    part: ExpressionPart
    symbols: dict[str, str]
    givens: Spellings
    results: Spellings
    expansions: dict[str, Tree]
    right: Tree
    slips: tuple[tuple[Slip, Tree], ...]


def asked_formula(question: Question, part: ExpressionPart) -> AskedFormula:
    """What marking a part of a question needs to know."""
    known = expansions(question)
    slips = tuple((slip, substituted(slip.answer, known)) for slip in part.slips)
    right = substituted(part.answer, known)
    cells = names_in(right).union(*(names_in(tree) for _, tree in slips))
    letters = {**symbols_of(question), **{s: s for p in question.parts if (s := symbol_of(p))}}
    return AskedFormula(part, letters, spellings(question, cells), results_before(question, part), known, right, slips)


def expansions(question: Question) -> dict[str, Tree]:
    """Every line, result and worked-out given, by name, written in drawn givens, table cells and constants."""
    computed: dict[str, Tree] = {}
    for given in question.givens:
        if given.value is not None:
            computed[given.name] = substituted(given.value, computed)
    return computed | {name: substituted(tree, computed) for name, tree in formulas_of(question).items()}


def spellings(question: Question, cells: Collection[str]) -> Spellings:
    """How each given and constant may be typed, by symbol and by name, and each of these cells by its column, where
    none of the others is typed so."""
    found: dict[str, Collection[str]] = {g.name: (g.symbol, g.name) for g in question.givens}
    found |= {name: (constant.symbol, name) for name, constant in CONSTANTS.items()}
    own = {text for texts in found.values() for text in texts}
    for cell in cells:
        column = cell.partition(".")[2]
        if column and sum(other.endswith(f".{column}") for other in cells) == 1:
            found[cell] = tuple(text for text in (column.replace("_", " "), column) if text not in own)
    return found


def results_before(question: Question, part: Part) -> Spellings:
    """How the lines and results of earlier parts may be typed."""
    found: dict[str, Collection[str]] = {}
    for earlier in quantities_in(question.parts[: question.parts.index(part)]):
        found |= {line.name: (line.symbol, line.name) for line in earlier.lines}
        if is_name(earlier.symbol):
            found[earlier.symbol] = (earlier.symbol,)
    return found


def mark_expression(asked: AskedFormula, text: str) -> Outcome:
    """The outcome of one typed formula."""
    reading = read(asked, text)
    if reading.certainty is Certainty.BLANK:
        return blank(asked.part, text)
    if not reading.trees:
        return unreadable(asked.part, text, reason_of(reading))
    verdicts = [_verdict(asked, tree) for tree in reading.trees]
    best = max(range(len(verdicts)), key=lambda i: (verdicts[i].marks, -i))
    return _outcome(asked, text, reading, verdicts, best)


def read(asked: AskedFormula, text: str) -> FormulaReading:
    """The reading of a formula; the letter of an earlier result may stand for what is asked (`R = ...`)."""
    own = [asked.part.symbol] if asked.part.symbol else []
    reading = read_formula(text, {**asked.results, **asked.givens}, own)
    if reading.trees or reading.certainty is Certainty.BLANK:
        return reading
    again = read_formula(text, asked.givens, [*own, *asked.results])
    return again if again.trees else reading


def reason_of(reading: FormulaReading) -> str:
    """Why a formula was not read, and where."""
    return f"{reading.reason}, at character {reading.stopped_at}" if reading.stopped_at else reading.reason


@dataclass(frozen=True, slots=True)
class _Found:
    """What one reading of a formula turned out to be."""

    verdict: Verdict
    marks: Decimal
    misconceptions: tuple[str, ...] = ()
    repairs: tuple[str, ...] = ()
    remark: str = ""


def _verdict(asked: AskedFormula, tree: Tree) -> _Found:
    found = _of_tree(asked, tree)
    if found.verdict is Verdict.RIGHT and names_in(tree) & asked.results.keys():
        return _Found(Verdict.UNEXPLAINED, Decimal(0), remark=BY_RESULTS)
    return found


def _of_tree(asked: AskedFormula, tree: Tree) -> _Found:
    written_out = substituted(tree, asked.expansions)
    named, repairs = with_constants(written_out, names_in(asked.right))
    first = _compared(asked, written_out)
    if first.verdict is Verdict.UNEXPLAINED and repairs:
        second = _compared(asked, named)
        return _Found(second.verdict, second.marks, second.misconceptions, repairs, second.remark)
    return first


def _compared(asked: AskedFormula, tree: Tree) -> _Found:
    if _same(tree, asked.right):
        return _Found(Verdict.RIGHT, asked.part.marks)
    slips = [slip for slip, wrong in asked.slips if _same(tree, wrong)]
    if slips:
        who = tuple(dict.fromkeys(slip.misconception for slip in slips))
        return _Found(Verdict.SLIP, max(slip.keeps for slip in slips), who)
    return _Found(Verdict.UNEXPLAINED, Decimal(0), remark=_remark(tree, asked.right))


@lru_cache(maxsize=4_096)
def _same(one: Tree, other: Tree) -> bool:
    return equal(one, other).same is Same.YES


def _remark(tree: Tree, right: Tree) -> str:
    ratio = constant_ratio(tree, right)
    return f"it is the right formula times {in_sentence(ratio)}" if ratio is not None else ""


def with_constants(tree: Tree, used: frozenset[str]) -> tuple[Tree, tuple[str, ...]]:
    """The tree with numbers that stand for a constant of the right formula replaced by it, and what was replaced."""
    free = used - names_in(tree)
    meant = {t: _constant_meant(t, free) for t in walk(tree) if isinstance(t, Number)}
    found = {number: name for number, name in meant.items() if name}
    repairs = tuple(f"{number.text} was read as {CONSTANTS[name].symbol}" for number, name in found.items())
    return _replaced(tree, found), repairs


def _constant_meant(number: Number, free: frozenset[str]) -> str:
    """The constant whose declared spread the number lies in, or nothing."""
    spread = (c.name for c in CONSTANTS.values() if c.name in free and c.low <= number.value <= c.high)
    return next(spread, "")


def _replaced(tree: Tree, by: Mapping[Number, str]) -> Tree:
    if isinstance(tree, Number):
        return Name(by[tree]) if tree in by else tree
    return rebuilt(tree, tuple(_replaced(child, by) for child in children(tree)))


def _outcome(asked: AskedFormula, text: str, reading: FormulaReading, verdicts: list[_Found], best: int) -> Outcome:
    found, part = verdicts[best], asked.part
    shown = in_sentence(reading.trees[best], asked.symbols)
    tray: list[str] = []
    if found.verdict is Verdict.UNEXPLAINED:
        tray.append("no known method gives this formula" + (f"; {found.remark}" if found.remark else ""))
    elif len({v.marks for v in verdicts}) > 1:
        tray.append(TWO_WAYS)
    if reading.certainty is Certainty.REPAIRED and found.verdict is not Verdict.RIGHT:
        tray.append(REPAIRED)
    return Outcome(
        found.marks, part.marks, found.verdict, _sentence(asked, found, shown), found.misconceptions,
        0.0 if found.verdict is Verdict.UNEXPLAINED else 1.0, raw=text, read_as=shown,
        repairs=(*map(str, reading.repairs), *found.repairs), notes=reading.notes, in_tray=tuple(tray),
    )  # fmt: skip


def _sentence(asked: AskedFormula, found: _Found, shown: str) -> str:
    what = f"the {asked.part.is_}" if asked.part.is_ else "what is asked"
    if found.verdict is Verdict.RIGHT:
        return f"Right: {shown} is {what}."
    return f"{shown} is not {what}; {WILL_LOOK}." if found.verdict is Verdict.UNEXPLAINED else f"{shown} is not {what}."
