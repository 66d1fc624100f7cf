"""Lines, circles and areas in the line kinds of technical drawings (ISO 128-2 habits: wide outlines, narrow others)."""

from collections.abc import Sequence
from itertools import count, pairwise, takewhile
from math import cos, hypot, radians, sin

from witnessmark.documents.figures.part import Box, Part, Segment, box_of, point_text

Point = tuple[float, float]
Edge = tuple[float, float, float, float, float, float]
"""Both ends of an edge of an area, and how far each lies across the section lines."""
Ends = tuple[float, float, float, float]

INK = "#111"
FORCE_INK = "#12406b"
KINDS = {
    "outline": f'stroke="{INK}" stroke-width="1.1"',
    "thin": f'stroke="{INK}" stroke-width="0.5"',
    "hair": f'stroke="{INK}" stroke-width="0.35"',
    "faint": 'stroke="#aaa" stroke-width="0.35"',
    "hidden": f'stroke="{INK}" stroke-width="0.6" stroke-dasharray="4 2"',
    "centre": f'stroke="{INK}" stroke-width="0.5" stroke-dasharray="9 2 1.5 2"',
    "cut": f'stroke="{INK}" stroke-width="1.6"',
    "rope": f'stroke="{INK}" stroke-width="1.5"',
    "wire": f'stroke="{INK}" stroke-width="0.9"',
    "force": f'stroke="{FORCE_INK}" stroke-width="1.4"',
    "none": 'stroke="none"',
}
FILLS = {
    "none": "none", "white": "#fff", "metal": "#e3e3e1", "dark metal": "#c4c6c8", "fluid": "#d7e8f5",
    "wood": "#efe2cb", "seal": "#555", "ink": INK, "cut": "#f6d9c6", "hot": "#f3c9b8",
}  # fmt: skip
CIRCLE_STROKES = 32


def line(x1: float, y1: float, x2: float, y2: float, kind: str = "outline") -> Part:
    """A straight line of one of KINDS."""
    svg = (
        f'<line x1="{point_text(x1)}" y1="{point_text(y1)}" x2="{point_text(x2)}" y2="{point_text(y2)}" {KINDS[kind]}/>'
    )
    return Part(svg, Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)), (), (Segment(x1, y1, x2, y2),))


def polygon(points: Sequence[Point], kind: str = "outline", fill: str = "none", closed: bool = True) -> Part:
    """A closed outline (or an open run of lines) through the points."""
    at = " ".join([f"{point_text(x)},{point_text(y)}" for x, y in points])
    tag = "polygon" if closed else "polyline"
    svg = f'<{tag} points="{at}" fill="{FILLS[fill]}" {KINDS[kind]} stroke-linejoin="round"/>'
    ends = [*points[1:], points[0]] if closed else list(points[1:])
    strokes = [Segment(*a, *b) for a, b in zip(points, ends, strict=False)] if kind != "none" else []
    return Part(svg, box_of(points), (), tuple(strokes))


def rect(
    x: float, y: float, width: float, height: float, kind: str = "outline", fill: str = "none", r: float = 0.0
) -> Part:
    """An upright rectangle with its top left corner at x, y; `r` rounds its corners."""
    plain = polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], kind, fill)
    if not r:
        return plain
    svg = (
        f'<rect x="{point_text(x)}" y="{point_text(y)}" width="{point_text(width)}" height="{point_text(height)}"'
        f' rx="{point_text(r)}" fill="{FILLS[fill]}" {KINDS[kind]}/>'
    )
    return Part(svg, plain.box, (), plain.strokes)


def circle(x: float, y: float, r: float, kind: str = "outline", fill: str = "none") -> Part:
    """A circle round x, y."""
    svg = f'<circle cx="{point_text(x)}" cy="{point_text(y)}" r="{point_text(r)}" fill="{FILLS[fill]}" {KINDS[kind]}/>'
    strokes = _chords(arc_points(x, y, r, 0, 360, CIRCLE_STROKES)) if kind != "none" else ()
    return Part(svg, box_of([(x - r, y - r), (x + r, y + r)]), (), strokes)


