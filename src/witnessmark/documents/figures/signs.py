"""Signs of drawings and circuits: cutting planes as in ISO 128, junctions, terminals, fuses, sources, lamps and motors
as in IEC 60617, the taper of ISO 3040, the method of projection of ISO 5456-2. (All from memory of the standards.)"""

from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import arrow_head, circle, line, polygon, rect


def junction(x: float, y: float) -> Part:
    """A dot where wires are joined."""
    return circle(x, y, 1.9, "none", "ink")


def terminal(x: float, y: float) -> Part:
    """A small ring where a wire ends and another begins."""
    return circle(x, y, 1.9, "thin", "white")


def cutting_plane(at: float, near: float, far: float, look: str, letter: str = "A") -> Part:
    """Both ends of a cutting plane, clear of what lies from `near` to `far`: thick strokes, with an arrow and a letter
    each. One that is looked through to the `right` or `left` stands upright at x = `at`; `up` or `down`, it lies level
    at y = `at`."""
    way = 1 if look in ("right", "down") else -1
    ends = ((near, -1), (far, 1))
    if look in ("right", "left"):
        return together(*(_upright_end(at, edge, out, way, letter) for edge, out in ends))
    return together(*(_level_end(at, edge, out, way, letter) for edge, out in ends))


def _upright_end(x: float, edge: float, out: int, way: int, letter: str) -> Part:
    y = edge + 7 * out
    return together(
        line(x, edge + 3 * out, x, edge + 11 * out, "cut"),
        line(x, y, x + 7 * way, y, "thin"),
        arrow_head(x + 12 * way, y, way, 0),
        text(x - 4 * way, y + 3.2, letter, "end" if way > 0 else "start"),
    )


def _level_end(y: float, edge: float, out: int, way: int, letter: str) -> Part:
    x = edge + 7 * out
    return together(
        line(edge + 3 * out, y, edge + 11 * out, y, "cut"),
        line(x, y, x, y + 7 * way, "thin"),
        arrow_head(x, y + 12 * way, 0, way),
        text(edge + 14 * out, y + 3, letter, "start" if out > 0 else "end"),
    )


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
