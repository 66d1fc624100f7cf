"""Text in figures: measured with the advance widths of the font that is used, so that nothing runs into anything."""

import json
from functools import cache
from html import escape
from itertools import pairwise
from math import ceil, cos, radians, sin
from pathlib import Path

from witnessmark.documents.figures.part import Box, Lettering, Part, box_of, box_round, point_text

# Measured once with typst's own `measure` at 1000 pt (scripts/font_widths.py); kerning is left out, which errs wide.
WIDTHS_FILE = Path(__file__).with_name("widths.json")
FAMILY = "Libertinus Serif, Cambria, Times New Roman, serif"
SIZE = 9.5
ASCENT, DESCENT = 0.70, 0.22  # share of the size above and below the base line: capitals with figures, and descenders
UNKNOWN_WIDTH = 760
CELL = 2.4  # points: the size of the boxes that slanting text is covered with


@cache
def advance_widths() -> dict[str, int]:
    """Advance widths by character, in thousandths of the font size."""
    widths: dict[str, int] = json.loads(WIDTHS_FILE.read_text(encoding="utf-8"))["widths"]
    return widths


def text_width(words: str, size: float = SIZE) -> float:
    """The width of a text in points."""
    widths = advance_widths()
    return sum(widths.get(c, UNKNOWN_WIDTH) for c in words) * size / 1000


def text(
    x: float, y: float, words: str, at: str = "middle", size: float = SIZE, turned: bool = False, halo: bool = False
) -> Part:
    """Text with its base line at y (at x, reading upwards, when `turned`), starting, centred or ending there.

    `halo` puts white under it, for text on hatching or a fill. `textLength` keeps the measured width in any font.
    """
    width = text_width(words, size)
    before = {"start": 0.0, "middle": width / 2, "end": width}[at]
    if turned:
        box = Box(x - ASCENT * size, y + before - width, x + DESCENT * size, y + before)
    else:
        box = Box(x - before, y - ASCENT * size, x - before + width, y + DESCENT * size)
    turn = f' transform="rotate(-90 {point_text(x)} {point_text(y)})"' if turned else ""
    svg = (
        f'<text x="{point_text(x)}" y="{point_text(y)}" text-anchor="{at}" font-size="{point_text(size)}"'
        f' textLength="{point_text(width)}" lengthAdjust="spacingAndGlyphs"{turn}>{escape(words)}</text>'
    )
    return Part((_white(box.padded(1)) if halo else "") + svg, box, (Lettering(words, box),))


def slanting_text(x: float, y: float, angle: float, words: str, size: float = SIZE) -> Part:
    """Text centred at x, y along a line that rises by `angle` degrees; many small boxes follow its slope."""
    width = text_width(words, size)
    boxes = _slanting_boxes(x, y, radians(angle), width, size)
    svg = (
        f'<text x="{point_text(x)}" y="{point_text(y)}" text-anchor="middle" font-size="{point_text(size)}"'
        f' textLength="{point_text(width)}" lengthAdjust="spacingAndGlyphs"'
        f' transform="rotate({point_text(-angle)} {point_text(x)} {point_text(y)})">{escape(words)}</text>'
    )
    return Part(svg, box_round(boxes), tuple(Lettering(words, box, piece=True) for box in boxes))


def _slanting_boxes(x: float, y: float, a: float, width: float, size: float) -> list[Box]:
    across, up = ceil(width / CELL), ceil((ASCENT + DESCENT) * size / CELL)
    us = [-width / 2 + width * i / across for i in range(across + 1)]
    vs = [-ASCENT * size + (ASCENT + DESCENT) * size * i / up for i in range(up + 1)]
    corners = {(u, v): (x + u * cos(a) + v * sin(a), y - u * sin(a) + v * cos(a)) for u in us for v in vs}
    return [box_of([corners[u, v] for u in pair for v in rows]) for pair in pairwise(us) for rows in pairwise(vs)]


def _white(box: Box) -> str:
    return (
        f'<rect x="{point_text(box.left)}" y="{point_text(box.top)}" width="{point_text(box.width)}"'
        f' height="{point_text(box.height)}" fill="#fff"/>'
    )
