"""A shared wrong method in sentences: what it is beside the right one, how sure it is, what chance would do."""

import math
from decimal import Decimal

from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.rounding import decimal_to_figures
from witnessmark.review.shared_methods import Searched, SharedMethod

MOST_ODDS = 1e6
"""Odds beyond these are not told as a number: what is assumed of how people write is not known so well."""
RARE = 0.01


def difference(method: SharedMethod) -> str:
    """What differs from the right method, where that can be said."""
    if method.done:
        return f"It is what comes out as if {' and '.join(method.done)}."
    if method.beside is not None:
        return f"It is the right value times {in_sentence(method.beside, method.symbols)}."
    return "It is no small change of the right method."


def power(method: SharedMethod) -> str:
    """The power of ten that all who fit have, or nothing."""
    if not method.power:
        return ""
    return f"All of them are off by the same power of ten as well, 10^{method.power}: look at how they take units."


def certainty(method: SharedMethod) -> str:
    """How sure it is that these students share a method, and that it is this one."""
    many = method.log_odds > math.log(MOST_ODDS)
    odds = "more than a million" if many else f"about {_rounded(math.exp(method.log_odds))}"
    said = f"The odds that they share this method are {odds} to 1 (log odds {method.log_odds:.1f})."
    if not method.rivals:
        return said
    others = " or ".join(in_sentence(tree, method.symbols) for tree in method.rivals)
    return f"{said} Their numbers are explained nearly as well by {others}."


def accident(method: SharedMethod) -> str:
    """How many findings like it chance alone is expected to bring at most."""
    tried = f"{method.tried:,} formulas were tried on {method.answers} answers, and this one gives"
    fits = f"{tried} {'all' if len(method.who) == method.answers else len(method.who)} of them"
    expected = method.accidental
    if expected >= RARE:
        number = f"at most {expected:.2g}"
    elif expected > 1 / MOST_ODDS:
        number = f"at most one in about {_rounded(1 / expected)} such searches"
    else:
        number = "fewer than one in a million such searches"
    return f"Expected number of accidental fits: {number}. ({fits}.)"


def accept_command(method: SharedMethod, folder: str = "CLASS", task: str = "TASK") -> str:
    """What to type to see what accepting it would change."""
    label = f'"{method.label}"' if " " in method.label else method.label
    return f"witnessmark accept {folder} {task} {label} MISCONCEPTION --found {method.number} --keeps MARKS"


def nothing(found: Searched) -> str:
    """What is said where no formula is shared."""
    if not found.unexplained:
        return "Every number that was entered is explained by a method that its question knows."
    count = "1 answer has" if found.unexplained == 1 else f"{found.unexplained} answers have"
    said = f"No formula is shared by three or more unexplained answers. {count} a method that no question knows"
    return f"{said}; {found.searched or 'none'} of them stood three or more to a place, where a search can be made."


def _rounded(number: float) -> str:
    """A number to two figures, as people write it: `9,100`."""
    return f"{int(decimal_to_figures(Decimal(repr(float(number))), 2)):,}"
