"""Instruments in figures are drawn exactly to what they read: read back from their lines by a reader of its own."""

import re
from collections.abc import Callable
from functools import cache

import pytest

from bank_fixture import BANK
from recalculated.instruments import dial_gauge, heights, micrometer, pressure_gauge, vernier
from witnessmark.documents.figures import dials, graphs, slides
from witnessmark.documents.figures.clearance import clashes
from witnessmark.documents.figures.extremes import extreme_variants
from witnessmark.documents.figures.part import Part
from witnessmark.documents.figures.render import FigureError, figure_svg
from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.html import html_of
from witnessmark.documents.sheet.sheet import given_rows, question_blocks
from witnessmark.jobs.figures import figure_of
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.right_texts import given_texts
from witnessmark.questions.sheet.variant import Variant

READ = [question for question in BANK.values() if any(given.in_figure for given in question.givens)]
EACH = pytest.mark.parametrize("question", READ, ids=lambda question: question.key)
IMAGE = re.compile(r'src="data:image[^"]*"')
BAR, PSI = (10.0, 0.2, 5, "bar"), (145.038, 5.0, 4, "psi")


def svg_of(part: Part) -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg">{part.svg}</svg>'


def hundredths(first: int, last: int, step: int) -> list[float]:
    """Readings in hundredths, each as a number."""
    return [i / 100 for i in range(first, last, step)]


DRAWN: list[tuple[str, Callable[[float], Part], Callable[[str], float], list[float]]] = [
    ("vernier of 20", lambda r: slides.vernier(r, 20), vernier, hundredths(5, 13000, 105)),
    ("vernier of 10", lambda r: slides.vernier(r, 10), vernier, hundredths(10, 13000, 310)),
    ("micrometer", slides.micrometer, micrometer, hundredths(40, 2500, 11)),
    ("dial gauge", dials.dial_gauge, dial_gauge, hundredths(1, 1000, 13)),
    ("pressure gauge", lambda r: dials.gauge(r, BAR), pressure_gauge, hundredths(0, 1000, 10)),
    ("pressure gauge with two scales", lambda r: dials.gauge(r, BAR, PSI), pressure_gauge, hundredths(0, 1000, 30)),
]


@pytest.mark.parametrize(("draw", "read", "readings"), [d[1:] for d in DRAWN], ids=[d[0] for d in DRAWN])
def test_an_instrument_is_read_as_it_was_set(
    draw: Callable[[float], Part], read: Callable[[str], float], readings: list[float]
) -> None:
    wrong = [(value, found) for value in readings if abs((found := read(svg_of(draw(value)))) - value) > 1e-9]
    assert wrong == []


@pytest.mark.parametrize(("off", "is_seen"), [(0.0, False), (0.01, True), (-0.01, True)])
def test_an_instrument_that_is_a_hundredth_off_would_be_noticed(off: float, is_seen: bool) -> None:
    assert (abs(micrometer(svg_of(slides.micrometer(12.37 + off))) - 12.37) > 1e-9) is is_seen
    assert (abs(dial_gauge(svg_of(dials.dial_gauge(4.37 + off))) - 4.37) > 1e-9) is is_seen


def test_a_curve_has_the_heights_that_it_was_drawn_with() -> None:
    start = [(0.0, 0.0), (0.5, 27.0), (1.5, 27.0)]
    points = [start, graphs.curve("m - (x - 9)**2/4", 1.5, 16, m=41.25)]
    drawing = graphs.graph(points, 20, 60, (5, 5, "extension in mm"), (10, 5, "force in kN"))
    assert heights(svg_of(drawing)) == pytest.approx((27, 41.25, 29), abs=0.01)
    assert not clashes(drawing)


def test_a_vernier_too_fine_for_print_is_not_drawn() -> None:
    with pytest.raises(ValueError, match="at most 20 lines can be read in print"):
        slides.vernier(12.34, 50)


@cache
def apart_only_in_the_figure(key: str) -> list[Variant]:
    """Variants that are printed alike but for what is read from the figure."""
    question = BANK[key]
    drawn = list(draw_all(question, {str(n): f"read {n}" for n in range(3)}, frozenset()).values())
    told = {given.name for given in question.givens if not given.in_figure}
    kept = {name: drawn[0].shown[name] for name in told}
    return [Variant(question, {**variant.shown, **kept}, drawn[0].row_names) for variant in drawn]


@EACH
def test_a_figure_says_in_words_nothing_of_what_is_to_be_read(question: Question) -> None:
    arts = [figure_of(variant, BANK.figures_path) for variant in apart_only_in_the_figure(question.key)]
    assert len({art.svg for art in arts if art}) > 1
    assert len({(art.alt, art.title) for art in arts if art}) == 1


@EACH
def test_two_sheets_that_differ_in_a_reading_differ_in_nothing_but_the_drawing(question: Question) -> None:
    pages = set()
    for variant in apart_only_in_the_figure(question.key):
        art = figure_of(variant, BANK.figures_path)
        assert art
        page, drawings = IMAGE.subn("", html_of(Document("a sheet", tuple(question_blocks(1, variant, art, 3)))))
        assert drawings == 1
        pages.add(" ".join(sorted(re.findall(r"\w+", page))))  # options are listed in an order of each sheet's own
        assert not {row.is_ for row in given_rows(variant)} & {g.is_ for g in question.givens if g.in_figure}
        assert not {is_ for is_, _ in given_texts(variant)} & {g.is_ for g in question.givens if g.in_figure}
    assert len(pages) == 1


def test_a_template_cannot_print_what_is_to_be_read() -> None:
    variant = next(iter(extreme_variants(BANK["shaft-by-vernier"])))
    with pytest.raises(FigureError, match="would print what is to be read from the figure"):
        figure_svg("{{ text(0, 0, value('m')) }}{{ say('A', 'B') }}", variant)
    assert figure_svg("{{ text(0, 0, value('v')) }}{{ say('A', 'B') }}", variant).width > 0
