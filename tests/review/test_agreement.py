"""The agreement of two markers against a published figure and against statsmodels."""

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import cohens_kappa

from searching import examples
from witnessmark.review.statistics.agreement import agreement

# The data set `anxiety` of the R package irr (20 people, raters 2 and 3, ratings 1 to 6), and what its
# kappa2(anxiety[,2:3], "squared") prints: 0.2520325; both read in the tests of statsmodels (test_inter_rater.py).
# That program counts places among the ratings that were given: nobody gave a 5, so that 6 is the fifth.
PRINTED = 0.2520325


def anxiety() -> list[tuple[float, float]]:
    """The ratings of the raters 2 and 3, as places among those that were given."""
    from statsmodels.stats.tests.test_inter_rater import anxiety as ratings

    places = {value: float(n) for n, value in enumerate([1, 2, 3, 4, 6])}
    return [(places[b], places[c]) for _, b, c in ratings.tolist()]


def test_kappa_with_quadratic_weights_is_the_published_one() -> None:
    found = agreement(anxiety())
    assert found.kappa == pytest.approx(PRINTED, abs=5e-8)
    assert found.same.of == 20


@examples(60)
@example([(1, 0), (1, 0), (2, 3), (2, 3)])
@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=4, max_size=60))
def test_kappa_and_its_interval_are_those_of_statsmodels(pairs: list[tuple[int, int]]) -> None:
    assume(len({a for a, _ in pairs}) > 1 and len({b for _, b in pairs}) > 1)
    table = np.zeros((7, 7))
    for a, b in pairs:
        table[a, b] += 1
    with np.errstate(invalid="ignore"):  # their variance may be a little below the nothing that it is
        theirs = cohens_kappa(table, wt="quadratic")
    half = theirs.kappa_upp - theirs.kappa if theirs.var_kappa > 0 else 0.0
    ours = agreement([(a / 2, b / 2) for a, b in pairs])  # in half marks
    assert ours.kappa == pytest.approx(theirs.kappa, abs=1e-9)
    assert ours.interval is not None
    assert ours.interval.low == pytest.approx(max(-1.0, theirs.kappa - half), abs=1e-7)
    assert ours.interval.high == pytest.approx(min(1.0, theirs.kappa + half), abs=1e-7)


def test_two_who_agree_throughout_and_two_of_whom_one_gives_always_the_same() -> None:
    whole = agreement([(0, 0), (1, 1), (3, 3)])
    assert (whole.kappa, whole.same.value) == (1, 1)
    assert agreement([(2, 0), (2, 1), (2, 2)]).kappa is None
    assert agreement([]).kappa is None
