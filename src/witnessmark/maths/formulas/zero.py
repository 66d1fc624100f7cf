"""Proofs that an expression is nought, by steps whose size is foreseen before they are taken.

One fraction, its numerator multiplied out, all terms gone: that is a proof. Before it, logarithms of products are
parted and sines and cosines become exponentials (Euler's formulas; Abramowitz and Stegun 4.3.1 and 4.3.2), so that
every identity of angles is one of polynomials.
"""

from math import comb
from typing import Any

import sympy as sp

from witnessmark.maths.formulas.symbolic import OutOfReach

MOST_TERMS = 1_500
MOST_POWER = 30
MOST_TURNS = 12


def proved_zero(expression: Any) -> bool:
    """True when it is shown to be nought everywhere; False says nothing. OutOfReach when it would be long."""
    if expression == 0:
        return True
    return bool(expanded_fraction(told_apart(expression))[0] == 0)


def expanded_fraction(expression: Any, most: int = MOST_TERMS) -> tuple[Any, Any]:
    """The expression as numerator and denominator, both multiplied out; OutOfReach beyond so many terms."""
    _check(expression, most)
    together = sp.together(expression, deep=True)
    above, below = sp.fraction(together)
    _check(above, most)
    _check(below, most)
    return sp.expand(above), sp.expand(below)


def _check(expression: Any, most: int = MOST_TERMS) -> None:
    if sum(_sizes(expression, [])) > most:
        raise OutOfReach(f"more than {most} terms when multiplied out")


def _sizes(expression: Any, inside: list[int]) -> list[int]:
    """The terms foreseen when this is multiplied out: numerator and denominator, then every sum inside it."""
    above, below = _foreseen(expression, inside)
    return [above, below, *inside]


def _foreseen(expression: Any, inside: list[int]) -> tuple[int, int]:
    if expression.is_Atom:
        return 1, 1
    if expression.is_Add:
        above, below = 0, 1
        for term in expression.args:
            over, under = _foreseen(term, inside)
            above, below = _limited(above * under + over * below), _limited(below * under)
        return above, below
    if expression.is_Mul:
        above, below = 1, 1
        for factor in expression.args:
            over, under = _foreseen(factor, inside)
            above, below = _limited(above * over), _limited(below * under)
        return above, below
    if expression.is_Pow and expression.exp.is_Rational:
        return _power_sizes(expression, inside)
    for argument in expression.args:
        inside.append(sum(_foreseen(argument, inside)))
    return 1, 1


def _power_sizes(expression: Any, inside: list[int]) -> tuple[int, int]:
    over, under = _foreseen(expression.base, inside)
    whole = -(-abs(expression.exp.p) // expression.exp.q)
    if whole > MOST_POWER:
        raise OutOfReach(f"a power over {MOST_POWER}")
    if expression.exp.q != 1:
        inside.append(over + under)
    above, below = (_limited(comb(n + whole - 1, whole)) for n in (over, under))
    return (above, below) if expression.exp > 0 else (below, above)


def _limited(terms: int) -> int:
    if terms > MOST_TERMS:
        raise OutOfReach(f"more than {MOST_TERMS} terms when multiplied out")
    return terms


def told_apart(expression: Any) -> Any:
    """The same with max, min, acos as abs, asin; roots of fractions as fractions of roots; angles as exponentials."""
    _check(expression)
    for function, sign in ((sp.Max, 1), (sp.Min, -1)):
        expression = expression.replace(function, lambda *parts, sign=sign: _extreme(parts, sign))
    expression = expression.replace(sp.acos, lambda of: sp.pi / 2 - sp.asin(of))
    expression = expression.replace(lambda e: bool(e.is_Pow and e.exp.is_Rational and e.exp.q != 1), _root)
    expression = expression.replace(sp.log, lambda of: sp.log(sp.factor_terms(sp.together(of))))
    return _turned(sp.expand_log(expression, deep=True))


def _extreme(parts: tuple[Any, ...], sign: int) -> Any:
    first, *others = parts
    for other in others:
        first = (first + other + sign * sp.Abs(first - other)) / 2
    return first


def _root(power: Any) -> Any:
    """The root of a fraction as root over root; as long as the fraction is positive, both may be negative."""
    above, below = sp.fraction(sp.factor_terms(sp.together(power.base)))
    if below.could_extract_minus_sign():
        above, below = -above, -below
    return above**power.exp / below**power.exp


def _turned(expression: Any) -> Any:
    """The same with sine, cosine and tangent of sums as powers of one exponential for each angle in them."""
    angles = {a.args[0]: sp.expand(a.args[0]) for a in expression.atoms(sp.sin, sp.cos, sp.tan)}
    if not angles:
        return expression
    parts = _whole_parts(list(angles.values()))
    waves = {angle: _wave(whole, parts) for angle, whole in angles.items()}
    half, turn = sp.Rational(1, 2), sp.I
    found = expression.replace(sp.tan, lambda a: sp.sin(a) / sp.cos(a))
    found = found.replace(sp.cos, lambda a: (waves[a] + 1 / waves[a]) * half if a in waves else sp.cos(a))
    return found.replace(sp.sin, lambda a: (waves[a] - 1 / waves[a]) * half / turn if a in waves else sp.sin(a))


def _whole_parts(angles: list[Any]) -> dict[Any, tuple[Any, int]]:
    """For every part that angles are made of: its exponential as a symbol, and the parts that it is cut into."""
    cuts: dict[Any, int] = {}
    for angle in angles:
        for term in sp.Add.make_args(angle):
            share, part = term.as_coeff_Mul()
            if part.free_symbols:
                cuts[part] = int(sp.ilcm(cuts.get(part, 1), share.q if share.is_Rational else 1))
    return {part: (sp.Dummy(f"turn{i}", positive=True), cut) for i, (part, cut) in enumerate(cuts.items())}


def _wave(angle: Any, parts: dict[Any, tuple[Any, int]]) -> Any:
    """The exponential of i times the angle; OutOfReach for an angle taken more than MOST_TURNS times."""
    wave = sp.Integer(1)
    for term in sp.Add.make_args(angle):
        share, part = term.as_coeff_Mul()
        if not part.free_symbols:
            wave *= sp.cos(term) + sp.I * sp.sin(term)
            continue
        symbol, cut = parts[part]
        turns = share * cut
        if not turns.is_Integer or abs(turns) > MOST_TURNS:
            raise OutOfReach(f"an angle taken more than {MOST_TURNS} times")
        wave *= symbol ** int(turns)
    return wave
