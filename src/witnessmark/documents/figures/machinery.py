"""Pieces that many figures share: forces, supports, ground, ropes and pulleys, springs, pistons, circuit signs."""

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from witnessmark.documents.figures.lettering import SIZE, text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import FORCE_INK, KINDS, Point, arrow_head, circle, hatch, line, polygon, rect


def force(x: float, y: float, dx: float, dy: float, words: str = "", label: str = "tail", gap: float = 4.0) -> Part:
    """A force that ends with its head at x, y after running dx, dy; its label beside the tail, the head or the shaft.

    Labels: `tail` (past the tail), `right`, `left` (of an upright shaft), `above`, `below` (a level one), `pull` (from
    the tail on, above, for an arrow that leaves the body), `push` (from the head back, for one that meets it).
    """
    size = hypot(dx, dy)
    ux, uy = dx / size, dy / size
    shaft = line(x - dx, y - dy, x - 5 * ux, y - 5 * uy, "force")
    head = arrow_head(x, y, dx, dy, 9.0, 5.2)
    parts = [shaft, Part(head.svg.replace('fill="#111"', f'fill="{FORCE_INK}"'), head.box)]
    if words:
        parts.append(_force_label(x, y, dx, dy, words, label, gap))
    return together(*parts)


def _force_label(x: float, y: float, dx: float, dy: float, words: str, label: str, gap: float) -> Part:
    middle_x, middle_y, drop = x - dx / 2, y - dy / 2, SIZE * 0.28
    places = {
        "right": (middle_x + gap, middle_y + drop, "start"),
        "left": (middle_x - gap, middle_y + drop, "end"),
        "above": (middle_x, middle_y - gap, "middle"),
        "below": (middle_x, middle_y + gap + SIZE * 0.7, "middle"),
        "pull": (x - dx, y - gap, "start" if dx > 0 else "end"),
        "push": (x, y - gap, "end" if dx > 0 else "start"),
        "head": (x + gap, y + drop, "start"),
    }
    if label in places:
        return text(places[label][0], places[label][1], words, places[label][2])
    tail_x, tail_y = x - dx, y - dy
    if abs(dx) > abs(dy):
        return text(tail_x - (gap if dx > 0 else -gap), tail_y + drop, words, "end" if dx > 0 else "start")
    return text(tail_x, tail_y - gap if dy > 0 else tail_y + gap + SIZE * 0.7, words)


def ground(x1: float, x2: float, y: float, depth: float = 6.0) -> Part:
    """Fixed ground under a level line."""
    area = [(x1, y), (x2, y), (x2, y + depth), (x1, y + depth)]
    return together(line(x1, y, x2, y), hatch([area], 4.0))


def wall(x: float, y1: float, y2: float, side: str = "left", depth: float = 6.0) -> Part:
    """A fixed wall along an upright line; `side` says where its solid is."""
    back = x - depth if side == "left" else x + depth
    return together(line(x, y1, x, y2), hatch([[(x, y1), (x, y2), (back, y2), (back, y1)]], 4.0))


def slab(points: Sequence[Point], spacing: float = 4.5, fill: str = "none", slope: float = 45.0) -> Part:
    """A cut piece: outline and section lines."""
    return together(polygon(points, "none", fill), hatch([points], spacing, slope), polygon(points))


def pivot(x: float, y: float, size: float = 12.0) -> Part:
    """A pivot on the ground whose pin is at x, y."""
    feet = [(x, y), (x - size * 0.6, y + size), (x + size * 0.6, y + size)]
    return together(
        polygon(feet, "outline", "white"), ground(x - size, x + size, y + size), circle(x, y, 2.2, "outline", "white")
    )


def roller(x: float, y: float, size: float = 10.0) -> Part:
    """A roller support whose top is at x, y."""
    return together(circle(x, y + size / 2, size / 2, "outline", "white"), ground(x - size, x + size, y + size))


def pulley(x: float, y: float, r: float) -> Part:
    """A sheave with its pin."""
    return together(circle(x, y, r, "outline", "metal"), circle(x, y, max(1.6, r * 0.14), "outline", "white"))


