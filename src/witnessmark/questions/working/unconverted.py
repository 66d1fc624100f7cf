"""The right method with one unit left as it is: a given put in by its bare number, or a calculator in another angle."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from witnessmark.maths.printing.units import unit_words
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Binary, Call, Name, Number, Tree, children, names_alone, rebuilt
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.methods import Method

TURNING, TURNED = ("sin", "cos", "tan"), ("asin", "acos", "atan")
# How often beside each other, within the two groups (common practice, no source).
AS_IT_IS, OTHER_MULTIPLE, IN_RADIANS, IN_GON = 1.0, 0.5, 1.0, 0.3
# Of those who leave a unit as it is: in how many it is a multiple of the one wanted, and in how many another unit.
MULTIPLES, OTHER_UNITS = 1 / 3, 2 / 3
_WHOLE_POWER = 1e-9


def unconverted_at(right: Method, units: Mapping[str, str]) -> tuple[Edited, ...]:
    """Every way of leaving one unit as it is, each with its share of those who do; `units` are those of givens and
    cells. Words follow "but", formulas in braces."""
    tens = {name: unit_name for name, unit_name in units.items() if _is_ten(unit(unit_name).scale)}
    others = {name: unit_name for name, unit_name in units.items() if name not in tens}
    return (
        *_shared(OTHER_UNITS, [*_angles(right), *_givens(right, others)]),
        *_shared(MULTIPLES, list(_givens(right, tens))),
    )


def _shared(share: float, group: Sequence[Edited]) -> Iterator[Edited]:
    total = sum(e.weight for e in group)
    return (replace(e, weight=share * e.weight / total) for e in group)


def _is_ten(scale: float) -> bool:
    tens = math.log10(abs(scale))
    return abs(tens - round(tens)) < _WHOLE_POWER


def _givens(right: Method, units: Mapping[str, str]) -> Iterator[Edited]:
    used = right.uses & frozenset().union(*map(names_alone, _trees(right)))
    for name, unit_name in units.items():
        u = unit(unit_name)
        if name not in used or not unit_name or unit_name == "percent" or u.offset:
            continue
        words = unit_words(unit_name)
        if u.scale != 1:
            done = f"the number of {{{name}}} was put in as it is, in {words}"
            yield Edited(_with(right, name, u.scale), (done,), AS_IT_IS)
        if u.dimension == unit("m").dimension:
            other, said = (1000.0, "millimetres") if u.scale == 1 else (u.scale / 0.01, "centimetres")
            if other != 1 and _is_ten(other):
                done = f"the number of {{{name}}}, in {words}, was taken for {said}"
                yield Edited(_with(right, name, other), (done,), OTHER_MULTIPLE)


def _with(method: Method, name: str, divisor: float) -> Method:
    """The method with one given divided wherever it stands."""
    return method.with_instead({name: Binary("/", Name(name), Number(repr(divisor)))})


def _angles(right: Method) -> Iterator[Edited]:
    for per_radian, word, weight in ((math.pi / 180, "radians", IN_RADIANS), (200 / 180, "gon", IN_GON)):
        done = f"the calculator was set to {word}"
        for index, tree in enumerate(_trees(right)):
            calls = _calls(tree)
            changed = [_turned(tree, {call}, per_radian) for call in calls]
            if len(calls) > 1:
                changed.append(_turned(tree, set(calls), per_radian))
            yield from (Edited(in_place(right, index, other), (done,), weight) for other in changed)
        if sum(bool(_calls(tree)) for tree in _trees(right)) > 1:
            yield Edited(_all_turned(right, per_radian), (done,), weight)


def _all_turned(right: Method, per_unit: float) -> Method:
    """The method with every angle of every line in another unit."""
    for index, tree in enumerate(_trees(right)):
        right = in_place(right, index, _turned(tree, set(_calls(tree)), per_unit))
    return right


def _trees(right: Method) -> tuple[Tree, ...]:
    return (*(step.asked.tree for step in right.steps), right.final.tree)


def in_place(right: Method, index: int, tree: Tree) -> Method:
    """The method with this tree as its line of that index; as its last step where the index is that of no line."""
    if index == len(right.steps):
        return replace(right, final=replace(right.final, tree=tree))
    step = right.steps[index]
    changed = replace(step, asked=replace(step.asked, tree=tree))
    return replace(right, steps=(*right.steps[:index], changed, *right.steps[index + 1 :]))


def _calls(tree: Tree) -> list[Tree]:
    found = [call for child in children(tree) for call in _calls(child)]
    if isinstance(tree, Call) and tree.function in TURNING + TURNED:
        found.append(tree)
    return list(dict.fromkeys(found))


def _turned(tree: Tree, calls: set[Tree], per_unit: float) -> Tree:
    """The tree with the angles of some calls in another unit, of which there are 180/pi * `per_unit` in a radian.

    An angle of x degrees goes in as x of the other unit; what comes out in that unit is read as degrees.
    """
    below = tuple(_turned(child, calls, per_unit) for child in children(tree))
    made = rebuilt(tree, below)
    if tree not in calls or not isinstance(made, Call):
        return made
    factor = Number(repr(per_unit))
    if made.function in TURNING:
        return Call(made.function, (Binary("/", made.arguments[0], factor),))
    return Binary("*", made, factor)
