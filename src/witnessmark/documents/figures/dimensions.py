"""Dimensions in the habits of ISO 129-1: narrow lines, filled arrows, extension lines that start clear of the outline
and end a little past the dimension line, text above the line and never through one. (From memory of the standard.)"""

from math import atan2, cos, degrees, hypot, radians, sin

from witnessmark.documents.figures.lettering import SIZE, slanting_text, text, text_width
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import arc, arc_points, arrow_head, line

GAP = 1.5  # from the outline to the start of an extension line
PAST = 2.5  # of an extension line past the dimension line
RISE = 2.6  # of the base line of text above its line
SLANTING_RISE = 3.8
ARROW = 6.5
ROOM_FOR_ARROWS = 2 * ARROW + 3
SIDE_ROOM = 3.0


def across(
    x1: float, x2: float, y: float, words: str, near1: float, near2: float, beyond: str = "right", within: bool = True
) -> Part:
    """A horizontal dimension at height y between x1 < x2, whose extension lines come from near1 and near2.

    Text that does not fit between (or may not, `within` false) stands past the end named by `beyond`. Arrows that do
    not fit stand outside and point inwards.
    """
    parts = [_extension_down(x1, near1, y), _extension_down(x2, near2, y)]
    width, span = text_width(words), x2 - x1
    outside = span < ROOM_FOR_ARROWS
    if within and not outside and span >= width + 2 * SIDE_ROOM:
        parts += [line(x1, y, x2, y, "thin"), text((x1 + x2) / 2, y - RISE, words)]
    else:
        reach = (ARROW + SIDE_ROOM if outside else 0) + width + SIDE_ROOM
        short = ARROW + SIDE_ROOM if outside else 0
        left, right = (short, reach) if beyond == "right" else (reach, short)
        at = x2 + right - width if beyond == "right" else x1 - left
        parts += [line(x1 - left, y, x2 + right, y, "thin"), text(at, y - RISE, words, "start")]
    turn = -1 if outside else 1
    parts += [arrow_head(x1, y, -turn, 0), arrow_head(x2, y, turn, 0)]
    return together(*parts).spanning(words, span)


def upright(
    y1: float, y2: float, x: float, words: str, near1: float, near2: float, beyond: str = "top", within: bool = True
) -> Part:
    """A vertical dimension at x between y1 < y2 (top and bottom), text turned to be read from the right."""
    parts = [_extension_across(y1, near1, x), _extension_across(y2, near2, x)]
    width, span = text_width(words), y2 - y1
    outside = span < ROOM_FOR_ARROWS
    if within and not outside and span >= width + 2 * SIDE_ROOM:
        parts += [line(x, y1, x, y2, "thin"), text(x - RISE, (y1 + y2) / 2, words, turned=True)]
    else:
        reach = (ARROW + SIDE_ROOM if outside else 0) + width + SIDE_ROOM
        short = ARROW + SIDE_ROOM if outside else 0
        up, down = (reach, short) if beyond == "top" else (short, reach)
        at = y1 - up + width if beyond == "top" else y2 + down
        parts += [line(x, y1 - up, x, y2 + down, "thin"), text(x - RISE, at, words, "start", turned=True)]
    turn = -1 if outside else 1
    parts += [arrow_head(x, y1, 0, -turn), arrow_head(x, y2, 0, turn)]
    return together(*parts).spanning(words, span)


