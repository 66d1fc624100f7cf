"""Edits: the right expression with one thing done wrong, as people do it, each with a weight of how plausible it is.

A given left out or used twice, half or double of a length (radius and diameter), a square lost, a ratio upside down,
sine for cosine, a sum for a difference, a factor of two or four, a number or pi left out, another given of the same
kind. Weights are our assumption (common practice, no source); `trial` shows what they are worth.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.maths.many import MEAN, series_of, takes
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, children, is_call_of_many

ONE, TWO, FOUR = Number("1"), Number("2"), Number("4")
LENGTH = Dimension((1.0, 0.0, 0.0, 0.0, 0.0, 0.0))
CONSTANTS_THAT_STAY = ("pi", "g")
POWERS = {"2": "square", "3": "cube"}
TURNED = {"sin": ("cos", "tan"), "cos": ("sin", "tan"), "tan": ("sin", "cos")}


@dataclass(frozen=True, slots=True)
class Edit:
    """An edited expression: what is done, in words that follow "if" with formulas in braces, and how plausible that is
    (weight)."""

    tree: Tree
    done: str
    weight: float


def edits(tree: Tree, dimensions: Mapping[str, Dimension], others: Sequence[str] = ()) -> tuple[Edit, ...]:
    """Every single edit of an expression, no result twice (the likeliest word for it is kept); `others` are further
    names that may stand in for one of the same dimension."""
    found: dict[Tree, Edit] = {}
    for edit in (*_inside(tree, dimensions, others), *_whole(tree)):
        if edit.tree != tree and (edit.tree not in found or found[edit.tree].weight < edit.weight):
            found[edit.tree] = edit
    return tuple(found.values())


def _whole(tree: Tree) -> Iterator[Edit]:
    yield Edit(Binary("*", TWO, tree), "the result is doubled", 0.4)
    yield Edit(Binary("/", tree, TWO), "the result is halved", 0.4)
    yield Edit(Binary("*", FOUR, tree), "the result is taken four times", 0.2)
    yield Edit(Binary("/", tree, FOUR), "a quarter of the result is taken", 0.2)


def _inside(tree: Tree, dimensions: Mapping[str, Dimension], others: Sequence[str]) -> Iterator[Edit]:
    """Edits at this node, then the edits of each child put back into this node."""
    yield from _here(tree, dimensions, others)
    below = children(tree)
    for index, child in enumerate(below):
        for edit in () if is_call_of_many(tree) else _inside(child, dimensions, others):
            yield Edit(_rebuilt(tree, (*below[:index], edit.tree, *below[index + 1 :])), edit.done, edit.weight)


def _rebuilt(tree: Tree, below: Sequence[Tree]) -> Tree:
    match tree:
        case Minus():
            return Minus(below[0])
        case Binary(op=op):
            return Binary(op, below[0], below[1])
        case Call(function=function):
            return Call(function, tuple(below))
    return tree


def _here(tree: Tree, dimensions: Mapping[str, Dimension], others: Sequence[str]) -> Iterator[Edit]:
    match tree:
        case Name(name=name):
            yield from _of_name(name, dimensions, others)
        case Binary(op="*", left=left, right=right):
            yield from _left_out(left, right)
            if _single(right):
                yield Edit(Binary("/", left, right), f"{_words(right)} divides where it should multiply", 0.7)
            if _single(left):
                yield Edit(Binary("/", right, left), f"{_words(left)} divides where it should multiply", 0.5)
        case Binary(op="/", left=left, right=right):
            yield Edit(Binary("/", right, left), f"the ratio of {_words(left)} to {_words(right)} is upside down", 1.0)
            yield Edit(Binary("*", left, right), f"{_words(right)} multiplies where it should divide", 0.7)
            if right == TWO and isinstance(left, Name):
                yield Edit(left, f"{_words(left)} stands where half of it belongs", 1.0)
            elif _single(right):
                yield Edit(left, f"{_words(right)} is left out", 1.0)
        case Binary(op="**", left=left, right=Number(text=exponent)):
            yield Edit(left, f"the {POWERS.get(exponent, 'power')} of {_words(left)} is lost", 0.9)
            yield from _other_power(left, exponent)
        case Binary(op="+", left=left, right=right):
            yield Edit(Binary("-", left, right), f"{_words(right)} is taken off where it should be added", 0.7)
            yield from _left_out(left, right)
        case Binary(op="-", left=left, right=right):
            yield Edit(Binary("+", left, right), f"{_words(right)} is added where it should be taken off", 0.7)
            yield from _left_out(left, right)
        case Call(function="sqrt", arguments=(of,)):
            yield Edit(of, f"the square root of {_words(of)} is not taken", 0.9)
        case Call(arguments=arguments) if is_call_of_many(tree):
            yield from _of_many(tree, arguments)
        case Call(function=function, arguments=(of,)) if function in TURNED:
            for turned in TURNED[function]:
                yield Edit(Call(turned, (of,)), f"{turned} is taken for {function}", 0.8)


def _of_many(tree: Call, values: tuple[Tree, ...]) -> Iterator[Edit]:
    """One reading left out, or the sum not divided."""
    columns = series_of(tree.function, values)
    rows = len(columns[0])
    if takes(tree.function, len(values) - len(columns)):
        for at in range(rows):
            kept = tuple(value for n, value in enumerate(values) if n % rows != at)
            yield Edit(Call(tree.function, kept), f"{_words(values[at])} is left out", 0.5)
    if tree.function == MEAN:
        yield Edit(Binary("*", Number(str(rows)), tree), "the sum is not divided", 0.7)


def _of_name(name: str, dimensions: Mapping[str, Dimension], others: Sequence[str]) -> Iterator[Edit]:
    here = Name(name)
    dimension = dimensions.get(name)
    if dimension == LENGTH:
        yield Edit(Binary("/", here, TWO), f"half of {_words(here)} is taken", 0.9)
        yield Edit(Binary("*", TWO, here), f"{_words(here)} is doubled", 0.9)
    if name not in CONSTANTS_THAT_STAY:
        yield Edit(Binary("**", here, TWO), f"{_words(here)} is used twice", 0.3)
    for other in others:
        if other != name and dimension is not None and dimensions.get(other) == dimension:
            yield Edit(Name(other), f"{_words(Name(other))} stands in the place of {_words(here)}", 0.6)


def _left_out(left: Tree, right: Tree) -> Iterator[Edit]:
    if _single(right):
        yield Edit(left, f"{_words(right)} is left out", 0.6 if isinstance(right, Number) else 1.0)
    if _single(left):
        yield Edit(right, f"{_words(left)} is left out", 0.6 if isinstance(left, Number) else 1.0)


def _single(tree: Tree) -> bool:
    """True of what people drop or turn over as one thing: not of a product of several."""
    return not (isinstance(tree, Binary) and tree.op in "*/")


def _other_power(base: Tree, exponent: str) -> Iterator[Edit]:
    for other in {"2": ("3",), "3": ("2", "4"), "4": ("3", "2")}.get(exponent, ()):
        yield Edit(Binary("**", base, Number(other)), f"{_words(base)} is raised to {other}", 0.4)


def _words(tree: Tree) -> str:
    """What is meant, as it stands in a sentence: a formula in braces (`{D**2 - d**2}`), or `the 4`."""
    return f"the {tree.text}" if isinstance(tree, Number) else f"{{{plain(tree)}}}"
