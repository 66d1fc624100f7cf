"""Formulae compared by algebra: the only door to sympy. Import it late, it takes over a second.

Trees are walked into sympy, never handed over as text, because sympy's own readers of text execute it. Names stand for
positive quantities. Nothing here can run long, and no clock, thread or signal is needed for that: numbers are looked at
first, expressions of more pieces, higher powers or longer expansions (as foreseen) than the stated limits are not
attempted, and sympy's open-ended `simplify` is never called.
"""

from witnessmark.maths.formulas.comparing import Equality, Same, constant_ratio, equal, proportional, simplified

__all__ = ["Equality", "Same", "constant_ratio", "equal", "proportional", "simplified"]
