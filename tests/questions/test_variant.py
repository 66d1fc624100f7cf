"""Variants from stated givens, and what each promises: expected, accepted, slips; separation and likeness of draws."""

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from bank_fixture import BANK
from marking.students import CALCULATED, quantities
from searching import every
from witnessmark.questions.drawing.draw import count_allowed, draw, draw_all
from witnessmark.questions.drawing.separation import clashes, keeps, separable
from witnessmark.questions.sheet.variant import Shown, unit_of, variant_of
from witnessmark.words.errors import NoVariant

DRAIN_HOLE = BANK["drain-hole"]


def columns(**millimetres: float) -> dict[str, np.ndarray[tuple[int], np.dtype[np.float64]]]:
    """Givens of one drain hole as columns of one row: 300 MPa, and lengths in millimetres."""
    values = {"tau": 300e6, "material.shear_strength": 300e6, "punch.compressive_strength": 1800e6}
    values |= {name: mm / 1000 for name, mm in millimetres.items()}
    return {name: np.array([value]) for name, value in values.items()}


def test_a_stated_given_may_be_text_a_number_or_a_decimal() -> None:
    a = variant_of(DRAIN_HOLE, {"tau": "300 MPa", "d": 20, "t": Decimal("6.0")})
    b = variant_of(DRAIN_HOLE, {"tau": "0.3 GPa", "d": "2 cm", "t": "6 mm"})
    assert a.expected_si["a"] == pytest.approx(b.expected_si["a"]) == pytest.approx(113_097.3, abs=0.1)
    assert a.shown["t"] == Shown(Decimal("6.0"), "mm")


def test_a_row_of_a_table_brings_its_cells_and_what_is_worked_from_them() -> None:
    variant = variant_of(DRAIN_HOLE, {"material": "mild steel", "d": 20, "t": 6})
    assert variant.row_names == {"material": "mild steel"}
    assert variant.values["tau"] == variant.values["material.shear_strength"] > 0


def test_a_row_that_the_table_has_not_and_a_given_that_is_none_are_errors() -> None:
    with pytest.raises(KeyError):
        variant_of(DRAIN_HOLE, {"material": "cheese"})
    with pytest.raises(KeyError, match="thickness: the givens of drain-hole are"):
        variant_of(DRAIN_HOLE, {"thickness": "6 mm"})


def test_variants_are_alike_exactly_when_they_show_the_same_numbers_and_rows() -> None:
    one, same, other = (
        variant_of(DRAIN_HOLE, {"tau": "300 MPa", "d": d, "t": 6}) for d in ("20 mm", "20.0 mm", "21 mm")
    )
    assert one.identity == same.identity
    assert one.identity != other.identity


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_of_every_drawn_variant_the_right_value_is_accepted_and_no_slip_is(key: str) -> None:
    variant = draw(BANK[key], "heron")
    for place, right in variant.expected.items():
        low, high = variant.accepts[place]
        assert low < right < high, place
        for who, value in variant.slips.get(place, {}).items():
            if not isinstance(value, float):
                assert not low <= value <= high, (place, who)
        assert f"{right.units:~}" == f"{low.units:~}"


def test_the_unit_of_a_place_is_that_of_its_part_or_line() -> None:
    assert [unit_of(DRAIN_HOLE, key) for key in ("a", "a.A_s", "b", "b.A_p")] == ["kN", "mm^2", "MPa", "mm^2"]


# Separation: the classic case is a hole as wide as four thicknesses, where face and sheared edge are one area.


@pytest.mark.parametrize(
    ("d", "t", "apart"), [(20, 6, True), (20, 5, False), (16, 4, False), (16, 6, True), (20.05, 5, False)]
)
def test_a_hole_about_as_wide_as_four_thicknesses_cannot_be_diagnosed(d: float, t: float, apart: bool) -> None:
    assert bool(separable(DRAIN_HOLE, columns(d=d, t=t), 1, 3)[0]) is apart


def test_what_meets_is_told_by_place_and_name() -> None:
    found = {(c.key, c.first, c.second) for c in clashes(DRAIN_HOLE, columns(d=20, t=5), 1, 3)}
    assert ("a", "right", "face-area-for-sheared-edge") in found
    assert ("b", "right", "sheared-edge-for-face-area") in found


def test_fewer_figures_make_more_variants_meet() -> None:
    near = columns(d=20, t=5.2)
    assert bool(separable(DRAIN_HOLE, near, 1, 4)[0])
    assert not bool(separable(DRAIN_HOLE, near, 1, 2)[0])


def test_a_condition_that_fails_and_a_result_that_is_nought_or_none_are_not_kept() -> None:
    assert bool(keeps(DRAIN_HOLE, columns(d=20, t=19), 1)[0])
    assert not bool(keeps(DRAIN_HOLE, columns(d=20, t=25), 1)[0])
    assert not bool(keeps(DRAIN_HOLE, columns(d=20, t=0), 1)[0])
    assert not bool(keeps(DRAIN_HOLE, columns(d=0, t=-1), 1)[0])


def test_exactly_as_many_variants_can_be_drawn_as_are_counted() -> None:
    few = replace(
        DRAIN_HOLE,
        givens=tuple(replace(g, one_of=g.one_of[-1:]) if g.name == "d" else g for g in DRAIN_HOLE.givens),
        rows=tuple(replace(r, rows=tuple(DRAIN_HOLE.tables[r.table].rows)[:2]) for r in DRAIN_HOLE.rows),
        fingerprint="few",
    )
    count = count_allowed(few)
    assert 10 < count <= 60
    drawn = draw_all(few, {str(n): str(n) for n in range(count)}, frozenset())
    assert len({v.identity for v in drawn.values()}) == count
    with pytest.raises(NoVariant) as raised:
        draw_all(few, {str(n): str(n) for n in range(count + 1)}, frozenset())
    assert (raised.value.count, raised.value.needed) == (count, count + 1)


def test_every_question_that_is_calculated_has_a_part_with_slips() -> None:
    assert all(any(part.slips for part in quantities(BANK[key])) for key in CALCULATED)
