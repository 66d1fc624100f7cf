"""Instruments that are read along a line, drawn exactly to what they read: vernier caliper and micrometer.

Both are drawn larger than they are. Readings are in millimetres; 0, 0 is where the fixed scale meets the moving one.
"""

from math import ceil, floor, radians, sin

from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.machinery import break_line
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import line, polygon, rect

SMALL = 7.0  # size of the numbers on a scale
VERNIER_WIDTH = 330.0
FINEST = 20  # lines of a vernier: 50 of them, 0.02 mm apart, would lie a twenty-fifth of a millimetre apart on paper
BEAM, SLIDE = 34.0, 36.0  # heights
MILLIMETRE, HALF_WAY, LONG = 9.0, 13.0, 17.0  # lengths of lines: each one, each fifth, each tenth
BEFORE, AFTER = 3, 2  # millimetres of the beam that are seen on both sides of the slide
SLEEVE, THIMBLE = 26.0, 46.0  # radii
TURN = 0.5  # mm for each turn of the thimble
TURN_LINES = 50
SLEEVE_SCALE = 20.0  # points for each mm
SEEN = 155.0  # length of the sleeve that is drawn, so that one of its numbers is always on it
STEEPEST = 50.0  # degrees from the middle of the thimble, where its lines still lie apart
BEVEL, GRIP = 26.0, 40.0  # lengths of the thimble that are drawn
HIGHEST_NUMBER = 0.7  # as a share of the radius
BEYOND = 1e-9


def vernier(reading: float, lines: int) -> Part:
    """The beam (above) and the slide (below) of a caliper whose vernier has so many divisions on one millimetre less.

    10 read to 0.1 mm, 20 to 0.05 mm. `reading` is where the nought of the slide stands. ValueError for more than 20.
    """
    if lines > FINEST:
        raise ValueError(f"a vernier of at most {FINEST} lines can be read in print, not one of {lines}")
    first, last = max(floor(reading) - BEFORE, 0), ceil(reading) + lines - 1 + AFTER
    k = VERNIER_WIDTH / (last - first)
    at, step = (reading - first) * k, (1 - 1 / lines) * k
    parts = [rect(0, -BEAM, VERNIER_WIDTH, BEAM, "outline", "metal")]
    parts += [rect(at - 14, 0, lines * step + 28, SLIDE, "outline", "white")]
    for mm in range(first, last + 1):
        x = (mm - first) * k
        parts.append(line(x, 0, x, -_length(mm), "hair"))
        if not mm % 10 and SMALL < x < VERNIER_WIDTH - SMALL:
            parts.append(text(x, -LONG - 4, str(mm), size=SMALL))
    return together(*parts, *_slide(at, step, lines))


def _length(mm: int) -> float:
    return LONG if not mm % 10 else HALF_WAY if not mm % 5 else MILLIMETRE


def _slide(at: float, step: float, lines: int) -> list[Part]:
    """The lines of a slide from its nought on, with the tenths of a millimetre that they stand for."""
    parts = []
    for i in range(lines + 1):
        x, tenths, rest = at + i * step, *divmod(i * 10, lines)
        parts.append(line(x, 0, x, MILLIMETRE if rest else LONG, "hair"))
        parts += [] if rest else [text(x, LONG + 9, str(tenths), size=SMALL)]
    return parts


def micrometer(reading: float) -> Part:
    """The sleeve and the thimble of a micrometer with half a millimetre for each turn: whole millimetres above the line
    of the sleeve, half ones below it, and 50 lines round the thimble. Its edge and its lines stand where they would."""
    nought = SEEN - reading * SLEEVE_SCALE
    parts = [polygon([(0, -SLEEVE), (SEEN, -SLEEVE), (SEEN, SLEEVE), (0, SLEEVE)], "none", "metal")]
    parts += [line(0, y, SEEN, y) for y in (-SLEEVE, SLEEVE)]
    parts += [break_line(0, -SLEEVE, SLEEVE), line(max(nought, SMALL), 0, SEEN, 0, "thin")]
    for half in range(floor(2 * reading + BEYOND) + 1):
        x, mm = nought + half / 2 * SLEEVE_SCALE, half // 2
        if x > SMALL:
            parts.append(line(x, 0, x, 8 if half % 2 else -12 if not mm % 5 else -8, "thin"))
            parts += [text(x, -15, str(mm), size=SMALL)] if not half % 10 and x < SEEN - SMALL else []
    return together(*parts, *_thimble(SEEN, (reading % TURN) / TURN * TURN_LINES))


def _thimble(edge: float, line_at_middle: float) -> list[Part]:
    """The thimble, whose lines run round it: each is as high as its angle makes it."""
    out, end = edge + BEVEL, edge + BEVEL + GRIP
    outline = [(edge, -SLEEVE), (out, -THIMBLE), (end, -THIMBLE), (end, THIMBLE), (out, THIMBLE), (edge, SLEEVE)]
    parts = [polygon(outline, "outline", "white"), line(out, -THIMBLE, out, THIMBLE, "thin")]
    parts.append(rect(out + GRIP * 0.55, -THIMBLE, GRIP * 0.45, 2 * THIMBLE, "outline", "dark metal"))
    span = 360 / TURN_LINES
    for i in range(ceil(line_at_middle - STEEPEST / span), floor(line_at_middle + STEEPEST / span) + 1):
        up, number = sin(radians((i - line_at_middle) * span)), i % TURN_LINES
        share = 0.85 if not number % 5 else 0.5
        far = SLEEVE + (THIMBLE - SLEEVE) * share
        parts.append(line(edge, -up * SLEEVE, edge + BEVEL * share, -up * far, "hair"))
        if not number % 5 and abs(up) < HIGHEST_NUMBER:
            parts.append(text(out + 3, -up * THIMBLE + SMALL * 0.33, str(number), "start", SMALL))
    return parts
