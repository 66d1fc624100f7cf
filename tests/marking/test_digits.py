"""What digits say about the number behind them: worked by hand from the rules of rounding (ISO 80000-1, Annex B)."""

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from witnessmark.marking.weighing.digits import (
    Digits,
    Fewer,
    Numbers,
    digits_of,
    evenly_among,
    fewest_figures,
    gives_fewer,
    joined,
    mistypings,
    picked,
    spacing_of,
)
from witnessmark.marking.weights import FIGURES_MEANT

TO_THREE = FIGURES_MEANT[1] + FIGURES_MEANT[2] + FIGURES_MEANT[3]


def numbers(
    *typed: tuple[float, float], scale: float = 1.0, offset: float = 0.0, pointed: tuple[bool, ...] = ()
) -> Numbers:
    """Entries, each with its figures, in a unit of this scale and offset."""
    written, figures = (np.array(column, np.float64) for column in zip(*typed, strict=True))
    n, points = len(typed), np.array(pointed or (False,) * len(typed))
    return Numbers(written * scale + offset, written, figures, np.full(n, scale), np.full(n, offset), points)


def meant(written: float, figures: float, scale: float = 1.0, offset: float = 0.0) -> dict[tuple[float, float], float]:
    """What may have been meant, by number and figures, with the sum of its chances."""
    found: Counter[tuple[float, float]] = Counter()
    for rows, other, chance in mistypings(numbers((written, figures), scale=scale, offset=offset)):
        if len(rows):
            assert other.si[0] == pytest.approx(other.written[0] * scale + offset)
            found[round(float(other.written[0]), 9), float(other.figures[0])] += float(chance[0])  # type: ignore[assignment]
    return dict(found)


# To how many figures a number may have been rounded.


@pytest.mark.parametrize(
    ("written", "figures", "fewest"),
    [
        (400.0, 3, 1), (4000.0, 4, 1), (1200.0, 4, 2), (1203.0, 4, 4), (4100.0, 3, 2), (10.0, 2, 1), (94.2, 3, 3),
        (-400.0, 3, 1), (4000.0, 3, 1), (4.0, 1, 1), (400.5, 4, 4), (12_000_000.0, 8, 2),
    ],
)  # fmt: skip
def test_only_noughts_at_the_end_of_a_whole_number_may_stand_for_other_digits(
    written: float, figures: int, fewest: int
) -> None:
    beside = numbers((94.2, 3), (written, figures), (1203.0, 4))
    assert fewest_figures(beside).tolist() == [3, fewest, 4]


def test_noughts_of_a_number_that_is_written_with_a_point_are_figures() -> None:
    assert fewest_figures(numbers((2500.0, 4), (2500.0, 4), pointed=(True, False))).tolist() == [4, 2]


def test_what_a_float_cannot_hold_exactly_is_taken_as_it_is_written() -> None:
    """2^53 is the first whole number that has no neighbour: IEEE 754, binary64."""
    limit = 2.0**53
    assert digits_of(numbers((limit, 16), (limit - 1, 16))).share.tolist() == [1.0, FIGURES_MEANT[6]]


