"""A formula as the author would type it, with the fewest brackets that read back to the very same tree."""

from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree

COMPARISON, SUM, PRODUCT, SIGN, POWER, ATOM = range(6)
BINDING = {"+": SUM, "-": SUM, "*": PRODUCT, "/": PRODUCT, "**": POWER}
SPACED = {"+", "-"}


def plain(tree: Tree) -> str:
    """The author-style text of a tree, such as `tau*pi*d**2/4`: `parse(plain(tree)) == tree`."""
    match tree:
        case Number(text=text):
            return text
        case Name(name=name):
            return name
        case Minus(of=of):
            return "-" + _held(of, SIGN)
        case Comparison(op=op, left=left, right=right):
            return f"{plain(left)} {op} {plain(right)}"
        case Call(function=function, arguments=arguments):
            return f"{function}({', '.join(plain(a) for a in arguments)})"
        case Binary(op=op, left=left, right=right):
            own = BINDING[op]
            leftmost, rightmost = (ATOM, POWER) if op == "**" else (own, own + 1)
            sign = f" {op} " if op in SPACED else op
            return _held(left, leftmost) + sign + _right(right, rightmost)
    raise TypeError(f"{tree!r} is not a tree")


def binding(tree: Tree) -> int:
    """How firmly the top of a tree holds together: COMPARISON (loosest) to ATOM."""
    match tree:
        case Binary(op=op):
            return BINDING[op]
        case Minus():
            return SIGN
        case Comparison():
            return COMPARISON
    return ATOM


def _held(tree: Tree, at_least: int) -> str:
    text = plain(tree)
    return text if binding(tree) >= at_least else f"({text})"


def _right(tree: Tree, at_least: int) -> str:
    return f"({plain(tree)})" if isinstance(tree, Minus) else _held(tree, at_least)
