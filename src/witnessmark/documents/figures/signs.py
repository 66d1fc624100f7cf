"""Signs of drawings and circuits: junctions, fuses, sources, lamps and motors as in IEC 60617, the taper of ISO 3040,
the method of projection of ISO 5456-2. (All from memory of the standards.)"""

from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import circle, line, polygon, rect


def junction(x: float, y: float) -> Part:
    """A dot where wires are joined."""
    return circle(x, y, 1.9, "none", "ink")


def source(x: float, y: float) -> Part:
    """A battery between x, y - 4 and x, y + 4: the long plate is plus, above."""
    return together(
        line(x - 12, y - 4, x + 12, y - 4), line(x - 6, y + 4, x + 6, y + 4, "cut"), text(x - 16, y - 5, "+", "middle")
    )


def fuse(x: float, y: float, length: float = 18.0) -> Part:
    """A fuse in a level wire: a box with the wire running through, centred at x, y."""
    return together(
        rect(x - length / 2, y - 3.5, length, 7, "outline", "white"), line(x - length / 2, y, x + length / 2, y, "thin")
    )


def lamp(x: float, y: float, r: float = 8.0) -> Part:
    """A lamp: a circle with a cross."""
    k = r * 0.7
    return together(
        circle(x, y, r, "outline", "white"),
        line(x - k, y - k, x + k, y + k, "thin"),
        line(x - k, y + k, x + k, y - k, "thin"),
    )


def meter(x: float, y: float, letter: str, r: float = 11.0) -> Part:
    """A round sign with a letter: A for an ammeter, V for a voltmeter, M for a motor."""
    return together(circle(x, y, r, "outline", "white"), text(x, y + 3.4, letter))


def taper_sign(x: float, y: float, large: str = "left") -> Part:
    """The sign of a taper, a slender triangle that points the way the taper narrows, 12 wide, centred at x, y."""
    way = 1 if large == "left" else -1
    return together(
        polygon([(x - 6 * way, y - 3.2), (x + 6 * way, y), (x - 6 * way, y + 3.2)], "thin"),
        line(x - 9, y, x + 9, y, "thin"),
    )


def first_angle(x: float, y: float, size: float = 1.0) -> Part:
    """The sign of first angle projection: a cone from the side, then from its small end, at x, y (its middle)."""
    a, b, c = 4.0 * size, 8.0 * size, 7.0 * size
    return together(
        polygon([(x - 2 * c, y - a), (x - c * 0.6, y - b), (x - c * 0.6, y + b), (x - 2 * c, y + a)], "thin"),
        circle(x + c + 2, y, a, "thin"),
        circle(x + c + 2, y, b, "thin"),
        line(x - 2 * c - 3, y, x + c + b + 5, y, "centre"),
        line(x + c + 2, y - b - 3, x + c + 2, y + b + 3, "centre"),
    )
