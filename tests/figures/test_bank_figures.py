"""Every figure of the bank at the ends of its ranges: readable, nothing overlaps, said in words, drawn to scale."""

import re
from math import atan2, degrees
from xml.etree import ElementTree as ET

import pytest

from bank_fixture import BANK
from figures.bank_art import DRAWN, art_of, arts_of, circles, drawn_at_the_ends
from witnessmark.documents.figures.clearance import clashes
from witnessmark.documents.figures.extremes import corner_variants
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.questions.model.question import Question

WIDEST, HIGHEST = 380.0, 270.0  # points: the width of a sheet's text is about 480
SMALLEST = 30.0
SMALLEST_LETTERS = 7.0  # points: 1.7 mm high, near the smallest that ISO 3098 has (from memory of the standard)
FONT_SIZE = re.compile(r'font-size="([\d.]+)"')
VALUE = re.compile(r"\d[\d.\u202f]*\u00a0[^\s,]+|\d[\d.]*°")
LENGTH = re.compile(r"(\d[\d.\u202f]*)\u00a0(mm|cm|m)\b(?![²³/·])")
ANGLE = re.compile(r"(\d[\d.]*)\u00a0?°(?!C)")
THIN_SPACE = "\u202f"
MILLIMETRES = {"mm": 1, "cm": 10, "m": 1000}
SAME_SCALE = 1.02


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_at_the_ends_of_its_ranges_and_in_the_middle_a_figure_is_readable_and_nothing_overlaps(
    question: Question,
) -> None:
    drawn = drawn_at_the_ends(question.key)
    assert drawn
    for variant, art in drawn:
        ET.fromstring(art.svg)
        assert not clashes(art.parts), (question.key, variant.shown)
        assert SMALLEST < art.width < WIDEST
        assert SMALLEST < art.height < HIGHEST
        assert min(map(float, FONT_SIZE.findall(art.svg)), default=SMALLEST_LETTERS) >= SMALLEST_LETTERS
        printed = VALUE.findall(" ".join(t.words for t in art.parts.texts))
        assert [value for value in printed if value not in art.alt] == []


def scales_of(art: FigureArt) -> list[tuple[str, float]]:
    """The words of each dimension that states a length, with the points drawn for each millimetre."""
    read = [(span, LENGTH.search(span.words)) for span in art.parts.spans]
    return [
        (span.words, span.drawn / (float(length[1].replace(THIN_SPACE, "")) * MILLIMETRES[length[2]]))
        for span, length in read
        if length
    ]


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_a_figure_whose_lengths_are_not_to_one_scale_says_so(question: Question) -> None:
    for art in arts_of(question):
        scales = scales_of(art)
        words = " ".join(t.words for t in art.parts.texts)
        if "scale" not in words and scales:
            least, most = min(s for _, s in scales), max(s for _, s in scales)
            assert most <= least * SAME_SCALE, (question.key, scales)


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_an_angle_is_drawn_as_it_is_stated_or_the_figure_says_that_it_is_not(question: Question) -> None:
    for art in arts_of(question):
        words = " ".join(t.words for t in art.parts.texts)
        for span in art.parts.spans:
            stated = ANGLE.search(span.words)
            assert not stated or "scale" in words or span.drawn == pytest.approx(float(stated[1]), abs=0.1)


@pytest.mark.deep
@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_where_two_givens_are_both_at_an_end_nothing_overlaps(question: Question) -> None:
    for variant in corner_variants(question):
        assert not clashes(art_of(question, variant).parts), variant.shown


def test_two_lengths_at_two_scales_would_be_noticed() -> None:
    template = "{{ across(0, 40, 20, value('d'), 0, 0) }}{{ across(0, 40, 60, value('t'), 0, 0) }}{{ say('A', 'B') }}"
    scales = [scale for _, scale in scales_of(figure_svg(template, BANK["drain-hole"].variant(d="20 mm", t="5 mm")))]
    assert scales == pytest.approx([2.0, 8.0])


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_extremes_reach_both_ends_of_what_may_be_drawn(question: Question) -> None:
    variants = [variant for variant, _ in drawn_at_the_ends(question.key)]
    for given in question.givens:
        values = {v.shown[given.name].number for v in variants}
        possible = set(given.one_of) if given.one_of else None
        assert len(values) > 1 or (possible is not None and len(possible) == 1) or given.value is not None
        assert possible is None or values <= possible


def test_the_end_of_a_pipe_is_to_scale() -> None:
    for variant, art in drawn_at_the_ends("fuel-pipe"):
        outside, inside = circles(art)[:2]
        D, t = variant.shown["D"].number, variant.shown["t"].number
        assert inside / outside == pytest.approx(float((D - 2 * t) / D), abs=0.002)


def test_a_washer_is_to_scale() -> None:
    for variant, art in drawn_at_the_ends("washer-blank"):
        outside, inside = circles(art)[:2]
        assert inside / outside == pytest.approx(
            float(variant.shown["d"].number / variant.shown["D"].number), abs=0.002
        )


@pytest.mark.parametrize("key", ["steering-ram", "ram-speed"])
def test_a_ram_is_drawn_to_scale_in_all_its_lengths(key: str) -> None:
    for variant, art in drawn_at_the_ends(key):
        assert len(scales_of(art)) == len([name for name in ("D", "d", "s") if name in variant.shown])
        assert "scale" not in " ".join(t.words for t in art.parts.texts)


def test_a_screw_in_a_tapped_hole_is_no_bolt_and_its_thickness_and_depth_are_to_one_scale() -> None:
    for variant, art in drawn_at_the_ends("tapped-pad"):
        texts = [quantity_text(shown.number, shown.unit) for shown in (variant.shown["d"], variant.shown["L"])]
        across, along = (dict(scales_of(art))[text] for text in texts)
        assert across == pytest.approx(along, rel=0.01), variant.shown
        assert "bolt" not in f"{art.title} {art.alt}".casefold()


def test_a_boom_stands_at_its_true_angle() -> None:
    for variant, art in drawn_at_the_ends("boom-lift"):
        bar = max(
            (s for s in art.parts.strokes if s.x1 != s.x2 and s.y1 != s.y2),
            key=lambda s: abs(s.x2 - s.x1) + abs(s.y2 - s.y1),
        )
        angle = degrees(atan2(abs(bar.y2 - bar.y1), abs(bar.x2 - bar.x1)))
        assert angle == pytest.approx(float(variant.shown["theta"].number), abs=0.1)
