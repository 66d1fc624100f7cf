"""Methods of a place: the right one first, then every slip that shows there, in both working systems where it must."""

import pytest

from bank_cases import SMALL_BANK
from bank_fixture import BANK
from marking.students import CALCULATED, quantities
from searching import every
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.questions.drawing.likeness import likeness, merged, new_to
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import edited_at, edited_twice
from witnessmark.questions.working.evaluation import (
    bare_factor,
    bounds_of,
    can_work,
    names_between,
    names_in_full,
    value_of,
)
from witnessmark.questions.working.methods import (
    Method,
    NumberPlace,
    dimensions,
    fits_dimension,
    methods_at,
    millimetre_scale,
    places,
)
from witnessmark.questions.working.pairs import pairs_at
from witnessmark.questions.working.working import envelopes, worked

DRAIN_HOLE = BANK["drain-hole"]


def place_of(question: Question, key: str) -> NumberPlace:
    """The place of a key (`a`, `a.A_s`)."""
    return next(place for place in places(question, 3) if place.key == key)


def methods_of(question: Question, key: str) -> tuple[Method, ...]:
    """Every modelled method at a key."""
    return methods_at(place_of(question, key), dimensions(question))


def named(methods: tuple[Method, ...], who: str) -> list[Method]:
    """The methods of a misconception."""
    return [m for m in methods if who in m.misconceptions]


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_the_right_method_comes_first_and_is_the_authors_working(key: str) -> None:
    for place in places(BANK[key], 3):
        first, *slips = methods_at(place, dimensions(BANK[key]))
        assert first.is_right
        assert first.final.tree == place.asked.tree
        assert not any(slip.is_right or slip.formula == first.formula for slip in slips)


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_every_slip_of_a_part_is_a_method_at_its_result(key: str) -> None:
    for part in quantities(BANK[key]):
        found = {who for m in methods_of(BANK[key], part.key)[1:] for who in m.misconceptions}
        assert found == {slip.misconception for slip in part.slips}


def test_places_are_lines_before_their_part_in_working_order() -> None:
    assert [place.key for place in places(DRAIN_HOLE, 3)] == ["a.A_s", "a", "b.A_p", "b"]
    assert [line.name for line in place_of(DRAIN_HOLE, "a").lines_before] == ["A_s"]
    assert place_of(DRAIN_HOLE, "a.A_s").lines_before == ()


def test_a_slip_of_the_whole_part_shows_in_the_line_that_the_answer_is_proportional_to() -> None:
    # tau pi d²/4 for tau A_s: the line shows pi d²/4 where pi d t belongs.
    (method,) = named(methods_of(DRAIN_HOLE, "a.A_s"), "face-area-for-sheared-edge")
    variant = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
    area = float(value_of(method, names_in_full(DRAIN_HOLE, variant.columns, {}), {})[0])
    assert area == pytest.approx(314.159e-6, rel=1e-5)


def test_a_slip_in_a_line_is_worked_on_to_the_result() -> None:
    hole = BANK["square-hole"]
    (in_line,) = named(methods_of(hole, "a.A_s"), "one-side-for-perimeter")
    (at_end,) = named(methods_of(hole, "a"), "one-side-for-perimeter")
    assert plain(in_line.final.tree) == "w*t"
    assert plain(at_end.formula) == "tau*(w*t)"
    assert at_end.keeps == in_line.keeps


def test_a_slip_of_another_dimension_is_worked_as_bare_numbers_in_both_systems() -> None:
    hole = BANK["square-hole"]
    both = named(methods_of(hole, "b"), "side-doubled-for-squared")
    assert [(m.bare, m.millimetres) for m in both] == [(True, False), (True, True)]
    # F = 96 kN on 2 · 20: 4800 N over bare 40 is 2400 in newtons and millimetres, 2.4 million in newtons and metres.
    variant = hole.variant(tau="300 MPa", w="20 mm", t="4 mm")
    names = names_in_full(hole, variant.columns, worked(hole, variant.columns))
    values = []
    for method in both:
        divisors, factor = bare_factor(method, dimensions(hole))
        scaled = {k: v / divisors.get(k, 1.0) for k, v in names.items()}
        values.append(float(value_of(method, scaled, {})[0]) * factor)
    assert values == pytest.approx([96_000 / 0.040, 96_000 / 40 * 1e6])


@pytest.mark.parametrize(
    ("name", "scale"), [("m", 1e-3), ("mm", 1e-3), ("N", 1.0), ("MPa", 1e6), ("m^3", 1e-9), ("s", 1.0), ("kg", 1e3)]
)
def test_one_of_the_millimetre_newton_system_in_si(name: str, scale: float) -> None:
    # 1 N/mm² is 1 MPa; 1 N s²/mm is 1000 kg; lengths, areas and volumes in powers of a thousandth.
    assert millimetre_scale(unit(name).dimension) == pytest.approx(scale)


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_right_methods_have_the_dimension_asked_and_lie_in_their_own_envelope(key: str) -> None:
    question, variant = BANK[key], BANK[key].draw("heron")
    known, columns = dimensions(question), variant.columns
    right, bounds = worked(question, columns), envelopes(question, columns, 3)
    full, between = names_in_full(question, columns, right), names_between(question, columns, bounds)
    for place in places(question, 3):
        method = methods_at(place, known)[0]
        assert fits_dimension(method, known)
        low, high = bounds_of(method, between, {})
        value = value_of(method, full, {})
        assert value == pytest.approx(right[place.key], rel=1e-12)
        assert low < value < high
        assert (low, high) == (pytest.approx(bounds[place.key][0]), pytest.approx(bounds[place.key][1]))


