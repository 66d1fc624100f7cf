"""Cancelling equal factors of a product over a product: a formula made by machine then reads as a person's."""

from witnessmark.maths.syntax import Binary, Number, Tree


def cancelled(tree: Tree) -> Tree:
    """The same value with factors that stand above and below taken out; other trees come back unchanged."""
    above, below = _factors(tree)
    for factor in list(below):
        if factor in above:
            above.remove(factor)
            below.remove(factor)
    if not below:
        return _product(above)
    return Binary("/", _product(above), _product(below))


def _factors(tree: Tree) -> tuple[list[Tree], list[Tree]]:
    match tree:
        case Binary(op="*", left=left, right=right):
            (a, b), (c, d) = _factors(left), _factors(right)
            return a + c, b + d
        case Binary(op="/", left=left, right=right):
            (a, b), (c, d) = _factors(left), _factors(right)
            return a + d, b + c
    return [tree], []


def _product(factors: list[Tree]) -> Tree:
    if not factors:
        return Number("1")
    result = factors[0]
    for factor in factors[1:]:
        result = Binary("*", result, factor)
    return result
