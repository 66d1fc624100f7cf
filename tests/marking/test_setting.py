"""What is known at a place is worked once for all who were told the same, and says of each what it says of them alone.

Three drain holes: 300 MPa, 20 mm and 6 mm; 200 MPa, 20 mm and 6 mm; 300 MPa, 10 mm and 6 mm. By hand the edge takes
113.097, 75.398 and 56.549 kN.
"""

import gc
import weakref
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from marking.test_likelihood import CARRIED, FACE, PER_SQUARE, right_force, slip
from marking.test_likelihood import setting as of_one_hole
from marking.test_weighing_laws import HOLE, numbers, right_at
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.digits import digits_of
from witnessmark.marking.weighing.habits import Before, Own, Ways
from witnessmark.marking.weighing.likelihood import likelihood, likelihoods
from witnessmark.marking.weighing.setting import MOST_VARIANTS, PerVariant, Setting, in_full
from witnessmark.marking.weighing.weighing import weights_of
from witnessmark.questions.working.evaluation import names_between, names_in_full
from witnessmark.questions.working.methods import dimensions
from witnessmark.questions.working.working import envelopes

TOLD = np.array([2, 0, 0, 1, 2, 0, 1])
EDGES = np.array([113_097.3, 75_398.2, 56_548.7])
RIGHT = Hypothesis("right", 2, Verdict.RIGHT, right_at("a"))
EARLY = Hypothesis("rounded early", 3, Verdict.ROUNDED_EARLY, right_at("a"), figures=2)
EACH = Hypothesis("each rounded", 3, Verdict.ROUNDED_EARLY, right_at("a"))


def known(told: "np.ndarray[Any, np.dtype[np.intp]] | None" = None) -> Setting:
    """What is known of the holes of these students, all of whom have an area of 376 mm^2."""
    tau, d = np.array([300e6, 200e6, 300e6])[TOLD], np.array([0.020, 0.020, 0.010])[TOLD]
    givens = {"tau": tau, "d": d, "t": np.full(len(TOLD), 0.006)}
    names, between = names_in_full(HOLE, givens), names_between(HOLE, givens, envelopes(HOLE, givens, 3))
    variants = PerVariant(names, between, Ways(HOLE, givens, np.arange(len(TOLD))), dimensions(HOLE))
    area, half = np.full(len(TOLD), 376e-6), np.full(len(TOLD), 0.5e-6)
    none = np.zeros(len(TOLD), np.bool_)
    own = Own(("A_s",), area, Before.unknown(len(TOLD)), half, half, area, none)
    return Setting(variants, (own,)).by_variant(told)


def test_each_variant_is_known_once() -> None:
    by_variant = known(TOLD)
    assert (len(by_variant.variants), by_variant.size, known().size) == (3, len(TOLD), len(TOLD))
    assert by_variant.variants.in_full(right_at("a")).tolist() == pytest.approx(EDGES.tolist(), rel=1e-5)
    assert in_full(RIGHT, by_variant).tolist() == pytest.approx(EDGES[TOLD].tolist(), rel=1e-5)
    carried = [112_800.0 if strength > 250e6 else 75_200.0 for strength in np.array([300e6, 200e6, 300e6])[TOLD]]
    assert in_full(CARRIED, by_variant).tolist() == pytest.approx(carried)
    assert in_full(slip("300"), by_variant).tolist() == [300.0] * len(TOLD)


@pytest.mark.parametrize("rows", [[0, 1, 2, 3, 4, 5, 6], [6, 0, 3], [1, 2, 5], [4]])
@pytest.mark.parametrize("h", [RIGHT, EARLY, EACH, FACE, CARRIED, slip("300")])
def test_who_was_told_the_same_has_what_each_would_have_alone(h: Hypothesis, rows: list[int]) -> None:
    written = [56.5, 113.1, 110.0, 75.4, 112.8, 94.25, 75.2]
    entries = digits_of(numbers(written, 4, 1_000.0)).only(np.array(rows))
    found = [likelihood(h, entries, of) for of in (known().only(np.array(rows)), known(TOLD).only(np.array(rows)))]
    again = likelihood(h, entries, known(TOLD).of(h, np.array(rows)))
    for inside, like in (found[1], again):
        assert inside.tolist() == found[0][0].tolist()
        assert like.tolist() == found[0][1].tolist()


