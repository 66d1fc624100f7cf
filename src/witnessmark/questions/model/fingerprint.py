"""The fingerprint of a question: the SHA-256 of all that shapes its variants; wording and marks do not change it."""

import hashlib
import json
from dataclasses import fields, is_dataclass, replace
from typing import Any

from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree, names_in
from witnessmark.questions.model.kinds import (
    answer_of,
    carried_by,
    division_of,
    figures_of,
    judged_by,
    limits_in,
    lines_of,
    off_of,
    right_trees,
    slips_of,
    standards_in,
    tolerance_of,
    unit_asked,
    wrong_trees,
)
from witnessmark.questions.model.parts import Part, Slip, StandardPart
from witnessmark.questions.model.question import Given, Question, RowGiven
from witnessmark.questions.model.sizes import SizeSlip

Canonical = Any  # nested lists of text, ready for JSON


def fingerprint_of(question: Question) -> str:
    """64 hexadecimal digits; the same where givens, `keep`, the rows and columns used, and all methods are the same."""
    used = _names_used(question)
    shape = [
        "witnessmark variants 1",
        [_row(question, row, used) for row in question.rows],
        [_given(given) for given in question.givens],
        [_tree(tree) for tree in question.keep],
        [_part(part) for part in question.parts],
    ]
    return hashlib.sha256(json.dumps(shape, ensure_ascii=True, separators=(",", ":")).encode()).hexdigest()


def marked_alike(question: Question) -> str:
    """The same for questions whose answers may be marked and searched together, whatever folder they came from.

    All that marking reads must be equal, since one of them stands for all: beside what shapes the variants, the marks,
    what each slip is called and keeps, accepted wordings, and what is said to the student. How the question itself is
    put (title, setting, figure, caution, the sentence of a part) may differ, so that a misprint that was mended between
    two issues does not part a class; the search for unknown methods then looks for numbers in the wording issued first.
    """
    parts = tuple(replace(part, ask="") for part in question.parts)
    put_alike = replace(
        question, title="any", topic="any", level=1, setting="", parts=parts, figure="", caution="", source=""
    )
    return hashlib.sha256(json.dumps(_whole(put_alike), ensure_ascii=True).encode()).hexdigest()


def _whole(value: object) -> Canonical:
    """A value with all that its fields hold, whatever it is shown as."""
    if is_dataclass(value):
        return [type(value).__name__, *(_whole(getattr(value, f.name)) for f in fields(value))]
    if isinstance(value, tuple | list):
        return [_whole(one) for one in value]
    if isinstance(value, dict):
        return sorted([str(key), _whole(one)] for key, one in value.items())
    return f"{type(value).__name__} {value}"


def _names_used(question: Question) -> frozenset[str]:
    trees = [*question.keep, *(g.value for g in question.givens if g.value is not None)]
    for part in question.parts:
        trees += [*right_trees(part), *wrong_trees(part)]
    return frozenset[str]().union(*(names_in(tree) for tree in trees))


def _row(question: Question, row: RowGiven, used: frozenset[str]) -> Canonical:
    table = question.tables[row.table]
    columns = sorted(column for column in table.units if f"{row.name}.{column}" in used)
    cells = [[name, *(str(table.rows[name].get(c, "")) for c in columns)] for name in row.rows or tuple(table.rows)]
    return [row.name, [[c, table.units[c]] for c in columns], cells]


def _given(given: Given) -> Canonical:
    values = [str(value) for value in given.one_of]
    rounded = [str(given.figures)] if given.figures else []
    rounded += ["division", str(given.division)] if given.division else []
    return [given.name, given.unit, values, [str(v) for v in given.span or ()], _tree(given.value), *rounded]


def _part(part: Part) -> Canonical:
    lines = [[line.name, line.unit, _tree(line.value)] for line in lines_of(part)]
    slips = [[slip.line, _tree(slip.answer)] if isinstance(slip, Slip) else ["", []] for slip in slips_of(part)]
    figures, unit = figures_of(part), unit_asked(part)
    told = "" if figures is None else str(figures)
    asked = [part.key, part.kind.value, unit, told, str(tolerance_of(part)), list(carried_by(part))]
    division = division_of(part)
    asked += [str(division.size), str(division.share)] if division else []
    asked += [f"off {off}"] if (off := off_of(part)) else []
    sides = [_part(side) for limits in limits_in([part]) for side in limits.sides]
    sizes = [_sizes(standard) for standard in standards_in([part])]
    return [asked, lines, _tree(answer_of(part)), _tree(judged_by(part)), slips, *sides, *sizes]


def _sizes(part: StandardPart) -> Canonical:
    taken = [slip.takes.value for slip in part.slips if isinstance(slip, SizeSlip)]
    return [part.choose.value, [[size.name, str(size.value)] for size in part.sizes], taken]


def _tree(tree: Tree | None) -> Canonical:
    match tree:
        case None:
            return []
        case Number(text=text):
            return text
        case Name(name=name):
            return ["name", name]
        case Minus(of=of):
            return ["minus", _tree(of)]
        case Binary(op=op, left=left, right=right) | Comparison(op=op, left=left, right=right):
            return [op, _tree(left), _tree(right)]
        case Call(function=function, arguments=arguments):
            return [function, *(_tree(a) for a in arguments)]
