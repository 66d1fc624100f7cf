"""A question as a fault to find: somebody's working in the student's numbers, with one wrong line, and what is right.

It is made of the question's own slips, and written as the text of a question file with the kinds of find that there
are, so that it is drawn, printed, stored and marked like any other.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_lowercase
from typing import Any

from witnessmark.files.bank.derived_text import MADE, needed_for, opened_text, read_made
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.syntax import Name, Tree, is_name, names_in, substituted
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.kinds import names_of, symbol_of
from witnessmark.questions.model.parts import QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.right_texts import symbols_of
from witnessmark.questions.working.methods import NumberPlace, dimensions, methods_at
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem

AS_FAULT, BY = " as fault", " by "
STEM, KEY_BY = "find-the-fault-", "-by-"
FIGURES = 5
TOLD = "told_{}"
EXPRESSIONS = ("answer", "value", "judge", "expression")
ASK = "One line of their working is wrong. Which one?"
ALL_RIGHT = "none of them, all lines are right"


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the working as it is told: its name, what it is, its unit, how they worked it, and whether so wrong."""

    name: str
    is_: str
    unit: str
    tree: Tree
    is_wrong: bool


def key_of_fault(text: str) -> str:
    """The key of `drain-hole as fault`, or of `drain-hole as fault by face-area`; any other text as it is."""
    question, said, slip = text.partition(AS_FAULT)
    if not said or (slip and not slip.startswith(BY)):
        return text
    return f"{STEM}{question}" + (f"{KEY_BY}{slip.removeprefix(BY).strip()}" if slip else "")


def question_set(bank: Mapping[str, DrawableQuestion], key: str) -> DrawableQuestion:
    """The question that a task sets under a key: one of the bank, or one made of it as a fault to find."""
    rest = key.removeprefix(STEM)
    found = [k for k in bank if rest == k or rest.startswith(f"{k}{KEY_BY}")]
    if key in bank or rest == key or not found:
        return bank[key]
    question = max(found, key=len)
    return as_fault(bank[question], rest.removeprefix(question).removeprefix(KEY_BY))


def as_fault(question: Question, misconception: str = "") -> DrawableQuestion:
    """The question as a fault to find, by the misconception that is chosen, or by its first slip that gives a number of
    the right kind. ProblemsFound where it has none such."""
    part, slip = _chosen(question, misconception)
    data, known = opened_text(question)
    lines = list(_working(question, part, slip))
    told = {line.name: TOLD.format(n) for n, line in enumerate(lines, 1)}
    letters = _letters(question, part)
    data["given"] = {**data.get("given", {}), **dict(_givens(lines, told))}
    data["setting"] = f"{data['setting'].rstrip()}\n\n{_told(lines, told, question)}"
    shifted = {new: _shifted(data["find"][old], letters, _named_by_letter(question)) for old, new in letters.items()}
    data["find"] = {"a": _which(lines, slip), **shifted}
    data["question"] = f"{STEM}{question.key}" + (f"{KEY_BY}{misconception}" if misconception else "")
    data["title"] = f"Find the fault: {data['title']}"
    return read_made(data, question, known)


def _chosen(question: Question, misconception: str) -> tuple[QuantityPart, Slip]:
    """The first part and slip that serve: of the misconception that is chosen, where one is."""
    known, there = dimensions(question), []
    worked = [p for p in question.quantities if not _is_read(question, p) and not _from_table(question, p)]
    for part in worked:
        alike = {m.misconceptions[0] for m in methods_at(NumberPlace(part, None, FIGURES), known)[1:] if not m.bare}
        for slip in part.slips:
            if "." not in part.key and slip.misconception in alike:
                there.append(slip.misconception)
                if misconception in ("", slip.misconception):
                    return part, slip
    expected = f"a slip of {question.key} that gives a number of the right kind"
    found = f"'{misconception}'" if misconception else "none"
    if len(worked) < len(question.quantities):
        expected += (
            ", of a part that needs nothing read from the figure (a working would tell it) and no reading of a table"
        )
    remedy = near_or_all(misconception, there) if there else "set the question itself"
    raise ProblemsFound([Problem("no-fault", Place(MADE), expected, found, remedy)])


def _is_read(question: Question, part: QuantityPart) -> bool:
    """Whether a number comes from what is read in the figure, at any remove: a working of it tells what it reads."""
    read = {given.name for given in question.givens if given.in_figure}
    letters = needed_for(question, part.key.partition(".")[0])
    needed = [p for p in question.quantities if p.key.partition(".")[0] in letters]
    return any(read & names_in(tree) for p in needed for tree in (p.answer, *(line.value for line in p.lines)))