def test_own_values_take_the_place_of_lines_and_of_carried_results() -> None:
    variant = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
    names = names_in_full(DRAIN_HOLE, variant.columns, worked(DRAIN_HOLE, variant.columns))
    force, stress = (methods_of(DRAIN_HOLE, key)[0] for key in ("a", "b"))
    assert value_of(force, names, {"A_s": 400e-6 + 0 * variant.columns["d"]}) == pytest.approx(120e3)
    assert value_of(stress, names, {"F": 100e3 + 0 * variant.columns["d"]}) == pytest.approx(318.31e6, rel=1e-5)


def test_lines_are_rounded_to_the_figures_that_are_told() -> None:
    variant = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
    names = names_in_full(DRAIN_HOLE, variant.columns, {})
    right = methods_of(DRAIN_HOLE, "a")[0]
    assert value_of(right, names, {}, 2) == pytest.approx(114e3)  # 376.99 mm² to two figures is 380 mm²
    assert value_of(right, names, {}, 3) == pytest.approx(113.1e3)


def test_a_method_that_needs_an_absent_given_cannot_be_worked() -> None:
    right = methods_of(DRAIN_HOLE, "a")[0]
    known = dict.fromkeys(("tau", "d", "t", "pi"), 1.0 + DRAIN_HOLE.draw("x").columns["d"])
    assert can_work(right, known)
    assert not can_work(right, {k: v for k, v in known.items() if k != "tau"})
    assert right.uses == {"tau", "A_s", "pi", "d", "t"}


def test_a_method_uses_the_lines_of_its_last_step_and_not_those_it_passes_by() -> None:
    (face,) = named(methods_of(DRAIN_HOLE, "a"), "face-area-for-sheared-edge")
    assert face.uses == {"tau", "pi", "d"}


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_a_pair_bears_both_names_and_is_no_single_method_over_again(key: str) -> None:
    known = dimensions(BANK[key])
    for place in places(BANK[key], 3):
        methods = methods_at(place, known)
        for pair in pairs_at(methods, known):
            assert len(set(pair.misconceptions)) == 2
            assert pair.formula not in {m.formula for m in methods}
            assert fits_dimension(pair, known)
            keeps = [m.keeps for m in methods if set(m.misconceptions) < set(pair.misconceptions)]
            assert pair.keeps == min(keeps)


def test_two_slips_of_the_last_step_are_both_taken_as_factors() -> None:
    methods = methods_of(DRAIN_HOLE, "a")
    (pair,) = pairs_at(methods, dimensions(DRAIN_HOLE))
    variant = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
    value = value_of(pair, names_in_full(DRAIN_HOLE, variant.columns, {}), {})
    assert value == pytest.approx(94_247.78 * 56_548.67 / 113_097.34, rel=1e-6)


def test_two_slips_that_change_the_same_quantity_are_no_pair() -> None:
    question = BANK["windlass-motor"]
    methods = methods_of(question, "b")
    assert {m.misconceptions[0] for m in methods[1:]} >= {"efficiency-upside-down", "efficiency-left-out"}
    assert pairs_at(methods, dimensions(question)) == ()


def test_edits_are_ranked_and_none_is_the_right_method_or_another_one_over_again() -> None:
    right, known = methods_of(DRAIN_HOLE, "a")[0], dimensions(DRAIN_HOLE)
    singles = edited_at(right, known, DRAIN_HOLE)
    weights = [e.weight for e in singles]
    assert weights == sorted(weights, reverse=True)
    assert all(e.method.formula != right.formula and len(e.done) == 1 for e in singles)
    seen = [(e.method.formula, e.method.millimetres) for e in singles]
    assert len(seen) == len(set(seen))


def test_edits_of_edits_have_the_dimension_asked_and_two_words_for_what_was_done() -> None:
    right, known = methods_of(DRAIN_HOLE, "a")[0], dimensions(DRAIN_HOLE)
    singles = edited_at(right, known, DRAIN_HOLE)
    doubles = edited_twice(singles, known, DRAIN_HOLE, 40)
    assert 0 < len(doubles) <= 40
    assert all(len(e.done) == 2 and fits_dimension(e.method, known) for e in doubles)
    assert not {e.method.formula for e in doubles} & {e.method.formula for e in singles}


def test_methods_that_are_one_number_in_every_variant_are_one_and_bear_all_names() -> None:
    text = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
    slip = "      - {misconception: radius-for-diameter,        answer: tau*pi*(d/2)*t, keeps: 2}\n"
    halved = "      - {misconception: sheared-edge-for-face-area, answer: tau*A_s/2, keeps: 1}\n"
    question, problems = question_from_text(text.replace(slip, slip + halved), "q.yaml", load_bank(SMALL_BANK).tables)
    assert question is not None, problems
    methods = methods_of(question, "a")
    alike = likeness(question)
    found = merged(methods, alike)
    assert len(found) == len(methods) - 1
    (twin,) = (m for m in found if m.likewise)
    assert twin.names == ("radius-for-diameter", "sheared-edge-for-face-area")
    assert new_to(found, methods, alike) == ()


def test_what_is_new_is_no_power_of_ten_of_what_is_known_and_bare_numbers_are_kept_in_both_systems() -> None:
    right, known = methods_of(DRAIN_HOLE, "a")[0], dimensions(DRAIN_HOLE)
    alike = likeness(DRAIN_HOLE)
    singles = [e.method for e in edited_at(right, known, DRAIN_HOLE)]
    new = new_to(methods_of(DRAIN_HOLE, "a"), singles, alike)
    left_out = [m for m in new if plain(m.formula) == "tau*(pi*d)"]
    assert [m.millimetres for m in left_out] == [False, True]
    assert not any(plain(m.formula) == "tau*(pi*(d/2)*t)" for m in new)  # that is a slip already
