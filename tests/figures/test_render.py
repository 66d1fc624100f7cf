"""The door to figure templates: what a template may do, what it must say, and what it may not reach."""

from dataclasses import replace
from decimal import Decimal
from xml.etree import ElementTree as ET

import pytest

from bank_fixture import BANK
from witnessmark.documents.figures.render import FigureError, figure_svg
from witnessmark.questions.sheet.variant import Shown, Variant

MARKED_UP = "mild <steel>"
METALS = BANK["drain-hole"].tables["metals"]
QUESTION = replace(
    BANK["drain-hole"],
    tables=BANK["drain-hole"].tables
    | {METALS.key: replace(METALS, rows=METALS.rows | {MARKED_UP: METALS.rows["mild steel"]})},
)
SVG = "{http://www.w3.org/2000/svg}"


def variant(**shown: Shown) -> Variant:
    """A variant of the drain hole with these values only."""
    return Variant(QUESTION, shown, {"material": MARKED_UP})


HOLE = variant(d=Shown(Decimal(20), "mm"), t=Shown(Decimal("4.50"), "mm"))
SAID = '{{ say("A line", "A line " ~ value("d") ~ " long.") }}'


def test_a_figure_has_title_and_description_and_an_alternative_sentence() -> None:
    art = figure_svg("{{ line(0, 0, mm('d'), 0) }}" + SAID, HOLE)
    root = ET.fromstring(art.svg)
    assert [root.findtext(SVG + tag) for tag in ("title", "desc")] == ["A line", "A line 20\u00a0mm long."]
    assert art.alt == "A line 20\u00a0mm long."
    assert root.get("role") == "img"


def test_the_view_fits_the_drawing_with_a_margin() -> None:
    art = figure_svg("{{ rect(-10, -20, 110, 50) }}" + SAID, HOLE)
    assert ET.fromstring(art.svg).get("viewBox") == "-13 -23 116 56"
    assert (art.width, art.height) == (116, 56)


def test_values_come_in_any_unit_and_print_with_their_own() -> None:
    template = "{{ text(0, 0, value('t')) }}{{ text(0, 40, number_text(number('d', 'cm'))) }}" + SAID
    words = [t.words for t in figure_svg(template, HOLE).parts.texts]
    assert words == ["4.5\u00a0mm", "2"]


def test_a_length_kept_readable_is_noted_as_not_to_scale() -> None:
    cut = figure_svg("{{ line(0, 0, limited(2, 6, 40), 0) }}" + SAID, HOLE)
    kept = figure_svg("{{ line(0, 0, limited(20, 6, 40), 0) }}" + SAID, HOLE)
    assert [t.words for t in cut.parts.texts] == ["not to scale"]
    assert not kept.parts.texts


def test_several_lengths_that_were_cut_share_one_note() -> None:
    cut = "{{ line(0, 0, limited(2, 6, 40, 'wall not to scale'), limited(99, 6, 40, 'gap not to scale')) }}"
    both, more = figure_svg(cut + SAID, HOLE), figure_svg(cut + "{{ note('seen from above') }}" + SAID, HOLE)
    assert [t.words for t in both.parts.texts] == ["wall and gap not to scale"]
    assert [t.words for t in more.parts.texts] == ["wall and gap not to scale; seen from above"]


def test_a_row_name_with_signs_of_markup_stays_text() -> None:
    art = figure_svg("{{ text(0, 0, row('material')) }}{{ row('material') }}" + SAID, HOLE)
    ET.fromstring(art.svg)
    assert "<steel>" not in art.svg


def test_a_figure_is_what_its_calls_draw_in_their_order_and_no_other_text() -> None:
    plain = figure_svg("{{ line(0, 0, 5, 0) }}{{ circle(9, 0, 2) }}" + SAID, HOLE)
    assert figure_svg("{% set kept = line(0, 0, 5, 0) %} 7 {{ circle(9, 0, 2) }}{{ 3.5 }}" + SAID, HOLE) == plain


def test_a_piece_may_stand_at_a_place_that_a_loop_or_a_block_works_out() -> None:
    plain = figure_svg("{{ line(0, 0, 5, 0) }}{{ line(9, 0, 14, 0) }}" + SAID, HOLE)
    rounds = "{% for n in range(2) %}{% set x = 9 * n %}{{ line(x, 0, x + 5, 0) }}{% endfor %}"
    block = "{{ line(0, 0, 5, 0) }}{% block right %}{% set x = 9 %}{{ line(x, 0, x + 5, 0) }}{% endblock %}"
    assert figure_svg(rounds + SAID, HOLE) == figure_svg(block + SAID, HOLE) == plain


def test_the_same_variant_gives_the_same_figure() -> None:
    template = (BANK.figures_path / "round-hole-in-plate.svg.j2").read_text(encoding="utf-8")
    assert figure_svg(template, HOLE) == figure_svg(template, HOLE)


@pytest.mark.parametrize(
    "template",
    [
        "{{ line(0, 0, mm('q'), 0) }}" + SAID,
        "{{ line(0, 0, unknown, 0) }}" + SAID,
        "{{ line(0, 0, 1 / 0, 0) }}" + SAID,
        "{{ line(0, 0) }}" + SAID,
        "{% if %}" + SAID,
        "{{ line(0, 0, 5, 0) }}",
        SAID,
        "{{ ''.__class__.__mro__ }}{{ line(0, 0, 5, 0) }}" + SAID,
        "{{ line.__globals__ }}{{ line(0, 0, 5, 0) }}" + SAID,
        "{% include 'other' %}" + SAID,
    ],
    ids=["no such given", "no such name", "division", "arguments", "syntax", "says nothing", "draws nothing", "classes",
         "globals", "files"],
)  # fmt: skip
def test_a_template_that_fails_or_reaches_out_is_an_error(template: str) -> None:
    with pytest.raises(FigureError):
        figure_svg(template, HOLE)
