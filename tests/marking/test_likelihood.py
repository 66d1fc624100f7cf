"""How likely a method gives just the digits written, by hand: of own results before they were rounded, of right ones as
they were typed, of figures that were left out.

The drain hole has 300 MPa, 20 mm and 6 mm. Shares are our assumption (common practice, no source): six in ten carry a
wrong result on as it stood, half of these by the method named for it; a right one goes on as it was typed for four in
ten, and as something that rounds to that for 15 in 100; one in twenty leaves figures out.
"""

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from marking.test_weighing_laws import GIVENS, HOLE, numbers, right_at
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing import likelihood as module
from witnessmark.marking.weighing.digits import digits_of
from witnessmark.marking.weighing.habits import IN_FULL, MOST_BEFORE, Before, Own, Ways, habits
from witnessmark.marking.weighing.likelihood import likeliest_before, likelihood
from witnessmark.marking.weighing.setting import PerVariant, Setting, in_full
from witnessmark.marking.weights import LINE_HABITS
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.working.evaluation import names_between, names_in_full
from witnessmark.questions.working.methods import Method, dimensions
from witnessmark.questions.working.working import AskedNumber, envelopes

Floats = npt.NDArray[np.float64]
CARRIED = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, right_at("a"), (0,))


def setting(size: int, *own: Own) -> Setting:
    """One hole for so many students, with their own results."""
    givens = {name: np.full(size, values[0]) for name, values in GIVENS.items()}
    names, between = names_in_full(HOLE, givens), names_between(HOLE, givens, envelopes(HOLE, givens, 3))
    return Setting(PerVariant(names, between, Ways(HOLE, givens, np.arange(size)), dimensions(HOLE)), own)


def wrong_area(half: Floats, before: Before) -> Own:
    """A sheared area of 376 mm^2, which is wrong, with half of its last digit."""
    column = np.full(len(half), 376e-6)
    return Own(("A_s",), column, before, half, half, column, np.zeros(len(half), np.bool_))


def like(h: Hypothesis, written: list[float], figures: int, known: Setting, scale: float = 1_000.0) -> list[float]:
    """How likely these digits are."""
    return [float(x) for x in likelihood(h, digits_of(numbers(written, figures, scale)), known)[1]]


def test_a_wrong_result_is_carried_on_by_the_method_named_for_it_by_any_that_gives_it_or_as_it_was_typed() -> None:
    """375.6 or 376.4 mm^2, one to three, make 112.68 and 112.92 kN; 375.5 to 376.5 make 112.65 to 112.95 kN, a third of
    it at each of three numbers; 376 makes 112.8 kN. Of the fourth only 376.4 is known, of the fifth nothing."""
    before = Before.unknown(5)
    shares = np.array([[0.3, 0.3, 0.3, 0.3], [0.1, 0.1, 0.1, 0.0]])
    before.put(np.arange(4), Before(np.array([[376.4e-6] * 4, [375.6e-6] * 4]), shares))
    own = wrong_area(np.full(5, 0.5e-6), before)
    found = like(CARRIED, [112.9, 112.7, 112.8, 112.7, 112.9], 4, setting(5, own))
    half, third = 0.6 * 0.5, 1 / 3
    by_hand = [half * (0.75 + third), half * (0.25 + third), half * third + 0.4, half * third, 0.6 * third]
    assert found == pytest.approx(by_hand)


def test_a_method_that_is_known_for_some_alone_says_nothing_of_the_others() -> None:
    unknown = Before.unknown(2)
    own = wrong_area(np.full(2, 0.5e-6), unknown)
    assert like(CARRIED, [112.9, 112.8], 4, setting(2, own)) == pytest.approx([0.2, 0.2 + 0.4])


def test_a_result_that_was_not_rounded_is_carried_on_as_it_is() -> None:
    own = wrong_area(np.zeros(2), Before.unknown(2))
    by_it, beside_it = like(CARRIED, [112.8, 112.9], 4, setting(2, own))
    assert by_it == pytest.approx(1.0)
    assert beside_it < 0.001


def right_force(size: int, typed: tuple[int, ...]) -> Own:
    """A force that is right, and typed as 113 kN by some."""
    is_typed = np.isin(np.arange(size), typed)
    none, column = np.full(size, np.nan), np.where(is_typed, 113e3, np.pi * 0.020 * 0.006 * 300e6)
    return Own(("F",), none, Before.unknown(size), np.full(size, 500.0), np.full(size, 500.0), column, is_typed)


PER_SQUARE = Method((), AskedNumber("b", parse("F/d**2"), "MPa", 3))
"""What follows from the force: 113 kN makes 282.5 MPa, 112.5 to 113.5 make 281.25 to 283.75 MPa."""


def by_habits(written: float) -> float:
    """The share of the ways of working by which the force makes this, to four figures."""
    ways = habits(HOLE, {name: values[:1] for name, values in GIVENS.items()})
    made = to_figures(ways.names["F"][:, 0] / 0.020**2 / 1e6, 4)
    return float(ways.shares[np.isclose(made, written, rtol=1e-9)].sum())


