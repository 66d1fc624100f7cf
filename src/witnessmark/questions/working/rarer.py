"""Rarer changes of the right method, weighed after its edits: turned over, squared, the root, three or one and a half.

Two quantities in each other's place, one more or one less of a count, the mean of two terms, half or double of what is
no length, and a line or an earlier result given as the answer. Weights are our assumption (common practice, no source);
`trial` shows what they are worth.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import (
    Binary,
    Call,
    Name,
    Number,
    Tree,
    children,
    is_call_of_many,
    names_alone,
    rebuilt,
    substituted,
)
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import Edited, in_both_systems
from witnessmark.questions.working.methods import Method
from witnessmark.questions.working.unconverted import in_place

ONE, TWO = Number("1"), Number("2")
Change = tuple[Tree, str, float]
"""The tree, what is done (after "if", formulas in braces, as in `Edit`), and how often beside the others."""
BY = (("3", "three", 0.5), ("1.5", "one and a half", 0.4))


def rarer_at(right: Method, names: Mapping[str, Dimension], question: Question) -> tuple[Edited, ...]:
    """Every rarer change of the right method, likeliest first; results of another dimension as bare numbers."""
    found: dict[Tree, Edited] = {}
    for edited in (*_in_trees(right, names, question), *_given_as_answer(right, question)):
        formula = edited.method.formula
        if formula != right.formula and (formula not in found or found[formula].weight < edited.weight):
            found[formula] = edited
    ranked = sorted(found.values(), key=lambda e: -e.weight)
    return tuple(both for edited in ranked for both in in_both_systems(edited, names))


def _in_trees(right: Method, names: Mapping[str, Dimension], question: Question) -> Iterator[Edited]:
    counts = frozenset(g.name for g in question.givens if g.unit == "")
    for index, tree in enumerate((*(s.asked.tree for s in right.steps), right.final.tree)):
        for changed, done, weight in (*_whole(tree), *_inside(tree, counts), *_swaps(tree, names)):
            yield Edited(in_place(right, index, changed), (done,), weight)


def _whole(tree: Tree) -> Iterator[Change]:
    yield Binary("/", ONE, tree), "the result is turned upside down", 1.0
    yield Binary("**", tree, TWO), "the result is squared", 0.7
    yield Call("sqrt", (tree,)), "the root of the result is taken", 0.7
    for number, words, weight in BY:
        yield Binary("*", tree, Number(number)), f"the result is taken {words} times", weight
        yield Binary("/", tree, Number(number)), f"the result is divided by {words}", weight


def _inside(tree: Tree, counts: frozenset[str]) -> Iterator[Change]:
    yield from _here(tree, counts)
    below = () if is_call_of_many(tree) else children(tree)
    for index, child in enumerate(below):
        for changed, done, weight in _inside(child, counts):
            yield rebuilt(tree, (*below[:index], changed, *below[index + 1 :])), done, weight


def _here(tree: Tree, counts: frozenset[str]) -> Iterator[Change]:
    match tree:
        case Name(name=name) if name not in CONSTANTS:
            yield Binary("*", TWO, tree), f"{{{name}}} is doubled", 0.5
            yield Binary("/", tree, TWO), f"half of {{{name}}} is taken", 0.5
            if name in counts:
                yield Binary("-", tree, ONE), f"one less than {{{name}}} is counted", 0.7
                yield Binary("+", tree, ONE), f"one more than {{{name}}} is counted", 0.7
        case Binary(op="+" | "-", left=left, right=right):
            yield (
                Binary("/", Binary("+", left, right), TWO),
                f"the mean of {{{plain(left)}}} and {{{plain(right)}}} is taken",
                0.7,
            )
            yield left, f"{{{plain(right)}}} is left out", 0.5
            yield right, f"{{{plain(left)}}} is left out", 0.5
        case Binary(op="*", left=left, right=right):
            yield left, f"{{{plain(right)}}} is left out", 0.3
            yield right, f"{{{plain(left)}}} is left out", 0.3
            yield Binary("/", left, right), f"{{{plain(right)}}} divides where it should multiply", 0.3
        case Binary(op="/", left=left, right=right):
            yield left, f"{{{plain(right)}}} is left out", 0.3


def _swaps(tree: Tree, names: Mapping[str, Dimension]) -> Iterator[Change]:
    """Two quantities in each other's place, commoner where both are of one kind."""
    used = sorted(names_alone(tree) - CONSTANTS.keys())
    for at, one in enumerate(used):
        for other in used[at + 1 :]:
            weight = 1.0 if one in names and names[one] == names.get(other) else 0.3
            swapped = substituted(tree, {one: Name(other), other: Name(one)})
            yield swapped, f"{{{one}}} and {{{other}}} stand in each other's place", weight


def _given_as_answer(right: Method, question: Question) -> Iterator[Edited]:
    """A line on the way, or the result of an earlier part, given as the answer."""
    for step in right.steps:
        yield Edited(_ends_with(right, step.name), (f"{{{step.name}}} is given as the answer",), 1.0)
    for key in _asked_at(right.final.key, question).carries:
        name = names_of(question.quantity(key))[0]
        result = f"the result of {key}" if len(key) == 1 else f"{{{name}}}"
        yield Edited(_ends_with(right, name), (f"{result} is given again",), 1.0)


def _asked_at(key: str, question: Question) -> QuantityPart:
    """The number whose result, or a line of which, has this key."""
    return next(
        part for part in question.quantities if key in (part.key, *(f"{part.key}.{line.name}" for line in part.lines))
    )


def _ends_with(right: Method, name: str) -> Method:
    return replace(right, final=replace(right.final, tree=Name(name)))
