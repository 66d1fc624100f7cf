"""Marking the order of steps: all marks in the right order, half of them with one step out of place, else none.

Two neighbours that changed places are one step out of place. Half the marks are rounded down to the task's steps of
marks. Why half: whoever moves one step to where it belongs has the right order. Common practice, no source.
"""

from collections.abc import Sequence
from decimal import Decimal

from witnessmark.marking.kinds.without_numbers import TWO_WAYS, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.parts import OrderPart
from witnessmark.questions.sheet.listing import letter_of, listed_steps
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.orders import read_order

Order = tuple[int, ...]
"""Places of the steps in the right order (from 0), as a student put them."""


def mark_order(part: OrderPart, text: str, variant: Variant | None, rules: Rules) -> Outcome:
    """The outcome of one order of steps, the kindest where it can be read in several ways."""
    listed = listed_steps(part)
    reading = read_order(text, [filled(step, variant) for step in listed] if variant else listed)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if not reading.orders:
        return unreadable(part, text, reading.reason)
    placed = [tuple(part.steps.index(listed[i]) for i in order) for order in reading.orders]
    earned = [_marks(order, part.marks, rules) for order in placed]
    best = earned.index(max(earned))
    order = placed[best]
    who = tuple(dict.fromkeys(slip.misconception for slip in part.slips if _shows(part, order, slip.puts, slip.before)))
    verdict = Verdict.RIGHT if earned[best] == part.marks else Verdict.SLIP if who else Verdict.WRONG
    return Outcome(
        earned[best], part.marks, verdict, _sentence(part, order, variant), who, raw=text,
        read_as=", ".join(letter_of(i) for i in reading.orders[best]), repairs=tuple(map(str, reading.repairs)),
        in_tray=(TWO_WAYS,) if len(set(earned)) > 1 else (),
    )  # fmt: skip


def out_of_place(order: Order) -> tuple[int, ...]:
    """The steps that would each, moved alone, leave the right order; none where it is right or further off."""
    if list(order) == sorted(order):
        return ()
    return tuple(step for step in order if (rest := [s for s in order if s != step]) == sorted(rest))


def _marks(order: Order, marks: Decimal, rules: Rules) -> Decimal:
    if list(order) == sorted(order):
        return marks
    return rounded_down(marks / 2, rules.half_marks) if out_of_place(order) else Decimal(0)


def _shows(part: OrderPart, order: Order, puts: str, before: str) -> bool:
    """True where a step stands before one that it must follow, yet not before what comes ahead of that one as well:
    then something else went wrong."""
    moved, follows = part.steps.index(puts), part.steps.index(before)
    ahead = order.index(follows - 1) if follows else -1
    return ahead < order.index(moved) < order.index(follows)


def _sentence(part: OrderPart, order: Order, variant: Variant | None) -> str:
    if list(order) == sorted(order):
        return "Right: every step is in its place."
    moved = [filled(part.steps[i], variant) if variant else part.steps[i] for i in out_of_place(order)]
    if len(moved) == 2:
        return f"Two neighbours have changed places: “{moved[0]}” and “{moved[1]}”."
    return f"One step is out of place: “{moved[0]}”." if moved else _first_wrong(part, order, variant)


def _first_wrong(part: OrderPart, order: Sequence[int], variant: Variant | None) -> str:
    step = part.steps[next(i for i, place in enumerate(order) if i != place)]
    return f"More than one step is out of place; look first for “{filled(step, variant) if variant else step}”."
