"""Every figure of the bank at the ends of its ranges: readable, nothing overlaps, said in words, drawn to scale."""

import re
from functools import cache
from math import atan2, degrees
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from bank_fixture import BANK
from witnessmark.documents.figures.clearance import clashes
from witnessmark.documents.figures.extremes import corner_variants, extreme_variants, spread_variants
from witnessmark.documents.figures.part import box_of
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.documents.figures.shapes import FILLS, FORCE_INK
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.maths.printing.symbols import symbol_of
from witnessmark.questions.model import kinds
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant

DRAWN = [q for q in BANK.values() if q.figure]
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
RATIO = re.compile(r"1 : (\d+)")
LETTER = re.compile(r"(?:⌀ )?(Δ?[A-Za-zΑ-Ωα-ω][₀-₉]?)(?: = .*)?")
ALONE = re.compile(r"\b([A-Za-z])\b")
MOTOR = "M"  # in its ring, a sign of IEC 60617
BREAK = re.compile(r'<polyline points="([^"]+)" fill="none" stroke="#111" stroke-width="0.5"')
CIRCLE = re.compile(r'<circle cx="([-\d.]+)" cy="([-\d.]+)" r="([\d.]+)" fill="[^"]*" stroke="#111" stroke-width="1.1"')


def template_of(question: Question) -> str:
    return (Path(BANK.figures_path) / (question.figure + FIGURE_ENDING)).read_text(encoding="utf-8")


def art_of(question: Question, variant: Variant) -> FigureArt:
    return figure_svg(template_of(question), variant)


@cache
def drawn_at_the_ends(key: str) -> tuple[tuple[Variant, FigureArt], ...]:
    question = BANK[key]
    return tuple((v, art_of(question, v)) for v in (*extreme_variants(question), *spread_variants(question)))


def arts_of(question: Question) -> list[FigureArt]:
    return [art for _, art in drawn_at_the_ends(question.key)]


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


def says_its_slope_is_not_to_scale(art: FigureArt) -> bool:
    notes = [t.words for t in art.parts.texts if t.words.endswith("not to scale")]
    return any("slope" in note or note == "not to scale" for note in notes)


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_a_taper_is_drawn_as_its_ratio_says_or_the_figure_says_that_it_is_not(question: Question) -> None:
    for art in arts_of(question):
        ratio = next((RATIO.search(t.words) for t in art.parts.texts if RATIO.search(t.words)), None)
        if ratio and not says_its_slope_is_not_to_scale(art):
            slopes = [abs((s.y2 - s.y1) / (s.x2 - s.x1)) for s in art.parts.strokes if s.x1 != s.x2]
            assert 1 / (2 * int(ratio[1])) in [pytest.approx(slope, rel=0.02) for slope in slopes]


def breaks_in(art: FigureArt) -> list[tuple[float, float, float]]:
    """Where a level piece is broken off: x, and the heights of its upper and lower edge."""
    runs = [points_of(run) for run in BREAK.findall(art.svg)]
    return [
        (run[0][0], run[0][1], run[-1][1]) for run in runs if len(run) == 6 and run[0][0] == run[-1][0] == run[1][0]
    ]


