"""The drawings of a year as SVG text: in one colour that a copier keeps; a table beside each says the same."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from witnessmark.documents.page.charts import FAMILY, FILL, INK, LETTER, REST, WIDTH
from witnessmark.documents.page.wordings import date_text
from witnessmark.review.statistics.shares import Share
from witnessmark.review.year.strip import Came, Cell, Row

THIN = "#595959"
LONGEST = int(WIDTH / LETTER)
VALUES = 70.0
LANE = 17.0
MAP_LANE = 36.0
LEAST_STEP = 24.0


def drawing(height: float, title: str, described: str, inner: str) -> str:
    """One `svg` element of the width of all charts, with its title and the sentence for those who cannot see it."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" width="{WIDTH:g}" '
        f'height="{height:g}" role="img"><title>{escape(title)}</title><desc>{escape(described)}</desc>'
        f'<g font-family="{FAMILY}" font-size="13" fill="{INK}">{inner}</g></svg>'
    )


def text(x: float, y: float, words: str, more: str = "") -> str:
    """A line of lettering that starts at x."""
    return f'<text x="{x:.1f}" y="{y:.1f}"{more}>{escape(words)}</text>'


def cut(label: str, most: int = LONGEST) -> str:
    """The label, or as much of it as there is room for."""
    return label if len(label) <= most else label[: most - 1] + "…"


# Recurrence ------------------------------------------------------------------------------------------------------
def interval_bars(bars: Sequence[tuple[str, Share]], title: str) -> str:
    """A bar for each share against all who had the chance, and below it how far so many can tell."""
    described = "; ".join(f"{label}: {share.count} of {share.of}" for label, share in bars)
    inner = "".join(_interval_bar(label, share, 40.0 * n) for n, (label, share) in enumerate(bars))
    return drawing(40.0 * len(bars) + 4, title, described, inner)


def _interval_bar(label: str, share: Share, top: float) -> str:
    length, interval, y = WIDTH - VALUES, share.interval(), top + 19
    low, high = length * interval.low, length * interval.high
    whisker = "".join(f'<path d="M{x:.1f} {y + 10:g}v6" stroke="{INK}"/>' for x in (low, high))
    return (
        text(0, top + 14, cut(label))
        + f'<rect x="0.5" y="{y:g}" width="{length - 1:g}" height="9" fill="{REST}" stroke="{THIN}"/>'
        + f'<rect x="0" y="{y:g}" width="{length * (share.value or 0):.1f}" height="9" fill="{FILL}"/>'
        + f'<path d="M{low:.1f} {y + 13:g}H{high:.1f}" stroke="{INK}" stroke-width="1.2"/>{whisker}'
        + text(length + 8, y + 9, f"{share.count} of {share.of}")
    )


# The strip of the class ------------------------------------------------------------------------------------------
def class_strip(rows: Sequence[Row], names: Sequence[str], title: str) -> str:
    """Students by parts, tasks apart: a square is filled from below by its share of the marks."""
    widths = [max((len(row.tasks[n]) for row in rows), default=1) for n in range(len(rows[0].tasks))]
    left = min(110.0, max(len(name) for name in names) * LETTER + 6)
    gap = 7.0
    side = min(16.0, (WIDTH - left - gap * len(widths)) / sum(widths))
    starts = [left + gap * (n + 1) + side * sum(widths[:n]) for n in range(len(widths))]
    heads = "".join(text(x, 11, str(n)) for n, x in enumerate(starts, 1))
    inner = heads + "".join(_strip_row(row, name, 17 + LANE * n, starts, side)
                            for n, (row, name) in enumerate(zip(rows, names, strict=True)))  # fmt: skip
    return drawing(20 + LANE * len(rows), title, f"{title}; the table says the same in numbers", inner)


def _strip_row(row: Row, name: str, top: float, starts: Sequence[float], side: float) -> str:
    found = [text(0, top + 12, cut(name, 14))]
    for start, cells in zip(starts, row.tasks, strict=True):
        found += [_square(cell, start + side * n, top, max(1.5, side - 2)) for n, cell in enumerate(cells)]
    return "".join(found)


def _square(cell: Cell, x: float, top: float, width: float) -> str:
    """One part: how much of it was earned, and a bar at what a further attempt earned."""
    high = LANE - 4
    if cell.came is Came.NOT_SET:
        return ""
    if cell.came is Came.EXCUSED:
        return f'<path d="M{x:.1f} {top + high:g}l{width:.1f} {-high:g}" stroke="{THIN}" stroke-width="0.8"/>'
    later = cell.share_again
    again = "" if later is None else (
        f'<path d="M{x - 1.5:.1f} {top + high * (1 - later):.1f}h{width + 3:.1f}" stroke="{INK}" stroke-width="2.2"/>'
    )  # fmt: skip
    if cell.came is Came.NOT_BACK:
        return f'<path d="M{x:.1f} {top + high:g}h{width:.1f}" stroke="{THIN}" stroke-width="0.8"/>{again}'
    filled = high * cell.share
    dash = ' stroke-dasharray="1.5 1.5"' if cell.came is Came.WAITS else ""
    return (
        f'<rect x="{x:.1f}" y="{top:g}" width="{width:.1f}" height="{high:g}" fill="none" stroke="{THIN}" '
        f'stroke-width="0.7"{dash}/><rect x="{x:.1f}" y="{top + high - filled:.1f}" width="{width:.1f}" '
        f'height="{filled:.1f}" fill="{FILL}"/>{again}'
    )


