"""Numbers of any kind that a program hands over, as the exact decimals that they are written as."""

from decimal import Decimal

import numpy as np


def exact_number(value: object) -> Decimal | None:
    """An int, a float, a Decimal or a number of numpy as the shortest decimal that it is written as (0.1 is 0.1).

    None for everything else; a truth value is no number.
    """
    if isinstance(value, Decimal):
        return value
    if isinstance(value, int | float | np.integer | np.floating) and not isinstance(value, bool):
        return Decimal(str(value))
    return None


def is_missing(value: object) -> bool:
    """True of None and of a number that is none (NaN), which is how tables say that nothing is there."""
    number = exact_number(value)
    return value is None or (number is not None and number.is_nan())
