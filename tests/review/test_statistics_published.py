"""Statistics against published figures (`cases/published_statistics.csv`, each with its source) and two libraries."""

import csv
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.contingency_tables import mcnemar
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

from searching import examples
from test_published_statistics import COUNTS, PERSONS
from witnessmark.maths.probability import f_quantile, normal_quantile
from witnessmark.review.statistics.paired import Paired, findings
from witnessmark.review.statistics.parts import correlation, facilities, item_rest, tail_size, upper_less_lower
from witnessmark.review.statistics.reliability import alpha, alpha_interval, alpha_of, reliability, spread_of
from witnessmark.review.statistics.shares import Share
from witnessmark.review.statistics.table import MarkTable, mark_table

# Section 7 of the same test, patterns in the same order and from the same table as section 6 (see COUNTS).
COUNTS_7 = (
    12, 19, 1, 7, 3, 19, 3, 17, 10, 5, 3, 7, 7, 23, 8, 28, 7, 39, 11, 34, 14, 51, 15, 90, 6, 25, 7, 35, 18, 136, 32,
    308,
)  # fmt: skip
PATTERNS = [tuple(int(c) for c in f"{i:05b}") for i in range(32)]
LSAT_6 = mark_table(PERSONS, (1,) * 5)
LSAT_7 = mark_table([p for p, n in zip(PATTERNS, COUNTS_7, strict=True) for _ in range(n)], (1,) * 5)
with (Path(__file__).parents[1] / "cases" / "published_statistics.csv").open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(line for line in file if not line.startswith("#")))


def numbers(text: str) -> list[float]:
    """The numbers of a text, parted by blanks."""
    return [float(number) for number in text.split()]


def found(what: str, text: str) -> float | None:
    """What our functions give for a row of the table."""
    given_ = numbers(text) if "/" not in text else []
    match what.split():
        case ["wilson", end]:
            return float(getattr(Share(int(given_[0]), int(given_[1])).interval(), end))
        case ["exact", "paired"]:
            return Paired(*(int(n) for n in given_)).chance
        case ["alpha", "of", "variances"]:
            return alpha_of(int(given_[0]), given_[1], given_[2])
        case ["alpha", "interval", end]:
            return float(getattr(alpha_interval(given_[0], int(given_[1]), int(given_[2])), end))
        case ["alpha", "lsat", section]:
            return alpha(LSAT_6 if section == "6" else LSAT_7)
        case ["alpha", "lsat", "6", "without"]:
            return alpha(LSAT_6.without(int(text) - 1))
        case ["item", "rest", "lsat", section]:
            return item_rest(LSAT_6 if section == "6" else LSAT_7)[int(text) - 1]
        case ["correlation"]:
            return correlation(*(np.array(numbers(half)) for half in text.split("/")))
        case ["spread"]:
            return spread_of(tuple(given_))
    raise ValueError(what)


@pytest.mark.parametrize("row", ROWS, ids=[f"{r['what']} {r['given']}" for r in ROWS])
def test_each_statistic_is_the_published_figure(row: dict[str, str]) -> None:
    places = len(row["printed"].partition(".")[2])
    ours = found(row["what"], row["given"])
    assert ours is not None
    assert f"{ours:.{places}f}" == row["printed"], f"{row['source']}: {row['printed']}, ours {ours}"


def test_the_facilities_of_the_published_data_are_the_published_shares_right() -> None:
    assert sum(COUNTS) == sum(COUNTS_7) == 1000
    assert [f"{f:.3f}" for f in facilities(LSAT_6)] == ["0.924", "0.709", "0.553", "0.763", "0.870"]


# T. L. Kelley (1939): 27.03 % at z = 0.6120; whole persons for small classes, as in L. R. Aiken's rule of thumb.
@pytest.mark.parametrize(("students", "persons"), [(0, 0), (1, 1), (4, 1), (20, 5), (30, 8), (50, 14), (100, 27)])
def test_the_tails_are_27_per_cent_in_whole_persons(students: int, persons: int) -> None:
    assert tail_size(students) == persons


def test_27_per_cent_is_where_twice_z_times_the_tail_is_the_height_of_the_normal_curve() -> None:
    z = 0.6120
    assert scipy.stats.norm.pdf(z) == pytest.approx(2 * z * scipy.stats.norm.sf(z), rel=2e-4)
    assert scipy.stats.norm.sf(z) == pytest.approx(0.2703, abs=5e-5)


def test_the_upper_less_the_lower_part_of_the_published_data_is_found_by_hand() -> None:
    """270 of 1000 at each end, ties sharing: 298 have all five right, so 270 of them by shares, all right in all parts;
    108 have two or fewer right, and 162 of the 237 with three."""
    low = [0.0] * 5
    for pattern, count in zip(PATTERNS, COUNTS, strict=True):
        weight = count if sum(pattern) <= 2 else count * 162 / 237 if sum(pattern) == 3 else 0.0
        low = [a + weight * b for a, b in zip(low, pattern, strict=True)]
    assert upper_less_lower(LSAT_6) == pytest.approx([1 - share / 270 for share in low])


