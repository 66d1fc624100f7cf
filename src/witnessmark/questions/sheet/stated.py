"""What a program states for a given, as a number and a unit that the given can have."""

from decimal import Decimal
from typing import Any

from witnessmark.maths.dimensions import described
from witnessmark.maths.plain_numbers import exact_number
from witnessmark.maths.quantities import (
    from_si,
    is_quantity,
    read_author_quantity,
    to_si,
    unit,
    unit_name_of,
)
from witnessmark.words.errors import UnitError

StatedGiven = Any
"""What may be stated for a given: text such as `20 mm`, a number in the declared unit, or a pint quantity."""
FORMS = "text such as '20 mm', a number in the declared unit, or a pint quantity"


def stated_given(name: str, value: StatedGiven, declared: str) -> tuple[Decimal, str]:
    """The exact number and the unit of what is stated for the given `name`, whose declared unit is `declared`.

    A pint quantity is told in the declared unit. UnitError, which names the given, for text that is no quantity and
    for another dimension; TypeError for what is no text, number or quantity; ValueError for a number without end.
    """
    try:
        number, unit_name = _number_and_unit(name, value, declared)
        expected, found = unit(declared).dimension, unit(unit_name).dimension
    except UnitError as error:
        raise UnitError(f"{name}: {error}") from None
    if not number.is_finite():
        raise ValueError(f"{name}: expected a finite number, found {number}")
    if found != expected:
        shown = f"'{value}'" if isinstance(value, str) else f"{value:~}"
        raise UnitError(f"{name}: expected {described(expected)}, found {described(found)}, {shown}")
    if is_quantity(value):
        return Decimal(f"{from_si(to_si(float(number), unit_name), declared):.12g}"), declared
    return number, unit_name


def _number_and_unit(name: str, value: StatedGiven, declared: str) -> tuple[Decimal, str]:
    """Number and unit as they are stated."""
    if is_quantity(value):
        number, unit_name = exact_number(value.magnitude), unit_name_of(value)
    elif isinstance(value, str):
        number, unit_name = read_author_quantity(value)
        unit_name = unit_name or declared
    else:
        number, unit_name = exact_number(value), declared
    if number is None:
        raise TypeError(f"{name}: expected {FORMS}, found {value!r}")
    return number, unit_name
