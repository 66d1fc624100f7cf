"""Corrections of a question that turned out wrong after it was issued: kept beside it, and answers are marked by both.

What was issued stays as it is; `corrected` gives the question that answers are marked by. A second right method and a
part that is set aside for all are no other question: they say what becomes of the marks (`jobs/proposing.py`).
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from witnessmark.maths.syntax import Tree, parse
from witnessmark.questions.checking.accepted_slips import slip_tree, with_part
from witnessmark.questions.model.parts import Part, QuantityPart, Slip
from witnessmark.questions.model.question import Question


class Changes(StrEnum):
    """What a correction changes."""

    ANSWER = "answer"
    TOLERANCE = "tolerance"
    WORDING = "wording"
    SLIP = "slip"
    ALSO = "also right"
    FULL = "full marks for all"
    OUT = "out of the total"


ASIDE = frozenset({Changes.FULL, Changes.OUT})
"""What sets a part aside for all."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One correction of a part of a question, or of a line of it: `text` is an author's expression, a tolerance (a
    share, `0.02`), a wording, or nothing where the part is set aside; `misconception` names the slip that is meant."""

    question: str
    part: str
    changes: Changes
    text: str = ""
    line: str = ""
    misconception: str = ""

    @property
    def place(self) -> str:
        """`a`, or `a.A_s` for a line."""
        return f"{self.part}.{self.line}" if self.line else self.part


def corrected(question: Question, corrections: Iterable[Correction]) -> Question:
    """The question with the corrections that it is for, in their order; its text stays that of the one issued."""
    for one in corrections:
        part = next((p for p in question.parts if p.key == one.part), None)
        if one.question == question.key and part is not None:
            question = replace(question, parts=with_part(question, _corrected(part, one)))
    return question


def with_second_method(question: Question, correction: Correction) -> Question:
    """The question by which answers are right that follow a second method."""
    return corrected(question, [replace(correction, changes=Changes.ANSWER)])


def _corrected(part: Part, one: Correction) -> Part:
    if one.changes is Changes.WORDING:
        return replace(part, ask=one.text)
    if not isinstance(part, QuantityPart):
        return part
    match one.changes:
        case Changes.ANSWER if one.line:
            tree = parse(one.text)
            lines = tuple(replace(x, value=tree) if x.name == one.line else x for x in part.lines)
            return replace(part, lines=lines)
        case Changes.ANSWER:
            return replace(part, answer=parse(one.text))
        case Changes.TOLERANCE:
            return replace(part, tolerance=Decimal(one.text))
        case Changes.SLIP:
            tree = slip_tree(parse(one.text), part, one.line)
            return replace(part, slips=tuple(_slip(s, one, tree) for s in part.slips))
    return part


def _slip(slip: Slip, one: Correction, tree: Tree) -> Slip:
    mine = (slip.misconception, slip.line) == (one.misconception, one.line)
    return replace(slip, answer=tree) if mine else slip