@given(st.integers(1, 60), st.data())
@examples(40)
def test_wilsons_interval_is_that_of_statsmodels(n: int, data: st.DataObject) -> None:
    count = data.draw(st.integers(0, n))
    ours = Share(count, n).interval()
    assert (ours.low, ours.high) == pytest.approx(proportion_confint(count, n, method="wilson"), abs=1e-12)


@given(st.integers(0, 30), st.integers(0, 30))
@examples(40)
def test_the_exact_paired_test_is_that_of_statsmodels_and_scipy(b: int, c: int) -> None:
    ours = Paired(3, b, c, 5).chance
    assert ours == pytest.approx(mcnemar([[3, b], [c, 5]], exact=True).pvalue if b + c else 1.0)
    assert ours == pytest.approx(scipy.stats.binomtest(b, b + c).pvalue if b + c else 1.0)


@pytest.mark.parametrize("chances", [[0.5], [0.049], [0.01, 0.04, 0.03], [0.01, 0.02, 0.3], [0.001, 0.017, 0.024, 0.9]])
def test_findings_among_several_tests_are_those_of_statsmodels(chances: list[float]) -> None:
    assert list(findings(chances)) == list(multipletests(chances, method="holm")[0])


@pytest.mark.parametrize(("above", "below"), [(1, 2998), (2999, 2999), (2999, 5998), (2999, 20_993)])
@pytest.mark.parametrize("share", [0.025, 0.975])
def test_quantiles_of_f_are_found_for_thousands_of_students(share: float, above: int, below: int) -> None:
    """The series of the incomplete beta function does not come to its end there."""
    assert f_quantile(share, above, below) == pytest.approx(scipy.stats.f.ppf(share, above, below), rel=1e-8)


@given(st.floats(0.001, 0.999), st.integers(1, 60), st.integers(1, 300))
@examples(10)
def test_quantiles_of_f_and_of_the_normal_curve_are_those_of_scipy(share: float, above: int, below: int) -> None:
    assert f_quantile(share, above, below) == pytest.approx(scipy.stats.f.ppf(share, above, below), rel=1e-8)
    assert normal_quantile(share) == pytest.approx(scipy.stats.norm.ppf(share), abs=1e-9)


@given(st.integers(5, 20), st.integers(2, 6), st.integers(0, 10_000))
@examples(25)
def test_item_rest_correlations_are_those_of_scipy(students: int, parts: int, seed: int) -> None:
    marks = np.random.default_rng(seed).integers(0, 4, (students, parts)).astype(float)
    for i, ours in enumerate(item_rest(MarkTable(marks, np.full(parts, 3.0)))):
        part, rest = marks[:, i], marks.sum(axis=1) - marks[:, i]
        if ours is None:
            assert np.ptp(part) == 0 or np.ptp(rest) == 0
        else:
            assert ours == pytest.approx(scipy.stats.pearsonr(part, rest).statistic)


def test_what_waits_is_left_out_and_not_counted_as_nothing() -> None:
    table = mark_table([(3, None), (1, 2), (None, 2), (2, 0)], (3, 2))
    assert facilities(table) == pytest.approx([6 / 9, 4 / 6])
    assert table.whole.students == 2
    assert facilities(mark_table([(None,)], (3,))) == (None,)


def test_with_too_few_nothing_is_said() -> None:
    few = mark_table([(1, 0), (0, 1)], (1, 1))
    assert reliability(few) is None
    assert upper_less_lower(few) == item_rest(few) == (None, None)
    assert reliability(mark_table([(1, 0), (0, 1), (1, 0)], (1, 1))) is None  # every total is 1


def test_the_standard_error_of_a_mark_is_the_spread_times_the_root_of_what_alpha_leaves() -> None:
    found_ = reliability(LSAT_6)
    assert found_ is not None
    totals = LSAT_6.marks.sum(axis=1)
    assert found_.standard_error == pytest.approx(scipy.stats.tstd(totals) * (1 - found_.alpha) ** 0.5)
    assert [f"{a:.4f}" for a in found_.without if a is not None] == ["0.2754", "0.2376", "0.2168", "0.2459", "0.2663"]
    assert found_.interval.holds(found_.alpha)


def test_nobody_who_changed_shows_nothing_and_few_who_changed_cannot() -> None:
    assert Paired(4, 0, 0, 9).chance == 1.0
    assert Paired(0, 5, 0, 0).chance == Paired(0, 5, 0, 0).least_chance == 2 / 2**5
    assert findings([0.04, 0.03]) == (False, False)