def _from_table(question: Question, part: QuantityPart) -> bool:
    """Whether it is worked from readings of the table, at any remove: a working of a whole column is no line."""
    letters = needed_for(question, part.key.partition(".")[0])
    needed = [p for p in question.quantities if p.key.partition(".")[0] in letters]
    trees = [tree for p in needed for tree in (p.answer, *(line.value for line in p.lines))]
    return any(question.cells & names_in(tree) for tree in trees)


def _letters(question: Question, part: QuantityPart) -> dict[str, str]:
    """The new letter of each find that stays: the choice has the first, and none is a name of the question."""
    names = {given.name for given in question.givens} | {row.name for row in question.rows}
    names |= {line.name for part in question.quantities for line in part.lines}
    names |= {symbol_of(part) for part in question.quantities}
    needed = needed_for(question, part.key)
    letters = dict.fromkeys(p.key for p in question.parts if p.key in needed)
    return dict(zip(letters, (x for x in ascii_lowercase[1:] if x not in names), strict=False))


def _named_by_letter(question: Question) -> frozenset[str]:
    """The results whose symbol cannot be typed (ΔT), which expressions call by the letter of their part."""
    return frozenset(part.key for part in question.quantities if not is_name(symbol_of(part)))


def _working(question: Question, faulty: QuantityPart, slip: Slip) -> Iterator[_Line]:
    """Every line and result up to the one with the fault, as they worked it."""
    for part in question.quantities:
        if part.key.partition(".")[0] in needed_for(question, faulty.key):
            is_faulty = part.key == faulty.key
            for line in part.lines:
                wrong = is_faulty and slip.line == line.name
                yield _Line(line.name, line.is_, line.unit, slip.answer if wrong else line.value, wrong)
            wrong = is_faulty and not slip.line
            tree = slip.answer if wrong else part.answer
            yield _Line(names_of(part)[0], part.is_, part.unit, tree, wrong)


def _givens(lines: Sequence[_Line], told: Mapping[str, str]) -> Iterator[tuple[str, dict[str, Any]]]:
    """What each line came to, as givens that only the story tells."""
    before: dict[str, Tree] = {}
    for line in lines:
        value = plain(substituted(line.tree, before))
        yield told[line.name], {"unit": line.unit or "number", "value": value, "figures": FIGURES}
        before[line.name] = Name(told[line.name])


def _told(lines: Sequence[_Line], told: Mapping[str, str], question: Question) -> str:
    symbols = symbols_of(question)
    each = [
        f"line {n}, {line.is_}: {symbols.get(line.name, line.name)} = {in_sentence(line.tree, symbols)}"
        f" = {{{told[line.name]}}}"
        for n, line in enumerate(lines, 1)
    ]
    return f"Somebody at another yard worked it like this: {'; '.join(each)}."


def _which(lines: Sequence[_Line], slip: Slip) -> dict[str, Any]:
    """The choice of the wrong line; whoever finds none may hold the belief behind it."""
    options: list[dict[str, Any]] = [
        {"text": f"line {n}, {line.is_}", **({"right": True} if line.is_wrong else {})}
        for n, line in enumerate(lines, 1)
    ]  # fmt: skip
    return {"ask": ASK, "choice": [*options, {"text": ALL_RIGHT, "misconception": slip.misconception}], "marks": 1}


def _shifted(find: Mapping[str, Any], letters: Mapping[str, str], by_letter: frozenset[str]) -> dict[str, Any]:
    """A find of the question under its new letter, as are those that it carries and names."""
    carries = {"carries": [letters.get(k, k) for k in find["carries"]]} if "carries" in find else {}
    renamed = {old: letters[old] for old in by_letter if old in find.get("carries", ()) and old in letters}
    return {**(_renamed(dict(find), renamed) if renamed else find), **carries}


def _renamed(value: Any, letters: Mapping[str, str]) -> Any:
    """The same with letters changed wherever an expression stands, at any depth."""
    if isinstance(value, list):
        return [_renamed(each, letters) for each in value]
    if not isinstance(value, dict):
        return value
    name = re.compile(rf"\b({'|'.join(letters)})\b")
    return {
        key: name.sub(lambda found: letters[found[1]], text)
        if key in EXPRESSIONS and isinstance(text, str)
        else _renamed(text, letters)
        for key, text in value.items()
    }
