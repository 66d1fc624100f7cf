"""A slip that was typed on its own, checked as one of a question file is; and written into the file of its question.

Its text goes into the file as a line of its own, so that every comment stays. What would come of it is read back first.
"""

import pathlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation

from witnessmark.files.bank.cells import rows_by_column
from witnessmark.files.bank.question_text import KEY
from witnessmark.files.bank.scope import Scope
from witnessmark.files.safe.bounded import text_or_nothing
from witnessmark.files.safe.plain_text import LARGEST
from witnessmark.files.shapes.placed import Placed
from witnessmark.files.shapes.yaml_text import Path, Spot, YamlText, read_yaml
from witnessmark.maths.syntax import Comparison, names_in, parse
from witnessmark.questions.checking.accepted_slips import (
    AcceptedSlip,
    Standing,
    entry_text,
    is_modelled,
    names_at,
    own_names,
    slip_tree,
    with_part,
)
from witnessmark.questions.model.mark_steps import keeps_text, may_keep
from witnessmark.questions.model.parts import QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.words.problems import Place, Problem

FORMULA, KEEPS, NAME = "--formula", "--keeps", "MISCONCEPTION"


def read_marks(text: str) -> Decimal:
    """Marks as typed, with a point or a comma; less than none where it is no number."""
    try:
        marks = Decimal(text.strip().replace(",", "."))
    except InvalidOperation:
        return Decimal(-1)
    return marks if marks.is_finite() else Decimal(-1)


def form_problems(question: Question, slip: AcceptedSlip, keeps: str, half_marks: bool) -> tuple[Problem, ...]:
    """Every problem of what was typed for a slip of a question: its name, its formula, the marks that it keeps."""
    part = question.quantity(slip.part)
    return (*_name(slip.misconception.key), *_formula(question, part, slip), *_keeps(part, keeps, half_marks))


def _name(key: str) -> Iterator[Problem]:
    if not KEY.fullmatch(key):
        yield Problem("key-form", Place(NAME), "a key of small letters, digits and single hyphens", f"'{key}'")


def _formula(question: Question, part: QuantityPart, slip: AcceptedSlip) -> Iterator[Problem]:
    text = YamlText(FORMULA, slip.answer, slip.answer, {(): Spot(1, 1, 0, len(slip.answer))})
    placed = Placed(text)
    scope = Scope(placed, columns=rows_by_column(question))
    tree = scope.expression((), slip.answer, names_at(question, part, slip.line), own_names(part, slip.line))
    if isinstance(tree, Comparison):
        placed.add("no-comparison", (), "an expression", "a comparison with <, <=, > or >=")
    elif tree is not None and not names_in(tree):
        placed.add("no-name", (), "an expression of what the student is told", f"'{slip.answer}', a number")
    yield from placed.in_order()


def _keeps(part: QuantityPart, text: str, half_marks: bool) -> Iterator[Problem]:
    if not may_keep(read_marks(text), part.marks, half_marks):
        yield Problem("keeps", Place(KEEPS), keeps_text(part.marks, half_marks), f"'{text}'")


def meaning_problems(question: Question, slip: AcceptedSlip, standing: Standing) -> tuple[Problem, ...]:
    """What speaks against a slip that can be read: it is the right method, known already, or has no value."""
    place, shown = Place(FORMULA), f"'{slip.answer}'"
    if standing.is_right:
        return (Problem("slip-is-right", place, "a wrong expression", f"{shown}, the right one"),)
    if standing.misconceptions:
        found = f"{shown}, the slip {' and '.join(standing.misconceptions)}"
        return (Problem("slip-known", place, "a method that the question does not know yet", found),)
    if not standing.has_value:
        return (Problem("no-value", place, "an expression with a value for these numbers", f"{shown}, which has none"),)
    if is_modelled(question.quantity(slip.part), slip):
        expected, found = "each misconception once at one place", f"'{slip.misconception.key}' again"
        return (Problem("slip-twice", Place(NAME), expected, found, "choose another key"),)
    return ()


@dataclass(frozen=True, slots=True)
class Inserted:
    """The text of a question file with one more slip, and the number of its line."""

    text: str
    line: int


def with_slip(text: str, slip: AcceptedSlip) -> Inserted | None:
    """A question file's text with a line for one more slip; None where the part is not written as a block."""
    read, problems = read_yaml(text, "")
    if problems:
        return None
    at: Path = ("find", slip.part)
    slips: Path = (*at, "slips")
    entry = entry_text(slip.misconception.key, slip.answer, slip.keeps, slip.line)
    items = [read.values[(*slips, n)] for n in range(len(read.values)) if (*slips, n) in read.values]
    if items:
        first = items[0]
        before = read.text[: first.start].rpartition("\n")[2]
        if not re.fullmatch(r" *- +", before):
            return None
        return _inserted(read.text, _end(read, (*slips, len(items) - 1)), f"{before.partition('-')[0]}{entry}")
    keys = [spot for path, spot in read.keys.items() if path[:-1] == at]
    if slips in read.keys or not keys or read.text[: keys[0].start].rpartition("\n")[2].strip():
        return None
    inset = " " * (keys[0].column - 1)
    return _inserted(read.text, _end(read, at), f"{inset}slips:", f"{inset}  {entry}")


def _end(read: YamlText, at: Path) -> int:
    """Where the last text written at a path or below it ends."""
    spots = [spot for path, spot in read.values.items() if path[: len(at)] == at]
    return max(spot.start + len(read.text[spot.start : spot.end].rstrip()) for spot in spots)


def _inserted(text: str, after: int, *lines: str) -> Inserted:
    """The text with lines after the one that `after` lies in."""
    newline = "\r\n" if "\r\n" in text else "\n"
    end = text.find("\n", max(after - 1, 0))
    head, tail = (f"{text}{newline}", "") if end < 0 else (text[: end + 1], text[end + 1 :])
    return Inserted(head + "".join(line + newline for line in lines) + tail, head.count("\n") + len(lines))


def adds_only(before: Question, after: Question | None, slip: AcceptedSlip) -> bool:
    """True where a question is another with just this slip more, the last of its part."""
    part = next((p for p in after.quantities if p.key == slip.part), None) if after is not None else None
    if after is None or part is None or not part.slips:
        return False
    made = Slip(slip.misconception.key, slip_tree(parse(slip.answer), part, slip.line), slip.keeps, slip.line)
    parts = with_part(after, replace(part, slips=part.slips[:-1]))
    rest = replace(
        after, parts=parts, fingerprint=before.fingerprint, source=before.source, misconceptions=before.misconceptions
    )
    return part.slips[-1] == made and rest == before


def question_file(bank: pathlib.Path, key: str) -> pathlib.Path | None:
    """The file of a bank that says it is this question; None where there is none."""
    same = re.compile(rf"(?m)^question:[ ]*[\"']?{re.escape(key)}[\"']?[ ]*(#.*)?\r?$")
    for file in sorted(bank.rglob("*.yaml")):
        if same.search(text_or_nothing(file, LARGEST)):
            return file
    return None
