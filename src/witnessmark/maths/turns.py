"""Degrees and radians in a formula: where 180 stands over pi, or pi over 180, nobody takes a rounded pi."""

import math
from collections.abc import Iterator

from witnessmark.maths.syntax import Binary, Name, Number, Tree, children, rebuilt, substituted

HALF_TURN = 180.0  # degrees
PI_IN_FULL: dict[str, Tree] = {"pi": Number(repr(math.pi))}


def with_turns_in_full(tree: Tree) -> Tree:
    """The formula with pi in full wherever it turns degrees into radians or back: a calculator does that by a key."""
    if isinstance(tree, Binary) and tree.op in ("*", "/"):
        factors = list(_factors(tree, 1))
        sides = {side for factor, side in factors if isinstance(factor, Number) and factor.value == HALF_TURN}
        if any(-side in sides for factor, side in factors if factor == Name("pi")):
            tree = substituted(tree, PI_IN_FULL)
    return rebuilt(tree, tuple(map(with_turns_in_full, children(tree))))


def _factors(tree: Tree, side: int) -> Iterator[tuple[Tree, int]]:
    """Each factor of a product, with 1 above the line and -1 below it."""
    if isinstance(tree, Binary) and tree.op in ("*", "/"):
        yield from _factors(tree.left, side)
        yield from _factors(tree.right, side if tree.op == "*" else -side)
    else:
        yield tree, side