def spring(x1: float, y1: float, x2: float, y2: float, turns: int = 7, width: float = 9.0) -> Part:
    """A coil spring between two points, as a zigzag."""
    size = hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    points: list[Point] = [(x1, y1)]
    for i in range(2 * turns):
        along, off = size * (0.1 + 0.8 * (i + 0.5) / (2 * turns)), width / 2 * (1 if i % 2 else -1)
        points.append((x1 + ux * along - uy * off, y1 + uy * along + ux * off))
    return polygon([*points, (x2, y2)], "outline", "none", closed=False)


def bar_between(x1: float, y1: float, x2: float, y2: float, width: float, fill: str = "metal") -> Part:
    """A straight bar of this width between two points."""
    angle = atan2(y2 - y1, x2 - x1)
    ox, oy = -sin(angle) * width / 2, cos(angle) * width / 2
    return polygon([(x1 + ox, y1 + oy), (x2 + ox, y2 + oy), (x2 - ox, y2 - oy), (x1 - ox, y1 - oy)], "outline", fill)


def weight(x: float, y: float, width: float, height: float, words: str = "") -> Part:
    """A block with its top centre at x, y, and its label inside, or to the right when it is too small for that."""
    block = rect(x - width / 2, y, width, height, "outline", "dark metal")
    if not words:
        return block
    label = text(x, y + height / 2 + SIZE * 0.28, words)
    if label.box.width + 4 > width or label.box.height + 2 > height:
        label = text(x + width / 2 + 4, y + height / 2 + SIZE * 0.28, words, "start")
    return together(block, label)


def break_line(x: float, y1: float, y2: float, lean: float = 3.0) -> Part:
    """A break: the part goes on beyond this edge."""
    return polygon(_break_points(x, y1, y2, lean), "thin", "none", closed=False)


def _break_points(x: float, y1: float, y2: float, lean: float = 3.0) -> list[Point]:
    span = y2 - y1
    return [
        (x, y1), (x, y1 + span * 0.4), (x - lean, y1 + span * 0.45), (x + lean, y1 + span * 0.55), (x, y1 + span * 0.6),
        (x, y2),
    ]  # fmt: skip


def broken(
    x1: float, x2: float, y1: float, y2: float, ends: str = "both", fill: str = "metal", spacing: float = 0,
    slope: float = 45.0,
) -> Part:  # fmt: skip
    """A level piece that goes on beyond a break at its `left` end, its `right` end or `both`, where it has no outline;
    cut where its section lines have a `spacing`."""
    sides = [(x, ends in (side, "both")) for x, side in ((x1, "left"), (x2, "right"))]
    left, right = [_break_points(x, y1, y2) if off else [(x, y1), (x, y2)] for x, off in sides]
    edge = [*left, *reversed(right)]
    parts = [polygon(edge, "none", fill)] + ([hatch([edge], spacing, slope)] if spacing else [])
    parts += [line(x1, y, x2, y) for y in (y1, y2)]
    parts += [break_line(x, y1, y2) if off else line(x, y1, x, y2) for x, off in sides]
    return together(*parts)


def turning(x: float, y: float, r: float, start: float, end: float, words: str = "", label: float = 90.0) -> Part:
    """A torque or turn as an arc arrow from `start` to `end` degrees; its words outside at `label` degrees."""
    from_x, from_y = x + r * cos(radians(start)), y - r * sin(radians(start))
    to_x, to_y = x + r * cos(radians(end)), y - r * sin(radians(end))
    way = 1 if end > start else -1
    large = 1 if abs(end - start) > 180 else 0
    svg = (
        f'<path d="M{from_x:.2f} {from_y:.2f}A{r:.2f} {r:.2f} 0 {large} {0 if way > 0 else 1} {to_x:.2f} {to_y:.2f}"'
        f' fill="none" {KINDS["force"]}/>'
    )
    a = radians(end)
    head = arrow_head(to_x - sin(a) * way * 4, to_y - cos(a) * way * 4, -sin(a) * way, -cos(a) * way, 9.0, 5.2)
    arc_box = circle(x, y, r).box
    parts = [Part(svg, arc_box), Part(head.svg.replace('fill="#111"', f'fill="{FORCE_INK}"'), head.box)]
    if words:
        b = radians(label)
        side = "start" if cos(b) > 0.3 else "end" if cos(b) < -0.3 else "middle"
        parts.append(text(x + (r + 5) * cos(b), y - (r + 5) * sin(b) + SIZE * 0.28, words, side))
    return together(*parts)


def slope_degrees(rise: float, run: float) -> float:
    """The angle of a slope in degrees."""
    return degrees(atan2(rise, run))