def levels(found: Digits, name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """What stands for the figures as written, and for each step fewer, of every entry; 0 where nobody means so many."""
    fewer, first = found.fewer, getattr(found, name)
    if fewer is None:
        return np.array([first])
    further = np.zeros((len(fewer.share), len(first)))
    further[:, fewer.rows] = getattr(fewer, name)
    return np.array([first, *further])


def test_of_a_whole_number_each_count_of_figures_has_the_share_of_those_who_mean_it() -> None:
    found = digits_of(numbers((400.0, 3), (94.2, 3), (30.0, 2), (40.0, 1)))
    to_two = FIGURES_MEANT[1] + FIGURES_MEANT[2]
    shares, widths = levels(found, "share"), levels(found, "high") - levels(found, "low")
    assert shares.T.tolist() == [
        pytest.approx([FIGURES_MEANT[3] / TO_THREE, FIGURES_MEANT[2] / TO_THREE, FIGURES_MEANT[1] / TO_THREE]),
        [1.0, 0.0, 0.0],
        pytest.approx([FIGURES_MEANT[2] / to_two, FIGURES_MEANT[1] / to_two, 0.0]),
        [1.0, 0.0, 0.0],
    ]
    assert widths[:, 0].tolist() == pytest.approx([1.0, 10.0, 100.0])
    assert levels(found.as_written, "share").tolist() == shares[:1].tolist()


def test_whoever_writes_more_than_six_figures_means_as_many_as_who_writes_six() -> None:
    assert levels(digits_of(numbers((1_234_567.0, 7))), "share").tolist() == [[FIGURES_MEANT[6]]]


# What digits allow.


def test_the_step_of_the_last_digit_is_that_of_the_unit_written() -> None:
    """94.2 kN: a step of 100 N, of which half is 0.05 in 94.2."""
    found = digits_of(numbers((94.2, 3), scale=1000.0))
    assert found.step.tolist() == pytest.approx([100.0])
    assert found.half.tolist() == pytest.approx([0.05 / 94.2])


def test_digits_are_given_by_every_value_between_their_ends_and_by_the_ends() -> None:
    some = numbers((8.0, 1), (8.0, 1), scale=2.0, offset=1.0)
    low, high = np.array([[7.0, 7.25], [6.5, 0.0]]), np.array([[9.0, 8.75], [9.5, 0.0]])
    fewer = Fewer(np.arange(2, dtype=np.int32), np.arange(2), low, high, np.array([[0.25, 0.125], [0.125, 0.0]]))
    found = Digits(some, np.ones(2), np.ones(2), np.full(2, 7.5), np.full(2, 8.5), np.array([0.5, 0.75]), fewer)
    values = [6.4, 6.5, 6.9, 7.0, 7.25, 7.4, 7.5, 8.5, 8.6, 8.75, 9.0, 9.1, 9.5, 9.6]
    given = [found.given_by(np.full(2, 2 * value + 1)).tolist() for value in values]
    outside, widest, wider = [0.0, 0.0], [0.125, 0.0], [0.375, 0.0]
    assert given == [outside, widest, widest, wider, *[[0.375, 0.125]] * 2, *[[0.875, 0.875]] * 2,
                     *[[0.375, 0.125]] * 2, wider, widest, widest, outside]  # fmt: skip


@pytest.mark.parametrize("sign", [1, -1])
def test_digits_are_cut_from_values_that_would_have_rounded_up_and_begin_alike(sign: int) -> None:
    """8 from 8.5 up to 9, which is cut to 9 itself."""
    found = digits_of(numbers(*[(sign * 8.0, 1)] * 4, scale=2.0, offset=1.0))
    values = 2 * sign * np.array([8.4, 8.5, 8.9, 9.0]) + 1
    assert found.cut_from(found.in_unit_written(values)).tolist() == [False, True, True, False]


def test_digits_lie_as_far_apart_as_their_last_one_by_the_share_of_who_means_so_many() -> None:
    by_hand = (FIGURES_MEANT[3] * 1 + FIGURES_MEANT[2] * 10 + FIGURES_MEANT[1] * 100) / TO_THREE / 400
    assert spacing_of(numbers((94.2, 3), (400.0, 3))).tolist() == pytest.approx([0.1 / 94.2, by_hand])


def test_among_even_numbers_digits_have_the_chance_of_their_step_in_the_width_and_a_step() -> None:
    """A step of 100 N in 300 N and one more: a quarter; none is surer than sure."""
    some = numbers((94.2, 3), (400.0, 3), scale=1000.0)
    steps = ((FIGURES_MEANT[3], 1000.0), (FIGURES_MEANT[2], 10_000.0), (FIGURES_MEANT[1], 100_000.0))
    by_hand = sum(share / TO_THREE * step / (300.0 + step) for share, step in steps)
    assert evenly_among(some, np.full(2, 300.0)).tolist() == pytest.approx([0.25, by_hand])
    assert evenly_among(some, np.zeros(2)).tolist() == pytest.approx([1.0, 1.0])


def test_a_value_gives_a_number_of_fewer_figures_where_it_rounds_to_it_in_the_unit_written() -> None:
    some = numbers((4000.0, 4), (3990.0, 4), (3986.0, 4), scale=2.0, offset=300.0)
    assert gives_fewer(np.full(3, 2 * 3986.2 + 300), some, 2).tolist() == [1.0, 0.0, 0.0]
    assert gives_fewer(np.full(3, 2 * 3986.2 + 300), some, 3).tolist() == [0.0, 1.0, 0.0]


def test_several_columns_are_one_behind_the_other_or_row_by_row_the_one_that_is_picked() -> None:
    first, second = numbers((1.0, 1), (2.0, 1)), numbers((3.0, 1), (4.0, 1))
    assert joined([first, second]).written.tolist() == [1.0, 2.0, 3.0, 4.0]
    assert picked([first, second], np.array([1, 0])).written.tolist() == [3.0, 2.0]
    assert picked([first], np.array([0, 0])) is first


# Some of the entries.


def test_some_entries_have_the_noughts_that_they_have_among_all_whether_these_were_counted_before_or_not() -> None:
    every = numbers((94.2, 3), (400.0, 3), (1200.0, 4), (4000.0, 4))
    rows = np.array([3, 1, 0])
    before = every.only(rows)
    assert fewest_figures(every).tolist() == [3, 1, 2, 1]
    for some in (before, every.only(rows), every.asked_of(rows), every.asked_of(rows).only(np.array([0, 1, 2]))):
        assert some.written.tolist() == [4000.0, 400.0, 94.2]
        assert fewest_figures(some).tolist() == [1, 1, 3]
        assert [column.tolist() for column in some.noughts] == [[3, 2, 0], [True, True, False]]
    with pytest.raises(AttributeError):
        _ = every.asked_of(rows).other  # type: ignore[attr-defined]


def test_some_entries_may_be_meant_as_they_may_among_all() -> None:
    every = digits_of(numbers((94.2, 3), (400.0, 3), (1200.0, 4), (94.3, 3)))
    for rows in ([0, 3], [1], [2, 0], [3, 1], [1, 2, 1], []):
        picked = np.array(rows, np.intp)
        some = every.only(picked)
        for name in ("low", "high", "share"):
            assert levels(some, name).tolist() == levels(every, name)[:, picked].tolist()
        again = every.only(np.arange(4)).only(picked)
        assert levels(again, "share").tolist() == levels(some, "share").tolist()
        assert (some.step.tolist(), some.half.tolist()) == (every.step[picked].tolist(), every.half[picked].tolist())
        assert some.numbers.written.tolist() == every.numbers.written[picked].tolist()


def test_each_entry_is_read_on_the_scale_that_it_was_written_in() -> None:
    """20 degrees Celsius beside 293 kelvin: 293.15 K rounds to either."""
    celsius, kelvin = numbers((20.0, 2), offset=273.15), numbers((293.0, 3))
    both = digits_of(joined([celsius, replace(kelvin, pointed=np.array([True]))]))
    assert both.as_written.given_by(np.array([293.15, 293.15])).tolist() == [both.share[0], 1.0]
    assert both.given_by(np.array([20.0, 20.0])).tolist() == [0.0, 0.0]


# Slips of the fingers: two neighbouring digits that differ changed places, or one was typed twice.


@pytest.mark.parametrize(
    ("written", "figures", "others"),
    [
        (36.16, 4, {(36.61, 4), (31.66, 4), (63.16, 4)}),
        (12.3, 3, {(13.2, 3), (21.3, 3)}),
        (336.61, 5, {(336.16, 5), (363.61, 5), (36.61, 4), (336.1, 4)}),
        (166.23, 5, {(166.32, 5), (162.63, 5), (616.23, 5), (16.23, 4)}),
        (1190.0, 5, {(1910.0, 5), (1109.0, 5), (190.0, 4)}),  # not 1190, which is the same number
        (105.0, 3, {(150.0, 3)}),  # not 015
        (120.0, 3, {(102.0, 3), (210.0, 3)}),
        (213.0, 3, {(231.0, 3), (123.0, 3)}),
        (12.11, 4, {(11.21, 4), (21.11, 4), (12.1, 3)}),
        (0.00115, 3, {(0.00151, 3)}),  # what is left of a double has three figures at least
        (11.55, 4, {(15.15, 4), (1.55, 3), (11.5, 3)}),
        (1000.0, 4, {(100.0, 3)}),
    ],
)
def test_what_was_meant_has_two_digits_the_other_way_round_or_one_of_a_pair(
    written: float, figures: int, others: set[tuple[float, int]]
) -> None:
    for sign in (1, -1):
        assert set(meant(sign * written, figures)) == {(sign * number, count) for number, count in others}


def test_every_neighbouring_pair_is_as_likely_to_be_the_one() -> None:
    """Of four digits three pairs, half of the slips of each kind; of a thousand either pair of noughts is one."""
    assert list(meant(36.16, 4, scale=1000.0, offset=5.0).values()) == pytest.approx([0.5 / 3] * 3)
    assert meant(336.61, 5)[36.61, 4] == pytest.approx(0.5 / 3)
    assert meant(336.61, 5)[336.16, 5] == pytest.approx(0.5 / 4)
    assert meant(1000.0, 4)[100.0, 3] == pytest.approx(2 * 0.5 / 2)
    assert meant(10_000.0, 4)[1000.0, 3] == pytest.approx(2 * 0.5 / 2)  # 1.000 with a power of ten beside it


def test_fingers_slip_on_three_to_nine_figures_alone_and_never_on_what_is_no_number() -> None:
    assert meant(12.0, 2) == {}
    assert len(meant(1.23456789, 9)) == 8
    assert meant(1.234567891, 10) == {}
    for nothing in ((0.0, 4), (math.nan, 4), (math.inf, 4), (12.3, math.nan)):
        assert meant(*nothing) == {}, nothing


def test_a_slip_of_the_fingers_is_told_of_each_entry_alone() -> None:
    """Between longer and shorter entries each has what it has alone."""
    together = list(mistypings(numbers((12.3, 3), (0.0, 4), (336.61, 5), (12.0, 2))))
    found: dict[int, set[tuple[float, float]]] = {}
    for rows, other, _chance in together:
        for n, row in enumerate(rows.tolist()):
            found.setdefault(row, set()).add((round(float(other.written[n]), 9), float(other.figures[n])))
    assert found == {0: {(13.2, 3), (21.3, 3)}, 2: set(meant(336.61, 5))}