# The map by topic ------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class MapRow:
    """One misconception: by topic, those who showed it there of those who had the chance there."""

    label: str
    shares: tuple[Share, ...]


def topic_map(topics: Sequence[str], rows: Sequence[MapRow], students: int, title: str) -> str:
    """Rings over topics: the area says how many showed it, an open one that some had the chance and none did. Where
    there is room the rings stand beside the names, else below them."""
    head = max(len(topic) for topic in topics) * LETTER + 8
    left = max(len(row.label) for row in rows) * LETTER + 8
    is_beside = left + LEAST_STEP * len(topics) <= WIDTH
    start, lane, down = (left, 22.0, 11.0) if is_beside else (0.0, MAP_LANE, 26.0)
    step = min(60.0, (WIDTH - start) / len(topics))
    middles = [start + step * (n + 0.5) for n in range(len(topics))]
    names = "".join(
        text(0, 0, topic, f' transform="translate({x + 4:.1f} {head - 4:.1f}) rotate(-90)"')
        for x, topic in zip(middles, topics, strict=True)
    )
    lanes = "".join(_map_row(row, head + lane * n, down, middles, students) for n, row in enumerate(rows))
    described = "; ".join(
        f"{row.label}: "
        + ", ".join(f"{t} {s.count} of {s.of}" for t, s in zip(topics, row.shares, strict=True) if s.of)
        for row in rows
    )
    return drawing(head + lane * len(rows) + 4, title, described, names + lanes)


def _map_row(row: MapRow, top: float, down: float, middles: Sequence[float], students: int) -> str:
    found = [f'<path d="M0 {top:g}H{WIDTH:g}" stroke="{REST}"/>', text(0, top + 14, cut(row.label))]
    for x, share in zip(middles, row.shares, strict=True):
        at = f'cx="{x:.1f}" cy="{top + down:g}"'
        if share.count:
            found.append(f'<circle {at} r="{2.5 + 6.5 * (share.count / students) ** 0.5:.1f}" fill="{FILL}"/>')
        elif share.of:
            found.append(f'<circle {at} r="2.5" fill="none" stroke="{INK}" stroke-width="0.9"/>')
    return "".join(found)


# The timeline ----------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Moment:
    """Something of the year: its day, the mark that stands for it, and whether it was a visit."""

    day: date
    mark: str
    is_visit: bool = False


def timeline(moments: Sequence[Moment], title: str, described: str) -> str:
    """The year as a line with its days: tasks above it as numbers in rings, visits below it as triangles."""
    days = [moment.day for moment in moments]
    first, span = min(days), max(1, (max(days) - min(days)).days)
    placed = [(moment, 16 + (WIDTH - 32) * (moment.day - first).days / span) for moment in moments]
    above, below = _lanes(p for p in placed if not p[0].is_visit), _lanes(p for p in placed if p[0].is_visit)
    line = 12 + 24.0 * (1 + max((lane for *_, lane in above), default=0))
    inner = [f'<path d="M4 {line:g}H{WIDTH - 4:g}" stroke="{INK}"/>']
    for moment, x, lane in above:
        y = line - 15 - 24 * lane
        inner.append(f'<path d="M{x:.1f} {line:g}V{y:g}" stroke="{THIN}" stroke-width="0.7"/>'
                     f'<circle cx="{x:.1f}" cy="{y:g}" r="10" fill="#fff" stroke="{FILL}" stroke-width="1.5"/>'
                     + text(x, y + 4.5, moment.mark, ' text-anchor="middle"'))  # fmt: skip
    for _, x, lane in below:
        y = line + 8 + 14 * lane
        inner.append(f'<path d="M{x:.1f} {y:g}l5.5 9h-11z" fill="{FILL}"/>')
    foot = line + 38 + 14 * max((lane for *_, lane in below), default=0)
    inner += [text(0, foot, date_text(first)), text(WIDTH, foot, date_text(max(days)), ' text-anchor="end"')]
    return drawing(foot + 6, title, described, "".join(inner))


def _lanes(placed: Iterable[tuple[Moment, float]]) -> list[tuple[Moment, float, int]]:
    """Each with the first lane in which it does not stand on another."""
    ends: list[float] = []
    found = []
    for moment, x in sorted(placed, key=lambda p: p[1]):
        lane = next((n for n, end in enumerate(ends) if x - end >= 23), len(ends))
        ends[lane : lane + 1] = [x]
        found.append((moment, x, lane))
    return found
