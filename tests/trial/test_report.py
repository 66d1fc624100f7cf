"""The report of a trial: shares, Wilson's intervals against published ones, bands and groups by hand."""

import pytest

from witnessmark.marking.outcome import Verdict
from witnessmark.trial.report import BANDS, Share, report_of, wilson
from witnessmark.trial.tallies import MEETING, Tally


def tally(kind: str = "slip", truth: str = "radius-for-diameter", sure: float = 0.97, *, named: bool = True) -> Tally:
    return Tally("hole", 2, "a", kind, Verdict.SLIP, named, named, True, False, sure, "47.1 kN", truth)


@pytest.mark.parametrize(
    ("hits", "count", "low", "high"),
    [
        # R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3 (from memory)
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)  # fmt: skip
def test_an_interval_is_the_published_one_of_wilson(hits: int, count: int, low: float, high: float) -> None:
    assert wilson(hits / count, count) == pytest.approx((low, high), abs=5e-5)
    assert Share(hits, count).interval == pytest.approx((low, high), abs=5e-5)


def test_nothing_counted_leaves_everything_possible() -> None:
    assert (Share(0, 0).value, Share(0, 0).interval) == (0.0, (0.0, 1.0))


def test_every_answer_stands_in_one_kind_one_band_one_question_and_one_level() -> None:
    tallies = [tally(sure=s) for s in (0, 0.3, 0.5, 0.79, 0.8, 0.95, 0.99, 1.0)] + [tally("noise", "noise", 0.6)]
    found = report_of(tallies)
    assert found.answers == 9
    for counts in (
        [row.named.count for row in found.kinds], [b.count for b in found.bands],
        [g.named.count for g in found.questions], [g.named.count for g in found.levels],
    ):  # fmt: skip
        assert sum(counts) == 9
    assert [band.count for band in found.bands] == [2, 3, 1, 1, 2]
    assert BANDS[0][0] == 0
    assert BANDS[-1][1] == 1


def test_a_wrong_method_has_its_own_share_of_the_answers_where_it_was_made_alone() -> None:
    tallies = [tally(), tally(named=False), tally(truth="face-area"), tally("two slips", "face-area + other")]
    assert [(g.name, g.named.hits, g.named.count) for g in report_of(tallies).methods] == [
        ("face-area", 1, 1), ("radius-for-diameter", 1, 2),
    ]  # fmt: skip


def test_what_no_digits_can_tell_stands_in_its_own_row_and_counts_nowhere_else() -> None:
    found = report_of([tally(), tally(f"edit{MEETING}", named=False)])
    assert [row.kind for row in found.kinds] == ["slip", f"edit{MEETING}"]
    assert [g.named.count for g in (*found.levels, *found.questions)] == [1, 1]
    assert sum(band.count for band in found.bands) == 1


def test_kinds_are_mixed_in_a_band_as_they_are_assumed_to_be_met() -> None:
    # one slip, named, of 18 in a hundred; one of noise, called a slip, of 3: 18/21 are true
    found = report_of([tally(sure=0.9), tally("noise", "noise", 0.9, named=False)])
    band = found.bands[2]
    assert (band.low, band.high, band.count) == (0.8, 0.95, 2)
    assert band.true == pytest.approx(18 / 21)
    assert band.holds
    effective = 21**2 / (18**2 + 3**2)  # Kish: the sum of weights squared over the sum of squares
    assert band.interval == pytest.approx(wilson(18 / 21, effective))
