"""What every drawing part returns: SVG text with the boxes of all it covers. Unit: point; y grows downwards."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import chain


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle that holds something drawn."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Its width in points."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Its height in points."""
        return self.bottom - self.top

    def overlaps(self, other: "Box", slack: float = 0.0) -> bool:
        """True when the two share more than `slack` points both ways."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > slack and down > slack

    def padded(self, by: float) -> "Box":
        """The box grown by so many points on each side (shrunk when negative)."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight stroke of ink that text has to keep clear of."""

    x1: float
    y1: float
    x2: float
    y2: float

    def crosses(self, box: Box) -> bool:
        """True when some of the stroke lies inside the box (clipping of a segment, Liang and Barsky 1984)."""
        dx, dy = self.x2 - self.x1, self.y2 - self.y1
        first, last = 0.0, 1.0
        for step, room in (
            (-dx, self.x1 - box.left), (dx, box.right - self.x1), (-dy, self.y1 - box.top), (dy, box.bottom - self.y1),
        ):  # fmt: skip
            if step == 0:
                if room <= 0:
                    return False
                continue
            at = room / step
            first, last = (max(first, at), last) if step < 0 else (first, min(last, at))
        return first < last


@dataclass(frozen=True, slots=True)
class Lettering:
    """A text as placed: its words and its box; `piece` when the box covers a piece of slanting text only."""

    words: str
    box: Box
    piece: bool = False

    def is_of_one_text_with(self, other: "Lettering") -> bool:
        """True of two boxes that cover pieces of the same slanting text."""
        return self.piece and other.piece and self.words == other.words


@dataclass(frozen=True, slots=True)
class Span:
    """What a dimension says and how it is drawn: its words, and points between its ends, or degrees of an angle."""

    words: str
    drawn: float


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a figure: SVG text, the box of all its ink, its texts, strokes that other text keeps clear of, and
    the spans of its dimensions."""

    svg: str
    box: Box
    texts: tuple[Lettering, ...] = ()
    strokes: tuple[Segment, ...] = ()
    spans: tuple[Span, ...] = ()

    def spanning(self, words: str, drawn: float) -> "Part":
        """The same piece, as a dimension of these words over so many points or degrees."""
        return replace(self, spans=(*self.spans, Span(words, drawn)))


def box_of(points: Iterable[tuple[float, float]]) -> Box:
    """The smallest box round these points; at least one."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def box_round(boxes: Iterable[Box]) -> Box:
    """The smallest box round these boxes; at least one."""
    kept = list(boxes)
    lefts, tops = [b.left for b in kept], [b.top for b in kept]
    return Box(min(lefts), min(tops), max([b.right for b in kept]), max([b.bottom for b in kept]))


def together(*parts: Part) -> Part:
    """Several parts as one, drawn in this order."""
    return Part(
        "".join([p.svg for p in parts]),
        box_round([p.box for p in parts]),
        tuple(chain.from_iterable([p.texts for p in parts])),
        tuple(chain.from_iterable([p.strokes for p in parts])),
        tuple(chain.from_iterable([p.spans for p in parts])),
    )


@lru_cache(maxsize=8192)
def point_text(value: float) -> str:
    """A coordinate as SVG text, to a hundredth of a point."""
    text = f"{value:.2f}"
    if text.endswith(".00"):
        return "0" if text == "-0.00" else text[:-3]
    return text.removesuffix("0")