def runs_along(shape: ET.Element, x: float, top: float, bottom: float) -> bool:
    """True of a wide outline with an edge that stands over the whole of a break."""
    if shape.get("stroke-width") != "1.1":
        return False
    if "points" in shape.attrib:
        ends = points_of(shape.attrib["points"])
        edges = list(zip(ends, [*ends[1:], *ends[:1]] if shape.tag.endswith("polygon") else ends[1:], strict=False))
    elif "x1" in shape.attrib:
        x1, y1, x2, y2 = (float(shape.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
        edges = [((x1, y1), (x2, y2))]
    else:
        return False
    return any(
        abs(a[0] - x) < 0.5 and abs(b[0] - x) < 0.5 and min(a[1], b[1]) <= top + 0.5 and max(a[1], b[1]) >= bottom - 0.5
        for a, b in edges
    )


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_a_piece_that_is_broken_off_has_no_outline_at_the_break(question: Question) -> None:
    art = arts_of(question)[0]
    shapes = list(ET.fromstring(art.svg).iter())
    for x, top, bottom in breaks_in(art):
        assert not [shape.attrib for shape in shapes if runs_along(shape, x, top, bottom)]


def test_an_outline_across_a_break_would_be_noticed() -> None:
    drawn = "{{ break_line(40, 0, 20) }}{{ say('A', 'B') }}"
    for closed in ("{{ rect(0, 0, 40, 20) }}", "{{ line(40, 0, 40, 20) }}"):
        art = figure_svg(closed + drawn, BANK["drain-hole"].variant(d="20 mm", t="5 mm"))
        shapes = list(ET.fromstring(art.svg).iter())
        assert [s for s in shapes for x, top, bottom in breaks_in(art) if runs_along(s, x, top, bottom)]


def letters_of_the_sheet(question: Question) -> set[str]:
    """The symbols of what is given, asked and worked on the way, and letters that stand alone in its sentences."""
    asked = [part.symbol for part in kinds.quantities_in(question.parts)] + [kinds.symbol_of(p) for p in question.parts]
    lines = [line.symbol or line.name for part in question.parts for line in kinds.lines_of(part)]
    given = [given.symbol or given.name for given in question.givens]
    alone = set(ALONE.findall(" ".join([question.setting, *(part.ask for part in question.parts)])))
    articles = set() if "B" in alone else {"A", "a"}
    return {str(symbol_of(s)) for s in (*asked, *lines, *given) if s} | alone - articles


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_a_letter_in_a_figure_stands_on_the_sheet(question: Question) -> None:
    known = letters_of_the_sheet(question) | {MOTOR}
    art = arts_of(question)[0]
    words = [t.words for t in art.parts.texts]
    planes = {label[0] for label in words if re.fullmatch(r"(.)–\1", label)}
    found = [match[1] for match in map(LETTER.fullmatch, words) if match]
    assert [letter for letter in found if str(symbol_of(letter)) not in known and letter not in planes] == []


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


def circles(art: FigureArt) -> list[float]:
    """The radii of the outlined circles, largest first."""
    return sorted((float(r) for _, _, r in CIRCLE.findall(art.svg)), reverse=True)


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


def test_a_boom_stands_at_its_true_angle() -> None:
    for variant, art in drawn_at_the_ends("boom-lift"):
        bar = max(
            (s for s in art.parts.strokes if s.x1 != s.x2 and s.y1 != s.y2),
            key=lambda s: abs(s.x2 - s.x1) + abs(s.y2 - s.y1),
        )
        angle = degrees(atan2(abs(bar.y2 - bar.y1), abs(bar.x2 - bar.x1)))
        assert angle == pytest.approx(float(variant.shown["theta"].number), abs=0.1)


METAL, LOAD = (re.compile(rf'<polygon points="([^"]+)" fill="{FILLS[fill]}"') for fill in ("metal", "dark metal"))
FORCE_HEAD = re.compile(rf'<polygon points="([-\d.]+),([-\d.]+) [^"]*" fill="{FORCE_INK}"')


def points_of(text: str) -> list[tuple[float, float]]:
    pairs = (point.split(",") for point in text.split())
    return [(float(x), float(y)) for x, y in pairs]


@pytest.mark.parametrize("key", ["boom-lift", "shed-bracket"])
def test_a_load_hangs_clear_of_what_carries_it(key: str) -> None:
    for _, art in drawn_at_the_ends(key):
        (load,) = [box_of(points_of(found)) for found in LOAD.findall(art.svg)]
        bars = [s for s in art.parts.strokes if s.x1 != s.x2 and s.y1 != s.y2]
        assert not [bar for bar in bars if bar.crosses(load.padded(1))]


def test_rolls_turn_the_way_that_the_strip_goes() -> None:
    """It comes in thick on the left: where they meet it the rolls go to the right, on their far sides to the left."""
    for _, art in drawn_at_the_ends("copper-rivets"):
        upper, lower = sorted(((float(x), float(y)) for x, y in FORCE_HEAD.findall(art.svg)), key=lambda tip: tip[1])
        arrows_lie_on_the_far_sides = upper[1] < 0 < lower[1]
        assert arrows_lie_on_the_far_sides
        assert max(upper[0], lower[0]) < 0


def test_a_cylinder_is_as_high_from_the_side_as_its_section_is_wide() -> None:
    for key in ("air-bottle", "air-receiver", "wall-thickness"):
        for _, art in drawn_at_the_ends(key):
            (side,) = (float(height) for height in re.findall(r'height="([\d.]+)" rx=', art.svg))
            assert side == pytest.approx(2 * circles(art)[0], abs=0.03)


def test_a_tube_is_as_wide_from_the_side_as_its_section() -> None:
    for _, art in drawn_at_the_ends("tube-strut"):
        (side,) = [
            box_of(points_of(found)) for found in re.findall(r'<polygon points="([^"]+)" fill="#e3e3e1"', art.svg)
        ]
        assert side.width == pytest.approx(2 * circles(art)[0], abs=0.03)


def test_the_heads_of_rivets_are_as_large_from_above_as_in_the_section() -> None:
    for _, art in drawn_at_the_ends("rivet-lap"):
        pieces = [box_of(points_of(found)) for found in METAL.findall(art.svg)]
        heads = [piece.width for piece in pieces if piece.width == pytest.approx(2 * piece.height, rel=0.01)]
        assert heads == [pytest.approx(2 * circles(art)[0], abs=0.1)] * 2
