"""The door to jinja2 for figures: a template of the bank and one student's numbers give an SVG and a sentence."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from html import escape
from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt, tan
from typing import Any

from jinja2 import Template, TemplateError

from witnessmark.documents.figures import (
    balloons,
    dials,
    dimensions,
    graphs,
    lettering,
    machinery,
    shapes,
    signs,
    slides,
)
from witnessmark.documents.figures.drawn_once import drawn_once
from witnessmark.documents.figures.lettering import FAMILY
from witnessmark.documents.figures.part import Box, Part, box_round, point_text, together
from witnessmark.documents.figures.template_limits import COUNTED, FigureEnvironment, Rounds
from witnessmark.maths.printing.numbers import quantity_text, shown_number
from witnessmark.maths.quantities import from_si
from witnessmark.questions.model.kinds import balloons_in
from witnessmark.questions.sheet.listing import balloon_numbers
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.text.plain_words import squeezed

BLANKS = re.compile(r"[ \t\n]+")  # not the spaces that do not break
MARGIN = 3.0
NOTE_SIZE = 8.0
ROOM_BESIDE_NOTES = 8.0
SIGN_SIZE, SIGN_REACH = 0.7, 16.0
NOT_TO_SCALE = " not to scale"
PARTS: dict[str, Callable[..., Part]] = {
    f.__name__: drawn_once(f)
    for f in (
        shapes.line, shapes.polygon, shapes.rect, shapes.circle, shapes.arc, shapes.hatch, shapes.arrow_head,
        lettering.text, lettering.slanting_text,
        dimensions.across, dimensions.upright, dimensions.aligned, dimensions.leader, dimensions.round_leader,
        dimensions.angle_between,
        machinery.force, machinery.turning, machinery.ground, machinery.wall, machinery.slab, machinery.pivot,
        machinery.roller, machinery.pulley, machinery.spring, machinery.bar_between, machinery.weight,
        machinery.break_line, machinery.broken,
        signs.junction, signs.terminal, signs.source, signs.fuse, signs.lamp, signs.meter, signs.taper_sign,
        signs.cutting_plane,
        slides.vernier, slides.micrometer, dials.dial_gauge, dials.gauge, graphs.graph,
    )
}  # fmt: skip
MATHS = {"pi": pi, "sqrt": sqrt, "sin": sin, "cos": cos, "tan": tan, "atan2": atan2, "hypot": hypot,
         "degrees": degrees, "radians": radians, "min": min, "max": max, "abs": abs, "arc_points": shapes.arc_points,
         "curve": graphs.curve, "text_width": lettering.text_width, "number_text": shown_number}  # fmt: skip


class FigureError(ValueError):
    """A figure template that cannot be drawn with these numbers; the text says why."""


@dataclass(frozen=True, slots=True)
class FigureArt:
    """A finished figure: the SVG, a sentence that says what it shows with its numbers, and what it is made of.

    `width` and `height` are in points; `parts` is the whole drawing, for whoever checks that nothing overlaps.
    """

    svg: str
    alt: str
    title: str
    width: float
    height: float
    parts: Part


@dataclass(slots=True)
class _Canvas:
    """What one template has drawn and said so far."""

    variant: Variant
    parts: list[Part] = field(default_factory=list)
    title: str = ""
    alt: str = ""
    notes: list[str] = field(default_factory=list)
    first_angle: bool = False
    placed: list[str] = field(default_factory=list)

    def drawer(self, part: Callable[..., Part]) -> Callable[..., str]:
        """A drawing part as a template calls it: draws on the canvas, and leaves nothing in the text."""

        def draw(*args: Any, **named: Any) -> str:
            self.parts.append(part(*args, **named))
            return ""

        return draw

    def say(self, title: str, alt: str) -> str:
        """The title of the figure and the sentence for those who cannot see it."""
        self.title, self.alt = str(title), BLANKS.sub(" ", str(alt)).strip()
        return ""

    def note(self, words: str) -> str:
        """A note under the figure, such as what is not to scale."""
        if words not in self.notes:
            self.notes.append(words)
        return ""

    def views(self) -> str:
        """The sign of first angle projection under the figure, for one whose views are laid out that way."""
        self.first_angle = True
        return ""

    def limited(self, value: float, low: float, high: float, note: str = "not to scale") -> float:
        """A length kept readable: at least `low`, at most `high` points, with a note in the figure when it was cut."""
        kept = max(low, min(high, value))
        if kept != value:
            self.note(note)
        return kept

    def number(self, name: str, unit: str = "") -> float:
        """The value of a given as a number in any unit of its kind."""
        return from_si(self.variant.shown[name].si, unit)

    def value(self, name: str) -> str:
        """The value of a given as text; LookupError for one that is to be read from the figure."""
        if any(given.name == name and given.in_figure for given in self.variant.question.givens):
            raise LookupError(f"value('{name}') would print what is to be read from the figure; draw it by number()")
        shown = self.variant.shown[name]
        return quantity_text(shown.number, shown.unit)

    def balloon(self, name: str, x: float, y: float, to_x: float, to_y: float, end: str = "dot") -> str:
        """The student's number of a thing in a ring; nothing where the question asks for no balloons. LookupError for a
        thing that it does not ask for."""
        numbers = balloon_numbers(self.variant)
        if not numbers:
            return ""
        if name not in numbers:
            raise LookupError(f"balloon('{name}') is none of the things that are asked for: {', '.join(numbers)}")
        self.placed.append(name)
        return self.drawer(balloons.balloon)(numbers[name], x, y, to_x, to_y, end)

    def check_balloons(self) -> None:
        """Raises FigureError where a thing that is asked for has no balloon, or two, or its name can be read here."""
        for part in balloons_in(self.variant.question.parts):
            for thing in part.things:
                if self.placed.count(thing) != 1:
                    raise FigureError(f"'{thing}' has {self.placed.count(thing)} balloons; draw one, with balloon()")
            read = [self.title, self.alt, *(text.words for drawn in self.parts for text in drawn.texts)]
            said = {squeezed(filled(option, self.variant)) for option in part.options}
            told = [words for words in read for option in said if f" {option} " in f" {squeezed(words)} "]
            if told:
                raise FigureError(f"'{told[0]}' names an option that is to be told from the figure")

    def words(self) -> dict[str, Any]:
        """All that a template may use."""
        drawers = {name: self.drawer(part) for name, part in PARTS.items()}
        shown = self.variant.shown
        return {
            **MATHS,
            **drawers,
            "say": self.say,
            "limited": self.limited,
            "note": self.note,
            "views": self.views,
            "balloon": self.balloon,
            "value": self.value,
            "number": self.number,
            "mm": lambda name: shown[name].si * 1000,
            "has": lambda name: name in shown or name in self.variant.row_names,
            "row": lambda name: self.variant.row_names[name],
        }


@lru_cache(maxsize=256)
def _template(text: str) -> Template:
    return FigureEnvironment().from_string(text)


def figure_svg(template_text: str, variant: Variant) -> FigureArt:
    """The figure of one variant; raises FigureError when the template fails, says nothing of what it shows, or tells
    what its balloons are asked for."""
    canvas = _Canvas(variant)
    try:
        _template(template_text).render(**canvas.words(), **{COUNTED: Rounds()})
    except (TemplateError, ArithmeticError, LookupError, TypeError, ValueError, RecursionError, MemoryError) as error:
        raise FigureError(f"{type(error).__name__}: {error}") from error
    if not canvas.parts or not canvas.alt or not canvas.title:
        raise FigureError("a figure draws something, and says its title and what it shows with say(title, sentence)")
    canvas.check_balloons()
    return _finished(canvas)


def _finished(canvas: _Canvas) -> FigureArt:
    drawing = together(*canvas.parts)
    drawing = together(drawing, *_below(canvas, drawing.box))
    box = box_round([drawing.box]).padded(MARGIN)
    left, top, width, height = (point_text(v) for v in (box.left, box.top, box.width, box.height))
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{width}pt" height="{height}pt"'
        f' viewBox="{left} {top} {width} {height}"><title>{escape(canvas.title)}</title>'
        f'<desc>{escape(canvas.alt)}</desc><g font-family="{FAMILY}" fill="#111">{drawing.svg}</g></svg>'
    )
    return FigureArt(svg, canvas.alt, canvas.title, box.width, box.height, drawing)


def _below(canvas: _Canvas, box: Box) -> list[Part]:
    """What stands under a drawing: its notes, and the sign of its projection to the right of them."""
    y, at = box.bottom + NOTE_SIZE + 4, box.left
    found = []
    if canvas.notes:
        found.append(lettering.text(at, y, _joined(canvas.notes), "start", NOTE_SIZE))
        at = found[0].box.right + ROOM_BESIDE_NOTES
    if canvas.first_angle:
        found.append(signs.first_angle(max(at + SIGN_REACH, box.right - SIGN_REACH), y - 2, SIGN_SIZE))
    return found


def _joined(notes: Sequence[str]) -> str:
    """`thickness and section not to scale`; notes of other kinds stand one after the other."""
    cut = [note.removesuffix(NOT_TO_SCALE) for note in notes if note.endswith(NOT_TO_SCALE)]
    others = [note for note in notes if not note.endswith(NOT_TO_SCALE)]
    named = [" and ".join([", ".join(cut[:-1]), cut[-1]] if len(cut) > 1 else cut) + NOT_TO_SCALE] if cut else []
    return "; ".join([*named, *others])
