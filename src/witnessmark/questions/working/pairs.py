"""Two slips together, where they touch different places of the working."""

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.maths.cancelling import cancelled
from witnessmark.maths.dependence import names_of_ratio
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Binary, Tree, names_in
from witnessmark.questions.working.methods import Method, Step, fits_dimension


@dataclass(frozen=True, slots=True)
class _Slip:
    """A slip with the lines that it works differently (`` for the last step); where that is the last step alone, also
    with the names that have a say in what it changes."""

    method: Method
    changed: frozenset[str]
    names: frozenset[str]


def pairs_at(methods: Sequence[Method], names: Mapping[str, Dimension]) -> tuple[Method, ...]:
    """Every pair of slips of a place as one method; `methods` are those of `methods_at`, the right one first.

    Slips in two lines, or in a line and in the last step, are worked one inside the other. Two slips in the last step
    are both taken as factors of the right answer, if they change different quantities: nobody leaves out what they also
    divide by instead of multiplying. A pair that is a single method over again is left out, and one of which
    nothing is left but a number.
    """
    return tuple(pair for pair in _pairs(methods, _singles(methods)) if fits_dimension(pair, names))


def bare_pairs_at(methods: Sequence[Method], names: Mapping[str, Dimension]) -> tuple[Method, ...]:
    """Every pair of slips whose result has another dimension than is asked, as bare numbers in both working systems."""
    pairs = (pair for pair in _pairs(methods, _singles(methods)) if not fits_dimension(pair, names))
    return tuple(replace(pair, bare=True, millimetres=mm) for pair in pairs for mm in (False, True))


def _singles(methods: Sequence[Method]) -> list[Method]:
    """Every slip once, whatever its dimension: what one slip takes from it another may bring back."""
    return [replace(m, bare=False) for m in methods[1:] if not (m.bare and m.millimetres)]


def _pairs(methods: Sequence[Method], singles: Sequence[Method]) -> Iterator[Method]:
    right, known = methods[0], {m.formula for m in methods}
    for first, second in itertools.combinations([_slip(right, single) for single in singles], 2):
        if first.method.misconceptions != second.method.misconceptions:
            for pair in _pair(right, first, second):
                if pair.formula not in known and pair.uses:
                    known.add(pair.formula)
                    yield pair


def _slip(right: Method, method: Method) -> _Slip:
    changed = {a.name for a, b in zip(right.steps, method.steps, strict=True) if a.asked.tree != b.asked.tree}
    changed |= {""} if right.final.tree != method.final.tree else set()
    names = names_of_ratio(method.formula, right.formula) if changed == {""} else frozenset[str]()
    return _Slip(method, frozenset(changed), names)


def _pair(right: Method, one: _Slip, other: _Slip) -> Iterator[Method]:
    first, second = one.method, other.method
    if one.changed & other.changed:
        if one.changed == other.changed == {""} and not one.names & other.names:
            yield _as_factors(right, first, second)
        return
    steps = tuple(
        second_step if step.name in other.changed else first_step
        for step, first_step, second_step in zip(right.steps, first.steps, second.steps, strict=True)
    )
    final = second.final if "" in other.changed else first.final
    if _uses(final.tree, steps, (one.changed | other.changed) - {""}):
        yield _both(right, first, second, steps, final.tree)


def _uses(final: Tree, steps: Sequence[Step], lines: frozenset[str]) -> bool:
    """True where every changed line still has a say in the result."""
    used = set(names_in(final))
    for step in reversed(steps):
        if step.name in used:
            used |= names_in(step.asked.tree)
    return lines <= used


def _as_factors(right: Method, first: Method, second: Method) -> Method:
    product = Binary("*", first.final.tree, second.final.tree)
    tree = cancelled(Binary("/", product, right.final.tree))
    return _both(right, first, second, right.steps, tree)


def _both(right: Method, first: Method, second: Method, steps: tuple[Step, ...], tree: Tree) -> Method:
    asked = right.final
    final = asked.worked_by(tree)
    keeps = min(first.keeps, second.keeps)
    return Method(steps, final, (*first.misconceptions, *second.misconceptions), keeps)