def arc(x: float, y: float, r: float, start: float, end: float, kind: str = "thin") -> Part:
    """An arc from `start` to `end` degrees, anticlockwise as seen, from the direction of +x."""
    points = arc_points(x, y, r, start, end)
    (x1, y1), (x2, y2) = points[0], points[-1]
    large = 1 if abs(end - start) > 180 else 0
    sweep = 0 if end > start else 1
    svg = (
        f'<path d="M{point_text(x1)} {point_text(y1)}A{point_text(r)} {point_text(r)} 0 {large} {sweep}'
        f' {point_text(x2)} {point_text(y2)}" fill="none" {KINDS[kind]}/>'
    )
    return Part(svg, box_of(points), (), _chords(points))


def arc_points(x: float, y: float, r: float, start: float, end: float, count: int = 24) -> list[Point]:
    """Points on an arc, ends included; degrees as in `arc`."""
    turns = (radians(start + (end - start) * i / count) for i in range(count + 1))
    return [(x + r * cos(a), y - r * sin(a)) for a in turns]


def _chords(points: Sequence[Point]) -> tuple[Segment, ...]:
    return tuple(Segment(*a, *b) for a, b in pairwise(points))


def arrow_head(x: float, y: float, dx: float, dy: float, length: float = 6.5, width: float = 2.3) -> Part:
    """A filled arrow head with its point at x, y, flying along dx, dy; a polygon, since markers get lost on the way."""
    size = hypot(dx, dy)
    ux, uy = dx / size, dy / size
    bx, by = x - ux * length, y - uy * length
    half = width / 2
    return polygon([(x, y), (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)], "none", "ink")


def hatch(areas: Sequence[Sequence[Point]], spacing: float = 4.5, slope: float = 45.0) -> Part:
    """Section lines over areas (even-odd: an area inside another is a hole). Text on hatching needs a halo."""
    lines = _hatch_lines(areas, spacing, radians(slope))
    svg = "".join(f"M{point_text(x1)} {point_text(y1)}L{point_text(x2)} {point_text(y2)}" for x1, y1, x2, y2 in lines)
    return Part(f'<path d="{svg or "M0 0"}" fill="none" stroke="{INK}" stroke-width="0.35"/>', box_of(areas[0]))


def _hatch_lines(areas: Sequence[Sequence[Point]], spacing: float, slope: float) -> list[Ends]:
    ux, uy = cos(slope), -sin(slope)
    nx, ny = -uy, ux
    edges = [
        (x1, y1, x2, y2, x1 * nx + y1 * ny, x2 * nx + y2 * ny)
        for area in areas
        for (x1, y1), (x2, y2) in zip(area, [*area[1:], area[0]], strict=True)
    ]
    across = [edge[4] for edge in edges]
    first, beyond = int(min(across) // spacing) + 1, max(across)
    offsets = takewhile(lambda offset: offset < beyond, (step * spacing for step in count(first)))
    return [ends for offset in offsets for ends in _scan(edges, (ux, uy), (nx, ny), offset)]


def _scan(edges: Sequence[Edge], along: Point, normal: Point, offset: float) -> list[Ends]:
    hits = []
    for x1, y1, x2, y2, from_, to in edges:
        a, b = from_ - offset, to - offset
        if (a < 0) != (b < 0):
            share = a / (a - b)
            hits.append((x1 + (x2 - x1) * share) * along[0] + (y1 + (y2 - y1) * share) * along[1])
    hits.sort()
    base = (normal[0] * offset, normal[1] * offset)
    return [
        (base[0] + along[0] * a, base[1] + along[1] * a, base[0] + along[0] * b, base[1] + along[1] * b)
        for a, b in zip(hits[::2], hits[1::2], strict=False)
    ]
