"""What an order of steps shows: which step is out of place, and which slips."""

from witnessmark.questions.model.parts import OrderPart
from witnessmark.questions.model.slips import OrderSlip

Order = tuple[int, ...]
"""Places of the steps in the right order (from 0), as they were put."""


def out_of_place(order: Order) -> tuple[int, ...]:
    """The steps that would each, moved alone, leave the right order; none where it is right or further off."""
    if list(order) == sorted(order):
        return ()
    return tuple(step for step in order if (rest := [s for s in order if s != step]) == sorted(rest))


def is_near(order: Order) -> bool:
    """True where an order is right, or has one step out of place."""
    return list(order) == sorted(order) or bool(out_of_place(order))


def shown_by(part: OrderPart, order: Order) -> tuple[OrderSlip, ...]:
    """The slips that an order shows."""
    return tuple(slip for slip in part.slips if _shows(part, order, slip))


def _shows(part: OrderPart, order: Order, slip: OrderSlip) -> bool:
    """True where a step stands before one that it must follow, yet not before what comes ahead of that one as well:
    then something else went wrong."""
    moved, follows = part.steps.index(slip.puts), part.steps.index(slip.before)
    ahead = order.index(follows - 1) if follows else -1
    return ahead < order.index(moved) < order.index(follows)
