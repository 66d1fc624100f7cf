"""Bar charts as SVG text: labels, bars and values in one picture that prints and that a telephone can show, with a
title and a sentence for those who cannot see it; the same numbers always stand in a table beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH = 340.0
VALUES = 76.0
BAR = 11.0
LETTER = 7.8  # of 13 units, in DejaVu Serif, the widest roman that a page falls back on: at most 0.6 em, measured
SHORT = 6
LONGEST_LABEL = int(WIDTH / LETTER)
INK = "#111"
FILL = "#12486b"
REST = "#e3e8ec"
FAMILY = "Libertinus Serif, Cambria, Georgia, serif"


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its label, its length as a share (0 to 1) of the full width, and the words at its end."""

    label: str
    share: float
    value: str


def bar_chart(bars: Sequence[Bar], title: str, description: str) -> str:
    """The chart as one `svg` element, 340 units wide; short labels stand before their bars, others above them."""
    above = any(len(bar.label) > SHORT for bar in bars)
    row = 35.0 if above else 21.0
    height = row * len(bars) + 4
    rows = "".join(_row(bar, row * i, above) for i, bar in enumerate(bars))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" '
        f'width="{WIDTH:g}" height="{height:g}" role="img">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f'<g font-family="{FAMILY}" font-size="13" fill="{INK}">{rows}</g></svg>'
    )


def _row(bar: Bar, top: float, above: bool) -> str:
    label = bar.label if len(bar.label) <= LONGEST_LABEL else bar.label[: LONGEST_LABEL - 1] + "…"
    left = 0.0 if above else SHORT * LETTER
    middle = top + (24.0 if above else 11.0)
    length, share = WIDTH - left - VALUES, min(max(bar.share, 0.0), 1.0)
    at = f'x="{left:g}" y="{middle - BAR / 2:g}" height="{BAR:g}"'
    told = f'x="0" y="{top + 14:g}"' if above else f'x="{left - 8:g}" y="{middle + 4.5:g}" text-anchor="end"'
    return (
        f"<text {told}>{escape(label)}</text>"
        f'<rect {at} width="{length:g}" fill="{REST}"/>'
        f'<rect {at} width="{length * share:.1f}" fill="{FILL}"/>'
        f'<text x="{left + length + 8:g}" y="{middle + 4.5:g}">{escape(bar.value)}</text>'
    )
