"""Slips that a teacher accepted after a task was issued: kept beside the question as issued, and marked with it.

A question that was issued stays as it is; `with_accepted` gives the question that answers are marked by.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Tree, names_in, parse, substituted
from witnessmark.questions.drawing.likeness import likeness
from witnessmark.questions.model.kinds import names_of, quantities_in
from witnessmark.questions.model.parts import Part, QuantityPart, Slip
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.words.checks import expect_marks, expect_text

PLAIN_IN_BRACES = re.compile(r"[A-Za-z0-9(][\w.+*/() -]*")
"""What YAML takes for plain text inside braces, whatever else it takes."""


@dataclass(frozen=True, slots=True)
class AcceptedSlip:
    """A wrong method accepted for one part of a question, or for one of its lines: what a slip of a bank says, with the
    misconception whole. `answer` is an author's expression."""

    question: str
    part: str
    misconception: Misconception
    answer: str
    keeps: Decimal = Decimal(0)
    line: str = ""

    def __post_init__(self) -> None:
        expect_text("question", self.question)
        expect_text("part", self.part)
        expect_marks(f"what {self.misconception.key} keeps", self.keeps)

    @property
    def place(self) -> str:
        """`a`, or `a.A_s` for a line."""
        return f"{self.part}.{self.line}" if self.line else self.part


def with_accepted(question: Question, accepted: Iterable[AcceptedSlip]) -> Question:
    """The question with the slips that were accepted for it; its text and fingerprint stay those of the one issued.

    A version of the question that models a slip already, or has not the names that it needs, stays without it.
    """
    for slip in accepted:
        if slip.question == question.key and (made := _slip(question, slip)) is not None:
            old = question.quantity(slip.part)
            parts = with_part(question, replace(old, slips=(*old.slips, made)))
            known = {slip.misconception.key: slip.misconception} | question.misconceptions
            question = replace(question, parts=parts, misconceptions=known)
    return question


def without_accepted(question: Question, accepted: AcceptedSlip) -> Question:
    """The question without the last slip of this misconception at this place, which was accepted for it."""
    if question.key != accepted.question or not any(p.key == accepted.part for p in question.quantities):
        return question
    part = question.quantity(accepted.part)
    at = [
        n for n, s in enumerate(part.slips) if (s.misconception, s.line) == (accepted.misconception.key, accepted.line)
    ]
    slips = tuple(s for n, s in enumerate(part.slips) if n != at[-1]) if at else part.slips
    return replace(question, parts=with_part(question, replace(part, slips=slips)))


def with_part(question: Question, part: Part) -> tuple[Part, ...]:
    """The parts of a question, one of them in the place of that with its key."""
    return tuple(part if p.key == part.key else p for p in question.parts)


def _slip(question: Question, accepted: AcceptedSlip) -> Slip | None:
    part = next((p for p in question.quantities if p.key == accepted.part), None)
    if part is None or is_modelled(part, accepted):
        return None
    if accepted.line and accepted.line not in {line.name for line in part.lines}:
        return None
    tree = slip_tree(parse(accepted.answer), part, accepted.line)
    if not names_in(tree) <= names_at(question, part, accepted.line).keys():
        return None
    return Slip(accepted.misconception.key, tree, accepted.keeps, accepted.line)


def is_modelled(part: QuantityPart, accepted: AcceptedSlip) -> bool:
    """True of a part that has a slip of this misconception at this place."""
    return (accepted.misconception.key, accepted.line) in {(s.misconception, s.line) for s in part.slips}


def slip_tree(tree: Tree, part: QuantityPart, line: str) -> Tree:
    """A slip's expression as it is worked: the name of its own line or result in it stands for the right value."""
    right = next((x.value for x in part.lines if x.name == line), None) if line else part.answer
    return tree if right is None else substituted(tree, dict.fromkeys(own_names(part, line), right))


def own_names(part: QuantityPart, line: str) -> tuple[str, ...]:
    """What a slip calls the right value of its own place."""
    return (line,) if line else names_of(part)


def names_at(question: Question, part: QuantityPart, line: str = "") -> dict[str, Dimension]:
    """The names that a slip at a place may use, with their dimensions: givens, cells, constants, earlier results, the
    lines before it."""
    lines = [x.name for x in part.lines]
    before = lines[: lines.index(line)] if line else lines
    earlier = question.parts[: question.parts.index(part)]
    every = {x.name for p in question.quantities for x in p.lines} | {n for p in question.parts for n in names_of(p)}
    usable = {*before, *(n for p in quantities_in(earlier) for n in names_of(p))}
    every |= {given.name for given in question.givens if given.is_hidden}
    return {name: d for name, d in dimensions(question).items() if name in usable or name not in every}


@dataclass(frozen=True, slots=True)
class Standing:
    """How an accepted formula stands to the methods that a question has: it is the right one, or it is that of these
    misconceptions, or it has no value at all, or none of these."""

    is_right: bool = False
    misconceptions: tuple[str, ...] = ()
    has_value: bool = True


def standing_of(question: Question, accepted: AcceptedSlip, figures: int) -> Standing:
    """How a formula stands to the methods known at its place, by what it gives for variants of the question."""
    part = question.quantity(accepted.part)
    tree = slip_tree(parse(accepted.answer), part, accepted.line)
    slip = Slip(accepted.misconception.key, tree, accepted.keeps, accepted.line)
    bare = replace(part, slips=(slip,))
    known = dimensions(question)
    place = next(p for p in places(question, figures) if p.key == accepted.place)
    right, *others = methods_at(place, known)
    mine = methods_at(NumberPlace(bare, place.line, figures), known)[1:]
    if not mine:
        return Standing(is_right=True)
    alike = likeness(question)
    signatures = {alike.of(m) for m in mine} - {None}
    if not signatures:
        return Standing(has_value=False)
    if alike.of(right) in signatures:
        return Standing(is_right=True)
    same = [m for m in others if alike.of(m) in signatures or _same_formula(m, mine)]
    return Standing(misconceptions=tuple(dict.fromkeys(name for m in same for name in m.names)))


def _same_formula(method: Method, mine: Iterable[Method]) -> bool:
    return any(method.formula == other.formula for other in mine)


def entry_text(misconception: str, answer: str, keeps: Decimal, line: str = "") -> str:
    """The entry of a question file's `slips:`, in one line of YAML."""
    where = f"line: {line}, " if line else ""
    shown = answer if PLAIN_IN_BRACES.fullmatch(answer) else f"'{answer}'"
    return f"- {{misconception: {misconception}, {where}answer: {shown}, keeps: {keeps}}}"
