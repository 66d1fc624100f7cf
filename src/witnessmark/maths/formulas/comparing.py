"""Whether two expressions are one formula, or one a fixed multiple of the other."""

from dataclasses import dataclass
from enum import StrEnum

import sympy as sp

from witnessmark.maths.formulas.symbolic import OutOfReach, symbolic, tree_of
from witnessmark.maths.formulas.zero import expanded_fraction, proved_zero, told_apart
from witnessmark.maths.precise import Point, common_points
from witnessmark.maths.syntax import Call, Name, Tree, walk

MOST_PIECES = 400
FEWEST_POINTS = 4
MOST_SHORT_TERMS = 60
PIECEWISE = {"abs", "min", "max", "atan2", "round_up", "round_down"}
EDGELESS = {sp.exp, sp.sin, sp.cos, sp.tan, sp.atan}


class Same(StrEnum):
    """Whether two expressions are one formula."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Equality:
    """Whether two expressions are one formula, and a sentence that says how that is known."""

    same: Same
    reason: str


def equal(first: Tree, second: Tree) -> Equality:
    """Whether two expressions are one formula for all positive values of their names.

    NO needs a point where they differ, YES needs a proof; both defined at too few points, or the same number at every
    point and no proof within the bounds, is UNKNOWN.
    """
    if first == second:
        return Equality(Same.YES, "they are the same expression")
    if _pieces(first) + _pieces(second) > MOST_PIECES:
        return Equality(Same.UNKNOWN, f"together they have more than {MOST_PIECES} pieces")
    agreed = 0
    for point in common_points(first, second):
        if point.differs:
            return Equality(Same.NO, _difference(point))
        agreed += point.agrees
    if agreed < FEWEST_POINTS:
        return Equality(Same.UNKNOWN, f"both have a value at only {agreed} of the points that were tried")
    if _proved(first, second):
        return Equality(Same.YES, "algebra turns one into the other")
    return Equality(Same.UNKNOWN, f"they are the same number at {agreed} points, but no proof was found")


def proportional(first: Tree, second: Tree) -> float | None:
    """The ratio `first / second` when it is one number for all values of the names, otherwise None.

    Decided at points with 50 figures; where `abs`, `min`, `max` or `atan2` occur an exact ratio must be found as well.
    """
    if _pieces(first) + _pieces(second) > MOST_PIECES:
        return None
    ratio = _common_ratio(first, second)
    if ratio is None or (_is_piecewise(first, second) and constant_ratio(first, second) is None):
        return None
    return ratio


def constant_ratio(first: Tree, second: Tree) -> Tree | None:
    """The exact number `first / second` as an expression without names but pi (`pi/4`, `2`), None when it varies."""
    if _pieces(first) + _pieces(second) > MOST_PIECES or _common_ratio(first, second) is None:
        return None
    try:
        above, below = expanded_fraction(told_apart(symbolic(first) / symbolic(second)))
        ratio = _leading(above, below)
        exact = ratio is not None and sp.expand(above - ratio * below) == 0
        return tree_of(ratio, ()) if exact else None
    except OutOfReach:
        return None


def simplified(tree: Tree) -> Tree:
    """The shortest of a few equal forms of an expression, its names kept in their order of first appearance."""
    order = tuple(dict.fromkeys(t.name for t in walk(tree) if isinstance(t, Name)))
    try:
        whole = symbolic(tree)
        forms = [whole, sp.factor_terms(whole), sp.together(whole), *_as_one_fraction(whole)]
        return min([*(tree_of(form, order) for form in forms), tree], key=_pieces)
    except OutOfReach:
        return tree


def _as_one_fraction(whole: sp.Expr) -> tuple[sp.Expr, ...]:
    try:
        above, below = expanded_fraction(whole, MOST_SHORT_TERMS)
    except OutOfReach:
        return ()
    return (above / below,)


def _pieces(tree: Tree) -> int:
    return sum(1 for _ in walk(tree))


def _difference(point: Point) -> str:
    where = ", ".join(f"{name} = {value:.3g}" for name, value in point.names.items())
    values = f"one is {float(point.first):.5g} and the other {float(point.second):.5g}"
    return f"at {where} {values}" if where else values


def _is_piecewise(*trees: Tree) -> bool:
    return any(isinstance(t, Call) and t.function in PIECEWISE for tree in trees for t in walk(tree))


def _proved(first: Tree, second: Tree) -> bool:
    try:
        one, other = symbolic(first), symbolic(second)
        if proved_zero(one - other):
            return True
        return _is_analytic(one) and _is_analytic(other) and proved_zero(one**2 - other**2)
    except OutOfReach:
        return False


def _is_analytic(expression: sp.Expr) -> bool:
    """True when nothing in it has an edge at positive quantities; two of them with one square differ in sign only."""
    functions = {type(f) for f in expression.atoms(sp.Function)}
    roots = [p.base for p in expression.atoms(sp.Pow) if not p.exp.is_Integer]
    return functions <= EDGELESS and all(base.is_positive for base in roots)


def _common_ratio(first: Tree, second: Tree) -> float | None:
    """The ratio at the points: `first` against `second` scaled by the ratio at the first point."""
    points = [p for p in common_points(first, second) if p.first and p.second]
    if len(points) < FEWEST_POINTS:
        return None
    ratio = points[0].first / points[0].second
    if any(Point({}, p.first, ratio * p.second, p.error).differs for p in points):
        return None
    return float(ratio)


def _leading(above: sp.Expr, below: sp.Expr) -> sp.Expr | None:
    """The ratio of the numbers before one term that both sums have."""
    over, under = _terms(above), _terms(below)
    for power in sorted(over.keys() & under.keys(), key=sp.default_sort_key):
        return over[power] / under[power]
    return None


def _terms(total: sp.Expr) -> dict[sp.Expr, sp.Expr]:
    found: dict[sp.Expr, sp.Expr] = {}
    for term in sp.Add.make_args(total):
        number, power = term.as_independent(*total.free_symbols, as_Add=False)
        found[power] = found.get(power, sp.Integer(0)) + number
    return found
