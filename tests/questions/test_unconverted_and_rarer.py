"""Methods with one unit left as it is, rarer changes, and pairs of slips of another dimension: what they are, and in
which words they are told."""

import math

import numpy as np
import pytest

from bank_fixture import BANK
from witnessmark.maths.printing.plain import plain
from witnessmark.questions.drawing.likeness import is_times, likeness, telling
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import declared_units
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.evaluation import names_in_full, number_of
from witnessmark.questions.working.methods import Method, dimensions, fits_dimension, methods_at, places
from witnessmark.questions.working.pairs import bare_pairs_at, pairs_at
from witnessmark.questions.working.rarer import rarer_at
from witnessmark.questions.working.unconverted import unconverted_at

HAUL, GAP, HOLE, THREAD = (BANK[key] for key in ("slipway-haul", "gap-then-stress", "square-hole", "bolt-thread"))
HAULED = HAUL.variant(m="1000 kg", theta="10 deg", mu=0.1, v="6 m/min", eta="74 %")


def methods_of(question: Question, key: str) -> tuple[Method, ...]:
    (place,) = (p for p in places(question, 3) if p.key == key)
    return methods_at(place, dimensions(question))


def right_of(question: Question, key: str) -> Method:
    return methods_of(question, key)[0]


def unconverted(question: Question, key: str) -> tuple[Edited, ...]:
    return unconverted_at(right_of(question, key), declared_units(question))


def hauled(edited: Edited) -> float:
    value = number_of(edited.method, names_in_full(HAUL, HAULED.columns), dimensions(HAUL))
    return float(np.ravel(value)[0])


def test_every_given_of_another_scale_may_be_put_in_as_it_is_and_no_other() -> None:
    """m is in kilograms and mu has no unit; v stands in metres a minute and is of another part."""
    said = {done for e in unconverted(HAUL, "b") for done in e.done}
    assert any(done.startswith("the number of {v} was put in as it is, in metres") for done in said), said
    assert not any("{m}" in s or "{mu}" in s or "{eta}" in s for s in said)
    assert not any("{v}" in done for e in unconverted(HAUL, "a") for done in e.done)


def test_a_length_in_metres_may_be_taken_for_millimetres_and_one_in_millimetres_for_centimetres() -> None:
    said = {done for e in unconverted(GAP, "a") for done in e.done}
    assert "the number of {L}, in metres, was taken for millimetres" in said
    assert "the number of {s}, in millimetres, was taken for centimetres" in said
    assert not any("{L} was put in as it is" in s for s in said)


def test_angles_are_turned_alone_and_all_together() -> None:
    """By hand, 9810 N: sin and 0.1 cos of 10°, of 10 rad and of 10 gon (9°)."""
    own, turned = math.radians(10), {"radians": 10.0, "gon": math.radians(9)}
    wanted = {
        unit: [9810 * math.sin(a) + 981 * math.cos(b) for a, b in ((to, own), (own, to), (to, to))]
        for unit, to in turned.items()
    }
    for unit, values in wanted.items():
        mine = [e for e in unconverted(HAUL, "a") if e.done == (f"the calculator was set to {unit}",)]
        found = sorted(hauled(e) for e in mine)
        assert found == pytest.approx(sorted(values), rel=1e-9)


def test_every_unconverted_working_stands_beside_the_listed_methods_but_for_their_own_numbers() -> None:
    """A gap of no account, or millimetres for metres in one term: which of the two, the digits cannot say."""
    known, alike = methods_of(GAP, "a"), likeness(GAP)
    every = [e for e in unconverted(GAP, "a") if alike.of(e.method) is not None]
    close = telling(known, every, alike)
    same, right = {alike.of(m) for m in known}, alike.shape_of(known[0])
    shapes = [(alike.shape_of(e.method), alike.shape_of(m)) for e in close for m in known[1:]]
    assert any(one and other and one == pytest.approx(other, abs=1e-6) for one, other in shapes)
    assert {alike.of(e.method) for e in close} == {
        alike.of(e.method) for e in every if alike.of(e.method) not in same and alike.shape_of(e.method) != right
    }
    assert len({alike.of(e.method) for e in close}) == len(close)


def test_those_who_leave_a_multiple_share_a_third_and_those_who_leave_another_unit_two_thirds() -> None:
    found = unconverted(HAUL, "a")
    angles = sum(e.weight for e in found if "calculator" in e.done[0] or "{theta}" in e.done[0])
    assert angles == pytest.approx(2 / 3)
    assert sum(e.weight for e in unconverted(THREAD, "a")) == pytest.approx(1 / 3)  # nothing but millimetres


def test_rarer_changes_are_ranked_bare_in_both_systems_and_told_with_formulas_in_braces() -> None:
    found = rarer_at(right_of(HOLE, "b"), dimensions(HOLE), HOLE)
    weights = [e.weight for e in found]
    assert weights == sorted(weights, reverse=True)
    assert len({(e.method.formula, e.method.millimetres) for e in found}) == len(found)
    other = [e for e in found if not fits_dimension(e.method, dimensions(HOLE))]
    assert other
    assert {e.method.millimetres for e in other} == {True, False}
    assert all(e.method.bare for e in other)
    said = {done for e in found for done in e.done}
    assert {"the result is turned upside down", "the root of the result is taken", "half of {F} is taken"} <= said
    assert "the result of a is given again" in said
    assert not any("were" in done.split() for done in said)


def test_a_line_on_the_way_may_be_given_as_the_answer() -> None:
    found = {e.done[0]: e.method for e in rarer_at(right_of(HOLE, "a"), dimensions(HOLE), HOLE)}
    assert plain(found["{A_s} is given as the answer"].final.tree) == "A_s"


def test_two_slips_of_another_dimension_are_bare_in_both_systems_and_no_pair_of_the_right_one() -> None:
    methods, known = methods_of(THREAD, "a"), dimensions(THREAD)
    bare = bare_pairs_at(methods, known)
    assert bare
    assert all(m.bare and not fits_dimension(m, known) for m in bare)
    assert [m.millimetres for m in bare] == [False, True] * (len(bare) // 2)
    assert all(fits_dimension(m, known) for m in pairs_at(methods, known))
    assert all(len(m.misconceptions) == 2 for m in bare)
    assert all(m.keeps == min(s.keeps for s in methods if set(s.misconceptions) & set(m.misconceptions)) for m in bare)


def test_a_method_is_a_factor_times_another_only_where_it_is_in_every_variant() -> None:
    alike, right = likeness(HOLE), right_of(HOLE, "a")
    four = next(m for m in methods_of(HOLE, "a") if "one-side-for-perimeter" in m.misconceptions)
    assert is_times(alike.of(four), 0.25, alike.of(right))
    assert not is_times(alike.of(four), 0.5, alike.of(right))
    assert not is_times(alike.of(right_of(HOLE, "a.A_s")), 0.25, alike.of(right))
