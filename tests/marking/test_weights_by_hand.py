"""What explanations weigh before they are set against each other, by hand: prior times the chance of the digits, less
where a student's own results are passed over; what is left out beside a nearer explanation; digits of no method.

The drain hole has 300 MPa, 20 mm and 6 mm; a slip takes the face of 20 mm for the edge, 94.2478 kN. Three in four take
pi in full, one in twenty leaves figures out, one in twenty passes over an own result (our assumptions).
"""

from dataclasses import replace

import numpy as np
import pytest

from marking.test_likelihood import CARRIED, FACE, setting, slip, wrong_area
from marking.test_weighing_laws import numbers, right_at
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.habits import Before, Own
from witnessmark.marking.weighing.weighing import Fits, Weights, fits_of, likelihood_of_none, weights_of
from witnessmark.marking.weights import PRIOR_OF_NONE

SLIP = replace(FACE, prior=0.2)
FINGERS = Hypothesis("digits", 6, Verdict.EDIT, FACE.method, prior=0.01)
FULL, ROUNDED, CUT = 0.75, 0.95, 0.05


def told(candidates: list[Hypothesis], written: list[float], figures: int, *own: Own) -> dict[tuple[int, int], float]:
    """What the candidates weigh at entries in kilonewtons, by entry and candidate."""
    found = weights_of(numbers(written, figures, 1_000.0), setting(len(written), *own), candidates)
    assert found.hypothesis.tolist() == sorted(found.hypothesis.tolist())
    return dict(
        zip(zip(found.row.tolist(), found.hypothesis.tolist(), strict=True), found.weight.tolist(), strict=True)
    )


def passed_over(size: int) -> Own:
    """An own wrong area, which the slip does not start from."""
    return wrong_area(np.full(size, 0.5e-6), Before.unknown(size))


# What a hypothesis weighs.


def test_an_explanation_weighs_its_prior_times_the_chance_of_the_digits() -> None:
    found = told([slip("tau*d*t"), SLIP], [94.25, 36.0], 4)
    assert found[0, 1] == pytest.approx(0.2 * ROUNDED * FULL)
    assert found.keys() == {(0, 1), (1, 0)}


def test_two_digits_that_changed_places_weigh_as_what_was_meant_times_the_chance_of_these_two() -> None:
    """49.25 and 92.45 for 94.25, of four digits with three pairs: half of the slips of the fingers are such."""
    found = told([FINGERS, SLIP, slip("tau*d*t")], [49.25, 92.45, 94.25, 60.00], 4)
    by_hand = 0.01 * 0.5 / 3 * ROUNDED * FULL
    assert found.pop((0, 0)) == pytest.approx(by_hand)
    assert found.pop((1, 0)) == pytest.approx(by_hand)
    assert found.pop((2, 1)) == pytest.approx(0.2 * ROUNDED * FULL)
    assert all(weight < 0.01 * by_hand for weight in found.values())


def test_a_digit_that_was_typed_twice_weighs_as_what_was_meant_times_the_chance_of_this_one() -> None:
    """94.225 for 94.25."""
    by_hand = 0.01 * 0.5 / 3 * ROUNDED * FULL
    assert told([FINGERS], [94.225], 5) == {(0, 0): pytest.approx(by_hand, rel=1e-3)}


def test_whoever_passes_over_own_wrong_results_is_held_back_for_each_of_them() -> None:
    one, none = passed_over(2), replace(passed_over(2), values=np.array([np.nan, 376e-6]))
    alone = told([FINGERS, SLIP], [94.25, 49.25], 4)
    beside = told([FINGERS, SLIP], [94.25, 49.25], 4, one)
    assert beside[0, 1] == pytest.approx(alone[0, 1] * 0.05)
    assert beside[1, 0] == pytest.approx(alone[1, 0] * 0.05)
    two = told([FINGERS, SLIP], [94.25, 49.25], 4, one, none)
    assert two[0, 1] == pytest.approx(alone[0, 1] * 0.05)
    assert two[1, 0] == pytest.approx(alone[1, 0] * 0.05**2)


def test_an_entry_outside_what_rounding_allows_weighs_what_leaving_figures_out_makes_it() -> None:
    """87.7 kN cut to one figure is 80."""
    assert told([replace(slip("19*tau*d*t/7.8"), prior=0.2)], [80.0], 1) == {(0, 0): pytest.approx(0.2 * CUT)}


# Explanations set beside each other.


def hypothesis(kind: str, *misconceptions: str) -> Hypothesis:
    return Hypothesis(kind, 3, Verdict.SLIP, replace(right_at("a"), misconceptions=misconceptions))


def fitted(candidates: list[Hypothesis], weights: list[tuple[int, int, float]], entries: int) -> Fits:
    """The posteriors of these weights, told by entry, candidate and weight."""
    row, which, weight = (np.array(column) for column in zip(*weights, strict=True))
    written = numbers([94.2] * entries, 3)
    return fits_of(Weights(row, which, weight.astype(np.float64)), written, candidates, np.full(entries, 94.2))


