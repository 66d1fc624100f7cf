"""The practice of technical drawing in every figure of the bank: breaks, tapers, letters, views that agree."""

import re
from xml.etree import ElementTree as ET

import pytest

from bank_fixture import BANK
from figures.bank_art import DRAWN, arts_of, circles, drawn_at_the_ends, points_of
from witnessmark.documents.figures.part import Box, Segment, box_of
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.documents.figures.shapes import FILLS, FORCE_INK
from witnessmark.maths.printing.symbols import symbol_of
from witnessmark.questions.model import kinds
from witnessmark.questions.model.question import Question

RATIO = re.compile(r"1 : (\d+)")
LETTER = re.compile(r"(?:⌀ )?(Δ?[A-Za-zΑ-Ωα-ω][₀-₉]?)(?: = .*)?")
ALONE = re.compile(r"\b([A-Za-z])\b")
MOTOR = "M"  # in its ring, a sign of IEC 60617
BREAK = re.compile(r'<polyline points="([^"]+)" fill="none" stroke="#111" stroke-width="0.5"')
SECTION_LINE = re.compile(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)")
METAL, LOAD = (re.compile(rf'<polygon points="([^"]+)" fill="{FILLS[fill]}"') for fill in ("metal", "dark metal"))
FORCE_HEAD = re.compile(rf'<polygon points="([-\d.]+),([-\d.]+) [^"]*" fill="{FORCE_INK}"')
SPREAD = 3  # the last of what is drawn: least, middle, greatest


def boxes_of_texts(art: FigureArt) -> list[list[Box]]:
    """What each text covers, in the order in which they are drawn."""
    found: list[list[Box]] = []
    for n, lettering in enumerate(art.parts.texts):
        if n and lettering.is_of_one_text_with(art.parts.texts[n - 1]):
            found[-1].append(lettering.box)
        else:
            found.append([lettering.box])
    return found


def filled_box(shape: ET.Element) -> Box | None:
    """The box of a filled shape; None for one that is none."""
    if shape.get("fill", "none") == "none" or shape.tag.endswith("}g"):
        return None
    if "points" in shape.attrib:
        return box_of(points_of(shape.attrib["points"]))
    if "cx" in shape.attrib:
        x, y, r = (float(shape.attrib[name]) for name in ("cx", "cy", "r"))
        return Box(x - r, y - r, x + r, y + r)
    if "width" in shape.attrib:
        x, y, width, height = (float(shape.attrib[name]) for name in ("x", "y", "width", "height"))
        return Box(x, y, x + width, y + height)
    return None


def section_lines(shape: ET.Element) -> list[Segment]:
    runs = SECTION_LINE.findall(shape.get("d", "")) if shape.get("stroke-width") == "0.35" else []
    return [Segment(*map(float, run)) for run in runs]


def covers(white: Box, box: Box) -> bool:
    across = white.left <= box.left and box.right <= white.right
    return across and white.top <= box.top and box.bottom <= white.bottom


def hidden_texts(art: FigureArt) -> list[str]:
    """Texts that something lies over, or that stand on section lines without white between."""
    texts, words = iter(boxes_of_texts(art)), []
    drawn: list[Box] = []
    lines: list[Segment] = []
    whites: list[Box] = []
    for shape in ET.fromstring(art.svg).iter():
        if shape.tag.endswith("}text"):
            boxes = next(texts)
            bare = [b for b in boxes if not any(covers(white, b) for white in whites)]
            words += [f"{shape.text} on section lines" for b in bare if any(s.crosses(b.padded(-0.3)) for s in lines)]
            drawn += boxes
        elif new := section_lines(shape):
            lines, whites = lines + new, []
        elif box := filled_box(shape):
            words += [f"{shape.attrib} over a text" for text in drawn if box.overlaps(text, 0.8)]
            whites += [box] if shape.get("fill") == FILLS["white"] else []
    return words


@pytest.mark.parametrize("question", DRAWN, ids=lambda q: q.key)
def test_nothing_lies_over_a_text_and_none_stands_on_section_lines(question: Question) -> None:
    for art in arts_of(question)[-SPREAD:]:
        assert hidden_texts(art) == []


@pytest.mark.parametrize(
    "drawn",
    [
        "{{ text(20, 10, 'd') }}{{ rect(0, 0, 40, 20, 'outline', 'metal') }}",
        "{{ text(20, 10, 'd') }}{{ circle(20, 8, 6, 'outline', 'white') }}",
        "{{ hatch([[(0, 0), (40, 0), (40, 20), (0, 20)]], 2) }}{{ text(20, 10, 'd') }}",
    ],
)
def test_a_text_that_is_covered_or_hatched_would_be_noticed(drawn: str) -> None:
    hole = BANK["drain-hole"].variant(d="20 mm", t="5 mm")
    assert hidden_texts(figure_svg(drawn + "{{ say('A', 'B') }}", hole))


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
