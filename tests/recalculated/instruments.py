"""What an instrument reads, by the lines and numbers of its drawing alone, as a person reads it: which line is the last
before the edge, which two lines meet, between which numbers a pointer stands.

Nothing is taken from the package. Points of the drawing are in points, y downwards; readings are in the numbers that
stand on the scale.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as ET

NEAR = 0.02  # points: coordinates are printed to a hundredth of one
SVG = "{http://www.w3.org/2000/svg}"
BASE = 0.28  # share of its size by which the middle of a number stands above its base line
MIDDLE = (0.0, 0.0)

Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A straight line from one point to another."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length(self) -> float:
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)


@dataclass(frozen=True)
class Number:
    """A number that is printed, and where its middle stands (its beginning, where it begins there)."""

    value: float
    x: float
    y: float


@dataclass(frozen=True)
class Drawing:
    """The lines, the numbers, the centres of circles and the open runs of lines of a figure."""

    lines: list[Line]
    numbers: list[Number]
    circles: list[Point]
    runs: list[list[Point]]


def drawing(svg: str) -> Drawing:
    """A figure as what is drawn."""
    root = ET.fromstring(svg)
    lines = [Line(*(float(e.get(k, "nan")) for k in ("x1", "y1", "x2", "y2"))) for e in root.iter(f"{SVG}line")]
    numbers = [
        Number(
            float(e.text), float(e.get("x", "nan")), float(e.get("y", "nan")) - BASE * float(e.get("font-size", "nan"))
        )
        for e in root.iter(f"{SVG}text")
        if e.text and e.text.replace(".", "").isdigit()
    ]
    circles = [(float(e.get("cx", "nan")), float(e.get("cy", "nan"))) for e in root.iter(f"{SVG}circle")]
    runs = [
        [(float(x), float(y)) for x, y in (point.split(",") for point in e.get("points", "").split())]
        for e in root.iter(f"{SVG}polyline")
    ]
    return Drawing(lines, numbers, circles, runs)


def vernier(svg: str) -> float:
    """Millimetres on the beam up to the nought of the slide, and the line of the slide that meets one of the beam."""
    d = drawing(svg)
    upright = [line for line in d.lines if line.x1 == line.x2 and line.y1 == 0]
    beam = sorted(line.x1 for line in upright if line.y2 < 0)
    slide = sorted(line.x1 for line in upright if line.y2 > 0)
    known = next(n for n in d.numbers if n.y < 0)
    at_known = _nearest(beam, known.x)
    before = max(i for i, x in enumerate(beam) if x <= slide[0] + NEAR)
    whole = known.value + before - at_known
    meeting = min(range(len(slide)), key=lambda i: min(abs(slide[i] - x) for x in beam))
    return whole + meeting / (len(slide) - 1)


def micrometer(svg: str) -> float:
    """Whole and half millimetres that the sleeve shows, and the line of the thimble at the line of the sleeve."""
    d = drawing(svg)
    round_it = [line for line in d.lines if line.x1 != line.x2 and line.y1 != line.y2]
    edge = max(line.x1 for line in round_it)
    upright = [line for line in d.lines if line.x1 == line.x2 and line.y1 == 0 and line.x1 <= edge]
    whole = sorted(line.x1 for line in upright if line.y2 < 0)
    halves = [line.x1 for line in upright if line.y2 > 0]
    known = next(n for n in d.numbers if n.x < edge)
    millimetres = known.value + len(whole) - 1 - _nearest(whole, known.x)
    half = 0.5 if any(x > whole[-1] for x in halves) else 0.0
    return millimetres + half + _round_the_thimble(d, edge) / 100


def _round_the_thimble(d: Drawing, edge: float) -> int:
    """The number of the line at the middle, counted from a line that carries a number."""
    lines = sorted((line for line in d.lines if line.x1 == edge and line.x2 > edge), key=lambda line: -line.y1)
    longest = max(line.x2 for line in lines)
    number = min((n for n in d.numbers if n.x > edge), key=lambda n: abs(n.y))
    carrying = [i for i, line in enumerate(lines) if line.x2 == longest]
    numbered = min(carrying, key=lambda i: abs(_height_at(lines[i], number.x) - number.y))
    middle = min(range(len(lines)), key=lambda i: abs(lines[i].y1))
    assert abs(lines[middle].y1) < NEAR, "no line of the thimble meets the line of the sleeve"
    return int(number.value + middle - numbered) % 50


def _height_at(line: Line, x: float) -> float:
    return line.y1 + (line.y2 - line.y1) * (x - line.x1) / (line.x2 - line.x1)


def dial_gauge(svg: str) -> float:
    """Turns that the short hand has passed, and lines that the long hand has, clockwise from the nought at the top."""
    d = drawing(svg)
    centres = [c for c in dict.fromkeys(d.circles) if c != MIDDLE]
    rim = [line for line in d.lines if math.hypot(line.x2, line.y2) > 80]
    top = next(n for n in d.numbers if n.value == 0 and n.y < -80)
    lines = sorted(_clockwise(line.x2, line.y2) for line in rim if _is_ray(line))
    hand = _clockwise_of(_hands(d, MIDDLE), MIDDLE)
    assert abs(top.x) < NEAR
    passed = _nearest(lines, hand)
    turns = _clockwise_of(_hands(d, centres[0]), centres[0]) / 360 * 10
    whole = round(turns - passed / 100)
    assert abs(turns - whole - passed / 100) < 0.05, "the two hands do not agree"
    return whole + passed / 100


def _is_ray(line: Line) -> bool:
    """Whether a line points at the middle, and does not come from it."""
    return abs(line.x1 * line.y2 - line.x2 * line.y1) < 3 and math.hypot(line.x1, line.y1) > 70 and line.length < 13


def _hands(d: Drawing, centre: Point) -> Line:
    """The line that begins at the middle of a dial."""
    return next(line for line in d.lines if (line.x1, line.y1) == centre)


def _clockwise(x: float, y: float) -> float:
    """Degrees from the top."""
    angle = math.degrees(math.atan2(x, -y)) % 360
    return 0.0 if angle > 359.9 else angle


def _clockwise_of(line: Line, centre: Point) -> float:
    return _clockwise(line.x2 - centre[0], line.y2 - centre[1])


def pressure_gauge(svg: str) -> float:
    """What the pointer shows on the scale that it ends at: numbers passed, and half divisions past the last."""
    d = drawing(svg)
    reach = max(math.hypot(line.x2, line.y2) for line in d.lines if _continues(line, d))
    ends = [line for line in d.lines if abs(math.hypot(line.x1, line.y1) - reach) < NEAR and not _continues(line, d)]
    numbers = sorted(n.value for n in d.numbers if reach < math.hypot(n.x, n.y) < reach + 10)
    longest = max(line.length for line in ends)
    scale = sorted((_from_the_left(line.x1, line.y1), line.length > longest - 1) for line in ends)
    numbered = [angle for angle, is_long in scale if is_long]
    assert len(numbered) == len(numbers), "a number for each long line"
    hand = _from_the_left(*_tip(d, reach))
    passed = max(i for i, angle in enumerate(numbered[:-1]) if angle <= hand + 0.1)
    between = sum(1 for angle, _ in scale if numbered[passed] < angle <= numbered[passed + 1])
    step = (numbers[passed + 1] - numbers[passed]) / between
    width = (numbered[passed + 1] - numbered[passed]) / between
    return numbers[passed] + round(2 * (hand - numbered[passed]) / width) / 2 * step


def _continues(line: Line, d: Drawing) -> bool:
    """Whether a line is the hand, or its thin end."""
    hand = _hands(d, MIDDLE)
    return line == hand or (line.x1, line.y1) == (hand.x2, hand.y2)


def _tip(d: Drawing, reach: float) -> Point:
    return next((p.x2, p.y2) for p in d.lines if _continues(p, d) and math.hypot(p.x2, p.y2) > reach - NEAR)


def _from_the_left(x: float, y: float) -> float:
    """Degrees clockwise from straight down, where no scale of a gauge has a line."""
    return (math.degrees(math.atan2(x, -y)) + 180) % 360


def heights(svg: str) -> tuple[float, float, float]:
    """Of a curve, by the numbers of the upright axis: where it is flat at first, its highest point, its end."""
    d = drawing(svg)
    axis = sorted((n.y, n.value) for n in d.numbers if n.x < 0)
    assert all(a[1] > b[1] for a, b in pairwise(axis))
    points = [point for run in d.runs for point in run]
    flat = next(b for a, b in pairwise(points) if a[1] == b[1] and a[0] < b[0])
    return tuple(_between(axis, y) for y in (flat[1], min(y for _, y in points), points[-1][1]))  # type: ignore[return-value]


def _between(axis: list[tuple[float, float]], y: float) -> float:
    (first, high), (last, low) = axis[0], axis[-1]
    return low + (high - low) * (last - y) / (last - first)


def _nearest(places: Iterable[float], wanted: float) -> int:
    return min(enumerate(places), key=lambda pair: abs(pair[1] - wanted))[0]