def test_posteriors_are_shares_of_all_weights_and_of_none_of_these() -> None:
    none = PRIOR_OF_NONE * float(likelihood_of_none(numbers([94.2], 3), np.array([94.2]))[0])
    found = fitted(
        [hypothesis("slip", "x"), hypothesis("sign", "y")], [(0, 0, none), (0, 1, 2 * none), (1, 1, none)], 3
    )
    assert found.posterior.tolist() == pytest.approx([0.25, 0.5, 0.5])
    assert found.none.tolist() == pytest.approx([0.25, 0.5, 1.0])


@pytest.mark.parametrize(("kind", "other", "yields"), [
    ("each rounded", hypothesis("slip", "x"), True),
    ("each rounded", hypothesis("edit"), False),
    ("carried early", hypothesis("carried"), True),
    ("carried early", hypothesis("rounded early"), True),
    ("carried early", hypothesis("coarse constant"), True),
    ("carried early", hypothesis("slip", "x"), False),
    ("sign", hypothesis("slip", "x"), False),
])  # fmt: skip
def test_rounding_on_the_way_is_left_out_where_something_nearer_gives_the_same_digits(
    kind: str, other: Hypothesis, yields: bool
) -> None:
    """In the first entry both do, in the second the rounding alone, in the third the other alone."""
    candidates = [hypothesis("slip", "far"), hypothesis(kind), other]
    found = fitted(candidates, [(0, 1, 0.2), (1, 1, 0.2), (0, 2, 0.1), (2, 2, 0.1), (3, 0, 0.3)], 4)
    beside, alone, first, third, _ = found.posterior.tolist()
    assert (beside == 0.0) == yields
    assert first == pytest.approx(third if yields else beside / 2)
    assert min(alone, third) > 0.9


def test_weights_of_further_candidates_stand_behind_the_first_ones() -> None:
    first = Weights(np.array([0, 2]), np.array([1, 0]), np.array([0.5, 0.25]))
    both = Weights(np.array([1, 0]), np.array([0, 2]), np.array([0.125, 0.75])).beside(first, 2)
    assert (both.row.tolist(), both.hypothesis.tolist()) == ([0, 2, 1, 0], [1, 0, 2, 4])
    assert both.weight.tolist() == [0.5, 0.25, 0.125, 0.75]
    some = both.of_rows(np.array([0, 2]))
    assert (some.row.tolist(), some.hypothesis.tolist(), some.weight.tolist()) == (
        [0, 1, 0],
        [1, 0, 4],
        [0.5, 0.25, 0.75],
    )


def test_fits_of_some_entries_are_told_as_often_as_the_entry_is_named() -> None:
    every = Fits(
        np.array([0, 0, 2, 3]), np.array([4, 1, 2, 3]), np.array([0.5, 0.25, 0.75, 1.0]), np.array([0.25, 1.0, 0.25, 0])
    )
    some = every.of_rows(np.array([2, 0, 2, 1, 0]))
    told = sorted(zip(some.row.tolist(), some.hypothesis.tolist(), some.posterior.tolist(), strict=True))
    assert told == [(0, 2, 0.75), (1, 1, 0.25), (1, 4, 0.5), (2, 2, 0.75), (4, 1, 0.25), (4, 4, 0.5)]
    assert some.none.tolist() == [0.25, 0.25, 0.25, 1.0, 0.25]
    assert every.of_rows(np.array([1])).row.size == 0


def test_what_follows_from_an_own_result_is_found_with_whoever_has_one_beside_what_needs_none() -> None:
    """376 mm^2 make 112.8 kN in the second and in the fifth answer alone; the slip makes 94.25 kN in any."""
    has = np.isin(np.arange(6), [1, 4])
    own = wrong_area(np.full(6, 0.5e-6), Before.unknown(6))
    some = replace(own, values=np.where(has, own.values, np.nan))
    found = told([SLIP, replace(CARRIED, prior=0.5)], [112.8, 112.8, 94.25, 50.0, 112.8, 112.8], 4, some)
    assert found.keys() == {(2, 0), (1, 1), (4, 1)}
    assert found[1, 1] == found[4, 1] == pytest.approx(0.5 * (0.6 / 3 + 0.4))


# None of these.


def test_nothing_has_no_digits_and_is_as_likely_as_one_in_a_million_and_no_digits_are_impossible() -> None:
    """Both floors are our own choice: with seventeen figures it is one in a million million."""
    nothing, digits = (likelihood_of_none(numbers([w], f), np.array([1.2345]))[0] for w, f in ((0.0, 1), (1.2345, 17)))
    assert nothing == pytest.approx(1e-6, rel=1e-3)
    assert digits == pytest.approx(1e-12, rel=1e-3)
