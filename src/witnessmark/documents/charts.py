"""Bar charts as SVG text: labels, bars and values in one picture that prints, with a title and a sentence for those
who cannot see it; the same numbers always stand in a table beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

ROW = 22.0
BAR = 12.0
LABELS = 200.0
LENGTH = 230.0
VALUES = 70.0
INK = "#1d2b33"
FILL = "#2f6f7e"
REST = "#dfe7e8"
FAMILY = "Libertinus Serif, Georgia, serif"
LONGEST_LABEL = 38


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its label, its length as a share (0 to 1) of the full width, and the words at its end."""

    label: str
    share: float
    value: str


def bar_chart(bars: Sequence[Bar], title: str, description: str) -> str:
    """The chart as one `svg` element."""
    height = ROW * len(bars) + 8
    rows = "".join(_row(bar, ROW * i + 4) for i, bar in enumerate(bars))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {LABELS + LENGTH + VALUES:g} {height:g}" '
        f'width="{LABELS + LENGTH + VALUES:g}" height="{height:g}" role="img">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f'<g font-family="{FAMILY}" font-size="11" fill="{INK}">{rows}</g></svg>'
    )


def _row(bar: Bar, top: float) -> str:
    middle, share = top + ROW / 2, min(max(bar.share, 0.0), 1.0)
    label = bar.label if len(bar.label) <= LONGEST_LABEL else bar.label[: LONGEST_LABEL - 1] + "…"
    at = f'y="{middle - BAR / 2:g}" height="{BAR:g}"'
    return (
        f'<text x="{LABELS - 8:g}" y="{middle + 4:g}" text-anchor="end">{escape(label)}</text>'
        f'<rect x="{LABELS:g}" {at} width="{LENGTH:g}" fill="{REST}"/>'
        f'<rect x="{LABELS:g}" {at} width="{LENGTH * share:.1f}" fill="{FILL}"/>'
        f'<text x="{LABELS + LENGTH + 8:g}" y="{middle + 4:g}">{escape(bar.value)}</text>'
    )