@pytest.mark.parametrize("at_once", [50_000, 2, 3])
def test_a_right_result_goes_on_as_it_was_typed_as_what_rounds_to_it_or_as_it_was_worked(
    monkeypatch: pytest.MonkeyPatch, at_once: int
) -> None:
    """A tenth of 2.5 MPa is a share of 0.04; however many are looked at together, some of whom typed nothing."""
    monkeypatch.setattr(module, "MOST_AT_ONCE", at_once)
    h = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, PER_SQUARE)
    written = [282.5, 282.4, 282.5, 282.7, 282.7]
    worked = [by_habits(number) for number in written]
    found = like(h, written, 4, setting(5, right_force(5, (0, 1, 3))), 1e6)
    typed = [0.4 + 0.15 * 0.04, 0.15 * 0.04, 0.0, 0.15 * 0.04, 0.0]
    assert worked[0] > 0.1
    for n in range(5):
        wanted = typed[n] + 0.45 * worked[n] if n in (0, 1, 3) else worked[n]
        assert found[n] == pytest.approx(max(wanted, found[n] if wanted < 0.008 else 0)), n


def slip(formula: str) -> Hypothesis:
    """A slip in one step."""
    return Hypothesis("slip", 5, Verdict.SLIP, Method((), AskedNumber("a", parse(formula), "kN", 3), ("x",)))


FACE = slip("tau*pi*d**2/4")


def test_one_in_twenty_leaves_figures_out_that_would_have_rounded_the_last_one_up() -> None:
    """300 MPa on a face of 20 mm is 94.2478 kN with pi in full: 94.25, or 94.24 cut off."""
    full = sum(share for pi, share in CONSTANTS["pi"].habits if abs(pi - np.pi) < 1e-6)
    rounded, cut = like(FACE, [94.25, 94.24], 4, setting(2))
    assert rounded == pytest.approx(0.95 * full)
    assert cut == pytest.approx(0.05 * full)
    assert like(slip("19*tau*d*t/7.8"), [80.0], 1, setting(1)) == pytest.approx([0.05])  # 87.7 kN, cut to one figure


def test_the_likeliest_numbers_before_rounding_come_first_with_their_shares() -> None:
    """94.2478 kN by pi in full and 94.2 by 3.14 are 94.2 in three figures; 94.26 and 94.29 with the rest left out."""
    found = likeliest_before(FACE, digits_of(numbers([94.2], 3, 1_000.0)), setting(1))
    made = [(300e6 * pi * 1e-4, share) for pi, share in CONSTANTS["pi"].habits]
    shares = [((0.95 if value < 94_250 else 0.05) * share, value) for value, share in made]
    told = zip(found.shares[:, 0].tolist(), found.values[:, 0].tolist(), strict=True)
    for (share, value), (wanted, by_hand) in zip(told, sorted(shares, reverse=True)[:MOST_BEFORE], strict=True):
        assert (share, value) == (pytest.approx(wanted), pytest.approx(by_hand))


def test_of_some_rows_only_what_is_needed_is_kept() -> None:
    every = setting(3, wrong_area(np.full(3, 0.5e-6), Before.unknown(3)))
    known = every.variants
    marked = replace(known, between={**known.between, "d": (np.arange(3.0), np.arange(3.0) + 1)})
    named = replace(every, variants=marked)
    some, needed = named.only(np.array([2])).variants, named.of(FACE, np.array([2])).variants
    assert (some.names.keys(), some.between.keys()) == (marked.names.keys(), marked.between.keys())
    assert [end.tolist() for end in some.between["d"]] == [[2.0], [3.0]]
    assert (needed.names, set(needed.between)) == ({}, set(marked.between) & FACE.method.names_in_trees)
    assert needed.between["d"][0].tolist() == [2.0]


RIGHT = Hypothesis("right", 2, Verdict.RIGHT, right_at("a"))


def ends() -> tuple[float, float]:
    """Between which values a force is right."""
    low, high = envelopes(HOLE, {name: values[:1] for name, values in GIVENS.items()}, 3)["a"]
    return float(np.ravel(low)[0]), float(np.ravel(high)[0])


@pytest.mark.parametrize(("written", "figures", "scale"), [(113.3, 4, 1e3), (113.31, 5, 1e3), (113_300.0, 6, 1.0)])
def test_digits_that_no_listed_habit_gives_have_their_part_of_the_envelope(
    written: float, figures: int, scale: float
) -> None:
    """Eight in a thousand, spread evenly over it; of a whole number with noughts for those who mean all of them."""
    (low, high), entry = ends(), digits_of(numbers([written], figures, scale))
    inside, found = likelihood(RIGHT, entry, setting(1))
    step = float(entry.step[0])
    assert inside.tolist() == [True]
    assert found.tolist() == pytest.approx([0.008 * float(entry.share[0]) * step / (high - low + step)])


def test_both_ends_of_an_envelope_lie_within_it_and_what_is_beyond_is_not_right() -> None:
    low, high = ends()
    beyond = [low * (1 - 1e-9), high * (1 + 1e-9)]
    inside, found = likelihood(RIGHT, digits_of(numbers([low, high, *beyond], 12)), setting(4))
    assert inside.tolist() == [True, True, False, False]
    assert found[2:].tolist() == [0.0, 0.0]


