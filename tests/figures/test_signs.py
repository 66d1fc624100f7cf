"""Signs of drawings: which way a taper narrows, what first angle projection looks like, where wires are joined."""

import re

import pytest

from bank_fixture import BANK
from witnessmark.documents.figures.part import Part
from witnessmark.documents.figures.render import figure_svg
from witnessmark.documents.figures.signs import cutting_plane, first_angle, junction, source, taper_sign, terminal

TAPER_END = 6.0
HOLE = BANK["drain-hole"].variant(d="20 mm", t="5 mm")


def test_the_sign_of_a_taper_points_to_its_small_end() -> None:
    for large, way in (("left", 1), ("right", -1)):
        points = [(s.x1, s.y1) for s in taper_sign(0, 0, large).strokes][:3]
        assert (way * TAPER_END, 0) in points


def test_the_small_end_of_the_sign_of_first_angle_projection_faces_away_from_its_circles() -> None:
    sign = first_angle(0, 0)
    upright = {s.x1: abs(s.y2 - s.y1) for s in sign.strokes[:4] if s.x1 == s.x2}
    (small, large), circles = sorted(upright), [float(x) for x in re.findall(r'<circle cx="([-\d.]+)"', sign.svg)]
    assert upright[small] < upright[large]
    assert small < large < min(circles)


def test_plus_stands_by_the_long_plate_of_a_battery() -> None:
    plates = {s.y1: abs(s.x2 - s.x1) for s in source(0, 0).strokes}
    longest = max(plates, key=lambda y: plates[y])
    (plus,) = source(0, 0).texts
    assert plus.words == "+"
    assert abs((plus.box.top + plus.box.bottom) / 2 - longest) < min(
        abs(plus.box.bottom - y) for y in plates if y != longest
    )


def test_a_junction_is_a_filled_dot() -> None:
    assert 'fill="#111"' in junction(3, 4).svg


def test_a_terminal_is_an_open_ring() -> None:
    assert 'fill="#fff"' in terminal(3, 4).svg


def arrow_tips(part: Part) -> list[tuple[float, float]]:
    """The points of the filled arrow heads."""
    heads = re.findall(r'<polygon points="([-\d.]+),([-\d.]+) [^"]*" fill="#111"', part.svg)
    return [(float(x), float(y)) for x, y in heads]


@pytest.mark.parametrize(("look", "way"), [("right", (1, 0)), ("left", (-1, 0)), ("down", (0, 1)), ("up", (0, -1))])
def test_both_arrows_of_a_cutting_plane_point_the_way_that_is_looked(look: str, way: tuple[int, int]) -> None:
    plane = cutting_plane(50, -20, 20, look)
    thick = [s for s in plane.strokes if abs(s.x2 - s.x1) + abs(s.y2 - s.y1) == pytest.approx(8)]
    middles = [((s.x1 + s.x2) / 2, (s.y1 + s.y2) / 2) for s in thick]
    tips = arrow_tips(plane)
    assert len(middles) == len(tips) == len(plane.texts) == 2
    for (x, y), (tip_x, tip_y) in zip(middles, tips, strict=True):
        assert (tip_x - x) * way[0] + (tip_y - y) * way[1] == pytest.approx(12)
        along, across = (y, x) if way[0] else (x, y)
        assert across == pytest.approx(50)
        assert abs(along) > 20


def test_the_sign_of_projection_stands_beside_the_notes_and_not_on_them() -> None:
    said = "{{ say('A', 'B') }}{{ note('a long note of what is not to scale') }}{{ views() }}"
    art = figure_svg("{{ rect(0, 0, 20, 20) }}" + said, HOLE)
    (note,) = art.parts.texts
    assert min(s.x1 for s in art.parts.strokes if s.y1 > note.box.top) > note.box.right