def aligned(x1: float, y1: float, x2: float, y2: float, off: float, words: str) -> Part:
    """A dimension along a sloping edge from left (x1, y1) to right (x2, y2), `off` points above it."""
    size = hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    nx, ny = uy, -ux  # square to the edge, upwards on the page
    way = 1 if off > 0 else -1
    ends = [(x + nx * off, y + ny * off) for x, y in ((x1, y1), (x2, y2))]
    parts = [line(*ends[0], *ends[1], "thin")]
    for (x, y), (ex, ey), turn in (((x1, y1), ends[0], -1), ((x2, y2), ends[1], 1)):
        parts.append(line(x + nx * GAP * way, y + ny * GAP * way, ex + nx * PAST * way, ey + ny * PAST * way, "thin"))
        parts.append(arrow_head(ex, ey, ux * turn, uy * turn))
    middle = ((ends[0][0] + ends[1][0]) / 2 + nx * SLANTING_RISE, (ends[0][1] + ends[1][1]) / 2 + ny * SLANTING_RISE)
    parts.append(slanting_text(*middle, degrees(atan2(-uy, ux)), words))
    return together(*parts).spanning(words, size)


def _extension_down(x: float, near: float, y: float) -> Part:
    way = 1 if y > near else -1
    return line(x, near + way * GAP, x, y + way * PAST, "thin")


def _extension_across(y: float, near: float, x: float) -> Part:
    way = 1 if x > near else -1
    return line(near + way * GAP, y, x + way * PAST, y, "thin")


def leader(x: float, y: float, elbow_x: float, elbow_y: float, words: str, end: str = "arrow") -> Part:
    """A leader from x, y to an elbow, with a landing under the words on the far side; ends in an arrow, dot or none."""
    way = 1 if elbow_x >= x else -1
    width = text_width(words)
    far = elbow_x + way * (width + 2)
    parts = [line(x, y, elbow_x, elbow_y, "thin"), line(elbow_x, elbow_y, far, elbow_y, "thin")]
    parts.append(text(min(elbow_x, far) + 1, elbow_y - RISE, words, "start"))
    if end == "arrow":
        parts.append(arrow_head(x, y, x - elbow_x, y - elbow_y))
    elif end == "dot":
        parts.append(dot(x, y))
    return together(*parts)


def dot(x: float, y: float) -> Part:
    """A filled dot that a leader ends in."""
    from_here = arc_points(x, y, 1.3, 0, 360, 8)
    svg = "M" + "L".join(f"{px:.2f} {py:.2f}" for px, py in from_here) + "Z"
    return Part(f'<path d="{svg}" fill="#111"/>', line(x - 1.3, y - 1.3, x + 1.3, y + 1.3).box)


def round_leader(x: float, y: float, r: float, angle: float, words: str, reach: float = 16.0) -> Part:
    """A diameter or radius by a leader that meets a circle square, at `angle` degrees anticlockwise from +x."""
    ux, uy = cos(radians(angle)), -sin(radians(angle))
    drawn = leader(x + r * ux, y + r * uy, x + (r + reach) * ux, y + (r + reach) * uy, words)
    return drawn.spanning(words, 2 * r if words.startswith("⌀") else r)


def angle_between(
    x: float, y: float, r: float, start: float, end: float, words: str, out: float = 4.0, away: float | None = None
) -> Part:
    """An angle at x, y from `start` to `end` degrees (anticlockwise), its text outside the arc at `away` degrees."""
    middle = radians((start + end) / 2 if away is None else away)
    parts = [arc(x, y, r, start, end)]
    long_enough = radians(abs(end - start)) * r > ROOM_FOR_ARROWS
    for at, way in ((start, -1), (end, 1)):
        turn = way if long_enough else -way
        a = radians(at)
        parts.append(arrow_head(x + r * cos(a), y - r * sin(a), -sin(a) * turn, -cos(a) * turn, 5.5, 2.1))
    if not long_enough:
        extra = 500 / r
        parts += [arc(x, y, r, start - extra, start), arc(x, y, r, end, end + extra)]
    tx, ty = x + (r + out) * cos(middle), y - (r + out) * sin(middle)
    side = "start" if cos(middle) > 0.3 else "end" if cos(middle) < -0.3 else "middle"
    parts.append(text(tx, ty + SIZE * 0.25, words, side))
    return together(*parts).spanning(words, abs(end - start))