def test_what_follows_from_an_own_result_lies_between_what_its_ends_make() -> None:
    """375.5 to 376.5 mm^2 make 112.65 to 112.95 kN, and half a kilonewton more either way in three figures."""
    own = wrong_area(np.full(4, 0.5e-6), Before.unknown(4))
    written = numbers([112.2, 113.4, 112.1, 113.5], 4, 1_000.0)
    assert likelihood(CARRIED, digits_of(written), setting(4, own))[0].tolist() == [True, True, False, False]


def test_a_method_gives_every_student_a_number_even_where_it_is_the_same_for_all() -> None:
    own = wrong_area(np.full(3, 0.5e-6), Before.unknown(3))
    assert in_full(CARRIED, setting(3, own)).tolist() == pytest.approx([112_800.0] * 3)
    assert in_full(slip("300"), setting(3)).tolist() == [300.0] * 3


def test_who_rounds_to_two_figures_may_write_noughts_behind_them() -> None:
    """Everybody's 113 kN is 110 kN in two figures, written 110.0 kN; 111.0 kN is nobody's."""
    early = Hypothesis("rounded early", 3, Verdict.ROUNDED_EARLY, right_at("a"), figures=2)
    by_all, by_none = like(early, [110.0, 111.0], 4, setting(2))
    assert by_all == pytest.approx(1.0)
    assert by_none < 0.01


def typed_own(name: str, right: float, typed: float, half: float, whose: list[bool]) -> Own:
    """A right result that some typed to so many figures."""
    is_typed, size = np.array(whose), len(whose)
    halves = np.full(size, half)
    return Own((name,), np.full(size, np.nan), Before.unknown(size), halves, halves, np.where(is_typed, typed, right),
               is_typed)  # fmt: skip


def test_each_student_goes_on_from_the_results_that_this_one_typed_whoever_stands_beside() -> None:
    """As if the 20 mm had been found before, and typed as 19.9 mm: 113 kN over 19.9^2 is 285.3 MPa, over 20^2 282.5,
    and 113.1 kN over 19.9^2 285.6."""
    both = [[True, True, False, False], [True, False, True, False]]
    h = replace(FACE, method=PER_SQUARE)
    written = [285.3, 282.5, 285.6, 282.7]

    def found(rows: list[int]) -> list[float]:
        force = typed_own("F", np.pi * 0.020 * 0.006 * 300e6, 113e3, 500.0, [both[0][n] for n in rows])
        width = typed_own("d", 0.020, 0.0199, 0.00005, [both[1][n] for n in rows])
        return like(h, [written[n] for n in rows], 4, setting(len(rows), force, width), 1e6)

    together = found([0, 1, 2, 3])
    assert together == pytest.approx([alone for n in range(4) for alone in found([n])])
    assert together[0] > 0.95 * 0.4
    assert min(together[1:]) > 0.1


def test_a_result_that_the_method_does_not_use_is_nothing_to_it_however_it_was_typed() -> None:
    own = typed_own("F", 113_097.0, 113e3, 500.0, [True, True])
    assert like(FACE, [94.25, 94.24], 4, setting(2, own)) == like(FACE, [94.25, 94.24], 4, setting(2))


def test_of_many_ways_to_the_digits_written_the_four_likeliest_are_kept() -> None:
    """Four is our own choice. Of the twenty ways to the line, 376.99 mm^2 in full, most make 0.113 MN."""
    found = likeliest_before(RIGHT, digits_of(numbers([0.113], 3, 1e6)), setting(1))
    made = [
        (share * of_pi, float(to_figures(pi * 120.0, figures or IN_FULL)) * 300.0)
        for figures, share in LINE_HABITS
        for pi, of_pi in CONSTANTS["pi"].habits
    ]
    given = sorted((way for way in made if abs(way[1] - 113e3) < 500), reverse=True)
    assert len(given) > 8
    assert found.shares[:, 0].tolist() == pytest.approx([share for share, _ in given[:4]])
    assert sorted(found.values[:, 0].tolist()) == pytest.approx(sorted(value for _, value in given[:4]))


def test_an_own_temperature_is_carried_on_as_what_it_was_rounded_from_on_its_own_scale() -> None:
    """20 degrees Celsius are 19.5 to 20.5, and 5 more 24.5 to 25.5: a tenth of that are 24.8 in three figures."""
    column, half = np.full(3, 293.15), np.full(3, 0.5)
    own = Own(("T",), column, Before.unknown(3), half, half, column, np.zeros(3, np.bool_))
    method = Method((), AskedNumber("b", parse("T + 5"), "degC", 3))
    h = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, method, (0,))
    degrees = numbers([24.8, 25.0, 25.4], 3)
    entries = replace(degrees, si=degrees.written + 273.15, offset=np.full(3, 273.15))
    inside, found = likelihood(h, digits_of(entries), setting(3, own))
    assert inside.tolist() == [True] * 3
    assert found.tolist() == pytest.approx([0.6 * 0.1, 0.6 * 0.1 + 0.4, 0.6 * 0.1])