def test_what_is_carried_on_and_not_used_is_weighed_beside_what_carries_nothing_on() -> None:
    """The face knows nothing of the line that the student got wrong."""
    some = [RIGHT, replace(FACE, carried=(0,)), FACE, CARRIED]
    entries = numbers([94.2, 75.4, 62.8, 113.1, 23.6, 62.8, 112.8], 3, 1_000.0)
    told, alone = weights_of(entries, known(TOLD), some), weights_of(entries, known(), some)
    assert set(told.hypothesis.tolist()) >= {1, 2}
    for one, other in ((told.row, alone.row), (told.hypothesis, alone.hypothesis), (told.weight, alone.weight)):
        assert one.tolist() == other.tolist()


def test_who_typed_a_right_result_goes_on_from_it_among_those_who_were_told_the_same() -> None:
    """113 kN, typed by some of those who have the first hole, over the square of its 20 mm or of 10 mm."""
    h = Hypothesis("slip", 5, Verdict.SLIP, PER_SQUARE)
    entries = digits_of(numbers([282.5, 282.7, 282.7, 1130.0, 282.5, 1131.0, 282.5], 4, 1e6))
    alone, told = (replace(known(of), own=(right_force(len(TOLD), (0, 1, 3, 6)),)) for of in (None, TOLD))
    assert [x.tolist() for x in likelihood(h, entries, told)] == [x.tolist() for x in likelihood(h, entries, alone)]
    assert likelihood(h, entries, told)[1].max() > 0.3


def test_few_entries_of_many_variants_have_what_is_known_of_their_own() -> None:
    many = replace(known(TOLD), variants=known().variants, own=())
    rows = np.array([0])
    assert len(many.variants) > MOST_VARIANTS
    assert (len(many.only(rows).variants), many.only(rows).which) == (1, None)
    assert len(many.only(np.array([0, 1])).variants) == len(TOLD)


def test_what_one_method_gives_is_worked_once_for_all_hypotheses_of_it() -> None:
    """Carried on, and with figures left out: 112.8 kN, and 112 kN of it in three figures."""
    cut = replace(CARRIED, kind="cut off", cut_off=True)
    entries = digits_of(numbers([112.8, 112.0, 113.0] + [1.0] * 4, 4, 1_000.0))
    both = likelihoods([CARRIED, cut], entries, known(TOLD))
    for h, (inside, like) in zip((CARRIED, cut), both, strict=True):
        alone = likelihood(h, entries, known(TOLD))
        assert (inside.tolist(), like.tolist()) == (alone[0].tolist(), alone[1].tolist())


def test_fewer_figures_than_are_asked_are_no_figures_left_out() -> None:
    """94.2478 kN without its last figures are 94.24 and 94.2; 94 has two figures, and three are asked."""
    cut = replace(slip("1.0005*tau*pi*d**2/4"), cut_off=True)
    written = numbers([94.2, 94.0], 3, 1_000.0)
    fewer = replace(written, figures=np.array([3.0, 2.0]))
    inside, like = likelihood(cut, digits_of(fewer), of_one_hole(2))
    assert inside.tolist() == [False, False]
    assert like[0] > 0.5
    assert like[1] == 0.0


def test_nothing_that_was_weighed_is_held_when_it_is_done() -> None:
    """Copies of a process do not look for what holds itself, and would keep every entry."""
    h = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, PER_SQUARE)
    written = numbers([282.5, 282.4], 4, 1e6)
    held = weakref.ref(written)
    gc.collect()
    gc.disable()
    try:
        likelihood(h, digits_of(written), of_one_hole(2, right_force(2, (0,))))
        del written
        assert held() is None
    finally:
        gc.enable()
