"""Numbered balloons: a number in a ring, with a leader to what it stands for, as ISO 6433 has part references on
drawings (from memory of the standard). Which number it is follows from the student's own order."""

from math import hypot

from witnessmark.documents.figures.dimensions import dot
from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import arrow_head, circle, line

RING = 7.6
SIZE = 9.0


def balloon(number: int, x: float, y: float, to_x: float, to_y: float, end: str = "dot") -> Part:
    """A ring round x, y with its number, and a leader to to_x, to_y that ends in a dot inside a part, in an arrow at an
    edge, or in nothing (`none`)."""
    dx, dy = to_x - x, to_y - y
    size = hypot(dx, dy)
    ring = circle(x, y, RING, "thin", "white")
    parts = [ring, text(x, y + SIZE * 0.31, str(number), size=SIZE)]
    if size > RING:
        parts.append(line(x + dx / size * RING, y + dy / size * RING, to_x, to_y, "thin"))
        parts += [arrow_head(to_x, to_y, dx, dy)] if end == "arrow" else [dot(to_x, to_y)] if end == "dot" else []
    return together(*parts)
