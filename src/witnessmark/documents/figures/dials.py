"""Instruments with a pointer, drawn exactly to what they read: dial gauge and pressure gauge. 0, 0 is their middle.

A number stands where no pointer goes: outside the scale that the pointer ends at.
"""

from math import cos, radians, sin

from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import arc, circle, line, rect

Scale = tuple[float, float, int, str]
"""The last value of a scale, what its division is worth, at which count of divisions a number stands, and its unit."""

SMALL, SMALLEST = 7.5, 7.0  # sizes of numbers: on a scale, and on the dial that counts turns
RIM = 106.0  # radius of a case
FACE = 88.0  # radius of the scale of a dial gauge; its lines point inwards
TURN_LINES = 100
COUNTER, COUNTER_AT = 17.0, 42.0  # radius of the small dial, and how far it lies below the middle
COUNTED = 10
LOW, SWEEP = 225.0, 270.0  # degrees: where the scale of a gauge begins, and how far it runs clockwise
INNER, OUTER = 66.0, 82.0  # radii of two scales of a gauge; the pointer ends at the inner one
BEYOND = 1e-9


def _ray(angle: float, from_r: float, to_r: float, kind: str, y: float = 0) -> Part:
    a = radians(angle)
    return line(from_r * cos(a), y - from_r * sin(a), to_r * cos(a), y - to_r * sin(a), kind)


def _number(angle: float, r: float, words: str, size: float = SMALL, y: float = 0) -> Part:
    a = radians(angle)
    return text(r * cos(a), y - r * sin(a) + size * 0.28, words, size=size)


def _pointer(angle: float, length: float) -> Part:
    """A hand that is thin where it is read."""
    return together(_ray(angle, 0, length - 14, "cut"), _ray(angle, length - 14, length, "thin"))


def dial_gauge(reading: float) -> Part:
    """A dial gauge of 0.01 mm: a hundred lines round its rim for each turn of the long hand, which is one millimetre.

    The short hand counts the turns, up to ten. `reading` is in mm, clockwise from nought.
    """
    parts = [rect(-5, RIM, 10, 14, "outline", "metal"), circle(0, 0, RIM, "outline", "white")]
    for i in range(TURN_LINES):
        angle = 90 - 360 * i / TURN_LINES
        parts.append(_ray(angle, FACE - (12 if not i % 10 else 9 if not i % 5 else 6), FACE, "hair"))
        parts += [_number(angle, FACE + 9, str(i))] if not i % 10 else []
    parts += [*_counter(reading), _pointer(90 - 360 * reading, FACE), circle(0, 0, 4, "outline", "ink")]
    return together(*parts)


def _counter(turns: float) -> list[Part]:
    """The small dial with the hand that counts turns."""
    parts = [circle(0, COUNTER_AT, COUNTER, "thin")]
    for i in range(COUNTED):
        angle = 90 - 360 / COUNTED * i
        parts.append(_ray(angle, COUNTER - 4, COUNTER, "thin", COUNTER_AT))
        parts += [_number(angle, COUNTER + 5.5, str(i), SMALLEST, COUNTER_AT)] if not i % 2 else []
    return [*parts, _ray(90 - 360 / COUNTED * turns, 0, COUNTER - 1, "force", COUNTER_AT)]


def gauge(reading: float, scale: Scale, beside: Scale | None = None) -> Part:
    """A gauge whose pointer goes clockwise over three quarters of a turn, from nought to the last value of its scale.

    A scale `beside` it lies outside of the first; its last value stands for the same as that of the first, and its
    lines end at its last whole division.
    """
    parts = [rect(-9, RIM, 18, 12, "outline", "metal"), circle(0, 0, RIM, "outline", "white")]
    parts += [*_scale(scale, INNER, -1), text(0, 40, scale[3])]
    if beside:
        parts += [*_scale(beside, OUTER, 1), text(0, OUTER + 6, beside[3])]
    return together(*parts, _pointer(_angle(reading, scale), INNER), circle(0, 0, 5, "outline", "ink"))


def _angle(value: float, scale: Scale) -> float:
    return LOW - SWEEP * value / scale[0]


def _scale(scale: Scale, r: float, outwards: int) -> list[Part]:
    """An arc at radius r, its lines outwards or inwards, and its numbers outside."""
    last, division, each, _ = scale
    count = int(last / division + BEYOND)
    parts = [arc(0, 0, r, _angle(count * division, scale), _angle(0, scale), "thin")]
    for i in range(count + 1):
        angle, is_numbered = _angle(i * division, scale), not i % each
        parts.append(_ray(angle, r, r + outwards * (9 if is_numbered else 5), "hair"))
        if is_numbered:
            parts.append(_number(angle, r + (16 if outwards > 0 else 7), f"{i * division:g}"))
    return parts
