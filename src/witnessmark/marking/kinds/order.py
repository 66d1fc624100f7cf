"""Marking the order of steps: all marks in the right order, half of them with one step out of place, else none.

Two neighbours that changed places are one step out of place. Half the marks are rounded down to the task's steps of
marks. Why half: whoever moves one step to where it belongs has the right order. Common practice, no source.
"""

from collections.abc import Sequence
from decimal import Decimal

from witnessmark.marking.kinds.choice import NO_LETTERS
from witnessmark.marking.kinds.without_numbers import TWO_WAYS, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.orders import Order, out_of_place, shown_by
from witnessmark.questions.model.parts import OrderPart
from witnessmark.questions.sheet.listing import letter_of, listed_steps, with_letters
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.orders import OrderReading, read_order

COPIED = "This is the order in which your sheet lists the steps."


def mark_order(part: OrderPart, text: str, variant: Variant | None, rules: Rules) -> Outcome:
    """The outcome of one order of steps, the kindest where it can be read in several ways. Without all of the variant's
    numbers the letters of a shuffled list are not known, but words are read."""
    listed = listed_steps(part, variant)
    has_letters = not part.shuffled or with_letters(variant) is not None
    reading = _read(text, listed, variant)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if not reading.orders:
        return unreadable(part, text, reading.reason)
    placed = _placed(part, listed, reading)
    if not has_letters:
        turned = (*listed[1:], *listed[:1])
        if _placed(part, turned, _read(text, turned, variant)) != placed:
            return unreadable(part, text, NO_LETTERS)
    earned = [_marks(order, part.marks, rules) for order in placed]
    best = earned.index(max(earned))
    order = placed[best]
    copied = part.shuffled and has_letters and listed == tuple(part.steps[step] for step in order)
    who = () if copied else tuple(dict.fromkeys(slip.misconception for slip in shown_by(part, order)))
    verdict = Verdict.RIGHT if earned[best] == part.marks else Verdict.SLIP if who else Verdict.WRONG
    letters = ", ".join(letter_of(i) for i in reading.orders[best])
    return Outcome(
        earned[best], part.marks, verdict, COPIED if copied else _sentence(part, order, variant), who, raw=text,
        read_as=letters if has_letters else _in_words(part, order, variant), repairs=tuple(map(str, reading.repairs)),
        in_tray=(TWO_WAYS,) if len(set(earned)) > 1 else (),
    )  # fmt: skip


def _read(text: str, listed: Sequence[str], variant: Variant | None) -> OrderReading:
    return read_order(text, [filled(step, variant) for step in listed] if variant else listed)


def _placed(part: OrderPart, listed: Sequence[str], reading: OrderReading) -> list[Order]:
    """Every order that was read, in the places of the right one."""
    return [tuple(part.steps.index(listed[i]) for i in order) for order in reading.orders]


def _in_words(part: OrderPart, order: Order, variant: Variant | None) -> str:
    steps = [part.steps[place] for place in order]
    return "; ".join(filled(step, variant) if variant else step for step in steps)


def _marks(order: Order, marks: Decimal, rules: Rules) -> Decimal:
    if list(order) == sorted(order):
        return marks
    return rounded_down(marks / 2, rules.half_marks) if out_of_place(order) else Decimal(0)


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
