"""The ends of an envelope in sentences with numbers, for a teacher who is asked why an answer is, or is not, right."""

import math
from decimal import Decimal

from witnessmark.maths.interval_ends import End
from witnessmark.maths.printing.numbers import quantity_text, shown_number
from witnessmark.maths.quantities import from_si, unit
from witnessmark.maths.rounding import decimal_to_figures
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.working.envelope_steps import By, EnvelopeEnd, Step, Taken

MORE_FIGURES = 2  # values are shown with so many figures more than the answer
ROOM_FIGURES = 3
WIDE = 6  # figures of a value of which nobody says to how many it is asked
COMMON_FRACTIONS = {22 / 7: "22/7"}
DIRECTION = {End.LOW: "down", End.HIGH: "up"}
FARTHEST = {End.LOW: "lowest", End.HIGH: "highest"}


def sentences(end: EnvelopeEnd, right: float) -> tuple[str, ...]:
    """One sentence a step, and one more where no single working gets to the end; `right` is the right value (SI)."""
    told = tuple(_step_sentence(step) for step in end.steps)
    return told if end.is_reached else (*told, _wider(end, right))


def value_text(si: float, unit_name: str, figures: int) -> str:
    """An SI value in its unit without zeros that say nothing: `313.5 mm²`."""
    return quantity_text(_bare(from_si(si, unit_name), figures), unit_name)


def _bare(number: float, figures: int) -> Decimal:
    """A number to so many figures; it is printed without trailing zeros."""
    return decimal_to_figures(Decimal(f"{number:.12g}"), figures)


def _step_sentence(step: Step) -> str:
    shown = step.figures + MORE_FIGURES
    what, exact = step.what, value_text(step.exact, step.unit, shown)
    taken = value_text(step.taken, step.unit, shown)
    first = f"With {_listed([_use_text(u, shown) for u in step.uses])}, the" if step.uses else "The"
    if step.by is By.TOLERANCE:
        share = shown_number(_bare(step.tolerance * 100, ROOM_FIGURES))
        return (
            f"{first} {what} is {exact}; the question allows {share}\u00a0% on that, {DIRECTION[step.end]} to {taken}."
        )
    if step.by is By.READING:
        read = _room_text(step, step.room)
        return f"{first} {what} is {exact}; read from its scale it may be {read} off, {DIRECTION[step.end]} to {taken}."
    if step.by is By.AMOUNT:
        off = _room_text(step, step.room)
        return f"{first} {what} is {exact}; the question allows {off} on that, {DIRECTION[step.end]} to {taken}."
    room = _room_text(step, step.half)
    return (
        f"{first} {what} is {exact}; written to {step.figures} figures it may be {room} off, "
        f"{DIRECTION[step.end]} to {taken}."
    )


def _room_text(step: Step, room: float) -> str:
    """A room (SI) in the unit asked; a difference, so that an offset has no part in it."""
    number = _bare(room / abs(unit(step.unit).scale), ROOM_FIGURES)
    return quantity_text(number, step.unit)


def _use_text(use: Taken, figures: int) -> str:
    if use.key:
        return f"the {use.what} at {value_text(use.value, use.unit, figures)}"
    return f"{use.what} = {constant_text(use.name, use.value)}"


def constant_text(name: str, value: float) -> str:
    """A constant as people take it: `3.14`, `22/7`, `9.8 m/s²`."""
    return COMMON_FRACTIONS.get(value) or quantity_text(_bare(value, WIDE), CONSTANTS[name].unit)


def _wider(end: EnvelopeEnd, right: float) -> str:
    things = [_named(thing) for thing in (*end.both, *end.between)]
    why = "in one place at its low end and in another at its high end" if end.both else "somewhere between its ends"
    first = f"No single working gets there, for it would take {_listed(things)} {why}"
    if math.isnan(end.reach):
        return f"{first}; the range is wider than it need be, in the student's favour."
    figures = end.steps[-1].figures + MORE_FIGURES
    reach = value_text(end.reach, end.unit, figures)
    return (
        f"{first}; one working gets to {reach} at the {FARTHEST[end.end]} (the right value is "
        f"{value_text(right, end.unit, figures)}), and the range is that much wider, in the student's favour."
    )


def _named(thing: str) -> str:
    return thing if any(c.symbol == thing for c in CONSTANTS.values()) else f"the {thing}"


def _listed(items: list[str]) -> str:
    return " and ".join([", ".join(items[:-1]), items[-1]] if len(items) > 1 else items)
