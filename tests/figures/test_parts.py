"""The drawing parts: boxes, hatching, text widths, dimensions in the habits of ISO 129-1."""

import json
import re
from math import hypot, pi

import pytest
import typst

from witnessmark.documents.figures.clearance import clashes
from witnessmark.documents.figures.dimensions import across, aligned, angle_between, leader, upright
from witnessmark.documents.figures.lettering import slanting_text, text, text_width
from witnessmark.documents.figures.machinery import broken, force, weight
from witnessmark.documents.figures.part import Box, Part, Segment, point_text, together
from witnessmark.documents.figures.shapes import arc_points, circle, hatch, line, polygon, rect

POLYGON = re.compile(r'<polygon points="([^"]+)"')


def polygons(part: Part) -> list[list[tuple[float, float]]]:
    """The points of every polygon that a part draws."""
    found = []
    for points in POLYGON.findall(part.svg):
        pairs = [point.split(",") for point in points.split()]
        found.append([(float(x), float(y)) for x, y in pairs])
    return found


def hatch_length(svg: str) -> float:
    """The length of all section lines together."""
    runs = re.findall(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", svg)
    ends = [tuple(map(float, run)) for run in runs]
    return sum(hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in ends)


LABELS = ["⌀ 20 mm", "F = 12.5 kN", "marine aluminium alloy", "τ = 300 N/mm²", "ρ = 1025 kg/m³", "37.5°", "µ Ω × ±"]


@pytest.mark.parametrize("label", LABELS)
def test_measured_text_is_as_wide_as_typst_sets_it(label: str) -> None:
    source = b"""#set page(width: auto, height: auto)
#set text(font: "Libertinus Serif", size: 9.5pt)
#context [#metadata(measure(text(sys.inputs.label)).width.pt()) <width>]"""
    compiler = typst.Compiler(source, ignore_system_fonts=True, sys_inputs={"label": label})
    width = json.loads(compiler.query("<width>", field="value", one=True))
    assert text_width(label) == pytest.approx(width, abs=0.6)  # typst kerns, the table does not


def test_text_that_ends_or_is_centred_at_a_point_has_its_box_there() -> None:
    assert text(10, 0, "12 mm", "end").box.right == pytest.approx(10)
    middle = text(10, 0, "12 mm").box
    assert (middle.left + middle.right) / 2 == pytest.approx(10)


def test_turned_text_is_as_high_as_it_was_wide() -> None:
    assert text(0, 0, "12 mm", turned=True).box.height == pytest.approx(text(0, 0, "12 mm").box.width)


def test_the_boxes_of_slanting_text_cover_its_area_closely() -> None:
    flat, steep = slanting_text(0, 0, 0, "1200 mm"), slanting_text(0, 0, 40, "1200 mm")
    assert flat.box.width == pytest.approx(text_width("1200 mm"), abs=0.01)
    assert steep.box.height > flat.box.height * 3
    assert sum(t.box.width * t.box.height for t in steep.texts) < 3 * flat.box.width * flat.box.height


def test_words_with_signs_of_markup_are_escaped() -> None:
    assert "<b>" not in text(0, 0, "<b> & co").svg
    assert "&lt;b&gt; &amp; co" in text(0, 0, "<b> & co").svg


@pytest.mark.parametrize(
    ("segment", "crosses"),
    [
        (Segment(-5, 5, 15, 5), True),
        (Segment(5, -5, 5, 15), True),
        (Segment(-5, 12, 15, 12), False),
        (Segment(-5, -1, 1, -5), False),
        (Segment(2, 2, 3, 3), True),
        (Segment(-1, 9.9, 12, 14), False),
        (Segment(10, 0, 10, 10), False),
    ],
)
def test_a_stroke_crosses_a_box_when_some_of_it_lies_inside(segment: Segment, crosses: bool) -> None:
    assert segment.crosses(Box(0, 0, 10, 10)) is crosses


def test_boxes_overlap_only_where_they_share_an_area() -> None:
    assert Box(0, 0, 10, 10).overlaps(Box(9, 9, 12, 12))
    assert not Box(0, 0, 10, 10).overlaps(Box(10, 0, 12, 10))


def test_section_lines_cover_a_ring_evenly() -> None:
    """Cavalieri: the length of equally spaced parallel chords times their spacing is the area (mathematics)."""
    areas = [arc_points(0, 0, 40, 0, 360, 240), arc_points(0, 0, 25, 0, 360, 240)]
    assert hatch_length(hatch(areas, 0.5).svg) * 0.5 == pytest.approx(pi * (40**2 - 25**2), rel=0.005)


def test_section_lines_keep_out_of_a_hole() -> None:
    svg = hatch([[(0, 0), (30, 0), (30, 30), (0, 30)], [(10, 10), (20, 10), (20, 20), (10, 20)]], 1.0).svg
    for x1, y1, x2, y2 in re.findall(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", svg):
        assert not Segment(float(x1), float(y1), float(x2), float(y2)).crosses(Box(10.1, 10.1, 19.9, 19.9))


@pytest.mark.parametrize(("ends", "closed"), [("left", [100]), ("right", [0]), ("both", [])])
def test_a_broken_piece_has_an_outline_at_its_whole_end_alone(ends: str, closed: list[float]) -> None:
    upright_lines = re.findall(
        r'<line x1="(\d+)" y1="0" x2="\1" y2="20"[^>]*stroke-width="1.1"', broken(0, 100, 0, 20, ends).svg
    )
    assert [float(x) for x in upright_lines] == closed


def test_section_lines_cover_a_piece_up_to_its_breaks() -> None:
    assert hatch_length(broken(0, 100, 0, 20, "both", "none", 0.5).svg) * 0.5 == pytest.approx(100 * 20, rel=0.005)


def test_a_wide_dimension_has_its_text_between_its_arrows_and_above_its_line() -> None:
    part = across(0, 100, 20, "12 mm", 0, 0)
    box = part.texts[0].box
    assert 0 < box.left < box.right < 100
    assert box.bottom < 20
    assert not clashes(part)


def test_a_narrow_dimension_has_its_arrows_outside_and_its_text_beyond() -> None:
    part = across(0, 6, 20, "12 mm", 0, 0)
    heads = polygons(part)
    assert min(x for x, _ in heads[0]) < 0
    assert max(x for x, _ in heads[1]) > 6
    assert part.texts[0].box.left > 6
    assert across(0, 6, 20, "12 mm", 0, 0, "left").texts[0].box.right < 0
    assert not clashes(part)


def test_an_upright_dimension_is_read_from_the_right() -> None:
    part = upright(0, 80, -20, "45 mm", 0, 0)
    assert "rotate(-90" in part.svg
    assert part.texts[0].box.right < -20
    assert not clashes(part)


def test_text_that_may_not_stand_within_a_dimension_stands_beyond_it() -> None:
    assert upright(0, 80, -20, "45 mm", 0, 0, "top", within=False).texts[0].box.bottom < 0
    assert upright(0, 80, -20, "45 mm", 0, 0, "bottom", within=False).texts[0].box.top > 80


def test_extension_lines_start_clear_of_the_outline() -> None:
    part = across(0, 100, 30, "12 mm", 0, 0)
    starts = [s for s in part.strokes if s.x1 == s.x2]
    assert len(starts) == 2
    assert all(min(s.y1, s.y2) > 1 for s in starts)
    assert all(max(s.y1, s.y2) > 30 for s in starts)


@pytest.mark.parametrize("angle", [0, 15, 33, 61])
def test_a_sloping_dimension_keeps_clear_of_its_own_line(angle: int) -> None:
    (x1, y1), (x2, y2) = (
        arc_points(0, 0, 120, 180 + angle, 180 + angle, 1)[0],
        arc_points(0, 0, 120, angle, angle, 1)[0],
    )
    assert not clashes(aligned(x1, y1, x2, y2, 20, "1200 mm"))


def test_a_leader_has_its_words_above_its_landing() -> None:
    part = leader(0, 0, 20, -20, "punch")
    assert part.texts[0].box.bottom < -20
    assert not clashes(part)


@pytest.mark.parametrize("end", [6, 14, 40, 75])
def test_the_text_of_an_angle_stands_outside_its_arc(end: int) -> None:
    assert not clashes(angle_between(0, 0, 50, 0, end, f"{end}°"))


@pytest.mark.parametrize("label", ["tail", "left", "right"])
@pytest.mark.parametrize("dy", [-34, 34])
def test_the_label_of_an_upright_force_keeps_clear_of_its_shaft(label: str, dy: float) -> None:
    assert not clashes(force(0, 0, 0, dy, "F = 120 N", label))


@pytest.mark.parametrize("label", ["tail", "above", "below", "pull", "push"])
@pytest.mark.parametrize("dx", [-40, 40])
def test_the_label_of_a_level_force_keeps_clear_of_its_shaft(label: str, dx: float) -> None:
    assert not clashes(force(0, 0, dx, 0, "F = 120 N", label))


def test_the_label_of_a_small_weight_stands_beside_it() -> None:
    assert weight(0, 0, 80, 30, "120 kg").texts[0].box.right < 40
    assert weight(0, 0, 20, 30, "120 kg").texts[0].box.left > 10


def test_clashes_are_found_and_named() -> None:
    drawing = together(text(0, 0, "first"), text(5, 2, "second"), line(-30, 0, 30, -4))
    said = clashes(drawing)
    assert "“first” overlaps “second”" in said
    assert "a line goes through “first”" in said


def test_equal_words_in_two_places_may_not_overlap_either() -> None:
    assert clashes(together(text(0, 0, "F"), text(1, 0, "F"))) == ("“F” overlaps “F”",)


def test_a_drawing_covers_all_its_parts() -> None:
    drawing = together(circle(0, 0, 10), rect(20, -5, 10, 10), polygon([(0, 0), (5, 40), (9, 2)]))
    assert drawing.box == Box(-10, -10, 30, 40)


def test_coordinates_are_short() -> None:
    assert [point_text(v) for v in (1.0, -0.001, 2.345678, 10.5)] == ["1", "0", "2.35", "10.5"]
