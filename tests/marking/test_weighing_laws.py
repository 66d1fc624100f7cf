"""Weighing against the laws of chance: what digits are worth when no method stands behind them, and what right is."""

import math
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing import ladder
from witnessmark.marking.weighing.digits import Numbers, digits_of
from witnessmark.marking.weighing.habits import IN_FULL, Before, Habits, Own, Ways, habits
from witnessmark.marking.weighing.ladder import Climbed, Rung, climb
from witnessmark.marking.weighing.likelihood import UNLISTED_HABIT
from witnessmark.marking.weighing.setting import PerVariant, Setting
from witnessmark.marking.weighing.weighing import (
    Fits,
    Weights,
    _prior,
    fits_of,
    likelihood_of_none,
    room_of,
    weights_of,
)
from witnessmark.marking.weights import (
    LINE_HABITS,
    MOST_SURE,
    NONE_DECADES,
    PRIOR_OF_KIND,
    PRIOR_OF_NONE,
    TIE_SHARE,
)
from witnessmark.maths.rounding import to_figures
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.evaluation import names_between, names_in_full
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.working import envelopes

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
GIVENS = {"tau": np.array([300e6, 200e6]), "d": np.array([0.020, 0.016]), "t": np.array([0.006, 0.0035])}
OF_PI, OF_LINES = CONSTANTS["pi"].habits, LINE_HABITS


def numbers(written: list[float], figures: int, scale: float = 1.0) -> Numbers:
    """Entries of so many figures in a unit of this scale."""
    n, column = len(written), np.array(written)
    return Numbers(
        column * scale, column, np.full(n, float(figures)), np.full(n, scale), np.zeros(n), np.zeros(n, np.bool_)
    )


@pytest.mark.parametrize(("written", "figures", "half"), [(94.2, 3, 0.05), (700.0, 1, 50.0), (0.0123, 3, 0.00005)])
@pytest.mark.parametrize("scale", [1.0, 1000.0])
def test_digits_of_no_method_are_as_likely_as_their_share_of_the_logarithms(
    written: float, figures: int, half: float, scale: float
) -> None:
    """A number spread evenly over two decades is read as these digits between both ties: ln(high/low) / (2 ln 10)."""
    by_hand = math.log((written + half) / (written - half)) / (2 * math.log(10))
    found = likelihood_of_none(
        numbers([written, -written], figures, scale), np.array([written * scale, -written * scale])
    )
    assert NONE_DECADES == 2.0
    assert found.tolist() == pytest.approx([by_hand, by_hand], rel=3e-3)


def test_all_numbers_of_three_figures_within_two_decades_are_as_likely_as_one_of_them_is_sure() -> None:
    decade = [n / 100 for n in range(100, 1000)]
    around = [x * power for power in (10.0, 100.0) for x in decade]  # from 10.0 on, and whole ones, some with noughts
    found = likelihood_of_none(numbers(around, 3), np.full(len(around), 100.0))
    assert found.sum() == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("value", [3986.2, 4000.0, 3950.0, 1234.5, 9996.0])
def test_all_whole_numbers_that_a_value_may_be_rounded_to_are_as_likely_as_one_of_them_is_sure(value: float) -> None:
    """Whoever gets 3986.2 and writes four whole digits writes 3986, 3990 or 4000, by the figures that are meant."""
    whole = numbers([float(n) for n in range(1000, 10_001)], 4)
    found = digits_of(whole).given_by(np.array([value]))
    assert found[:9000].sum() + (found[9000] if value == 9996.0 else 0.0) == pytest.approx(1.0, abs=1e-9)
    likeliest = {3986.2: 3990.0, 4000.0: 4000.0}.get(value)
    assert likeliest is None or whole.written[np.argmax(found)] == likeliest


def test_beyond_a_decade_each_way_digits_are_a_tenth_as_likely() -> None:
    near, above, below = likelihood_of_none(numbers([0.5, 50.0, 0.005], 3), np.full(3, 0.5)).tolist()
    assert (above / near, below / near) == pytest.approx((0.1, 0.1), rel=1e-3)
    *edges, beyond = likelihood_of_none(numbers([19.9, 20.0, 20.1], 3), np.full(3, 2.0)).tolist()
    assert min(edges) > 5 * beyond


def sure_of_right(written: float, figures: int, low: float, high: float, scale: float = 1.0) -> float:
    """How sure the ladder is of an entry within the envelope of what is right."""
    right = cast("Any", SimpleNamespace(marks=Decimal(3)))
    ends = np.array([low * scale]), np.array([high * scale])
    rung = Rung((right,), lambda: (), np.array([(low + high) / 2 * scale]), ends, (), Rules())
    climbed = climb(numbers([written], figures, scale), cast("Setting", None), rung)
    assert (climbed.named.tolist(), climbed.marks.tolist()) == ([0], [300])
    return float(climbed.sure[0])


@pytest.mark.parametrize("scale", [1.0, 1e-3])
@pytest.mark.parametrize(("low", "high", "others"), [(94.2, 94.2, 1), (94.15, 94.25, 2), (93.8, 94.7, 10)])
def test_right_is_as_sure_as_bayes_makes_it_among_the_numbers_of_its_envelope(
    low: float, high: float, others: int, scale: float
) -> None:
    """Of an envelope that holds so many numbers of three figures, each is as likely; none of these by its digits."""
    right = PRIOR_OF_KIND["right"] / others
    none = PRIOR_OF_NONE * math.log(94.25 / 94.15) / (2 * math.log(10))
    assert sure_of_right(94.2, 3, low, high, scale) == pytest.approx(right / (right + none) * MOST_SURE, rel=1e-6)


def test_own_results_are_carried_on_with_half_a_unit_of_the_figures_that_are_kept() -> None:
    """94.2 kN written to three figures lies within 50 N; carried on to two, within 500 N. 20 °C: half a kelvin."""
    values = np.array([94_200.0, 94_200.0, 293.15])
    assert room_of(values[:1], "kN", np.array([3.0]), 3).tolist() == pytest.approx([50.0])
    assert room_of(values[1:2], "kN", np.array([5.0]), 2).tolist() == pytest.approx([500.0])
    assert room_of(values[2:], "degC", np.array([2.0]), 3).tolist() == pytest.approx([0.5])


# Habits: every way of working, by hand beside it.


def right_at(key: str) -> Method:
    """The right working of a place of the drain hole."""
    (place,) = (p for p in places(HOLE, 3) if p.key == key)
    return methods_at(place, dimensions(HOLE))[0]


def ways_of(method: Method, *taken: str) -> Habits:
    """The habits that matter to a method, where these results are the student's own."""
    return Ways(HOLE, GIVENS, np.arange(2)).of(method, frozenset(taken))


def test_only_the_habits_that_matter_to_a_working_are_told_apart() -> None:
    """F = tau A_s by a line with pi; of an own A_s no rounding matters; the slip tau pi d^2/4 has no line."""
    (slip,) = (m for m in methods_at(next(p for p in places(HOLE, 3) if p.key == "a"), dimensions(HOLE))
               if m.misconceptions == ("face-area-for-sheared-edge",) and not m.bare)  # fmt: skip
    bare_slip = Method((), slip.final)
    assert len(ways_of(right_at("a")).shares) == len(OF_LINES) * len(OF_PI)
    assert len(ways_of(bare_slip).shares) == len(OF_PI)
    assert len(ways_of(right_at("a"), "A_s").shares) == 1
    assert len(ways_of(right_at("b")).shares) == len(OF_LINES) * len(OF_PI)
    assert len(ways_of(right_at("b"), "A_p").shares) == len(OF_LINES) * len(OF_PI)  # F is of part a, with its line
    assert len(ways_of(right_at("b"), "A_p", "F", "sigma_a").shares) == 1
    assert ways_of(bare_slip).figures.tolist() == [[IN_FULL]] * len(OF_PI)


@pytest.mark.parametrize("key", ["a", "b"])
def test_each_combination_of_habits_has_the_product_of_its_shares(key: str) -> None:
    found = ways_of(right_at(key))
    by_hand = {(figures or IN_FULL, pi): share * of_pi for figures, share in OF_LINES for pi, of_pi in OF_PI}
    both = zip(found.figures[:, 0].tolist(), found.names["pi"][:, 0].tolist(), strict=True)
    assert dict(zip(both, found.shares.tolist(), strict=True)) == pytest.approx(by_hand)
    assert sum(by_hand.values()) == pytest.approx(1.0)


def test_a_result_is_carried_on_as_each_habit_works_it() -> None:
    """F by hand: the line pi d t rounded in mm^2, times tau, rounded in kN."""
    found = ways_of(right_at("b"))
    assert found.names["F"].shape == (len(found.shares), 2)
    for row, (figures, pi) in enumerate(zip(found.figures[:, 0], found.names["pi"][:, 0], strict=True)):
        line = to_figures(pi * GIVENS["d"] * GIVENS["t"] * 1e6, int(figures)) / 1e6
        force = to_figures(GIVENS["tau"] * line / 1e3, int(figures)) * 1e3
        assert found.names["F"][row] == pytest.approx(force, rel=1e-12)


def test_the_habits_of_a_question_are_those_of_its_lines_and_of_the_constants_in_any_of_them() -> None:
    every, kept = habits(HOLE, GIVENS), habits(HOLE, GIVENS, 4)
    assert len(every.shares) == len(OF_LINES) * len(OF_PI)
    assert {v.shape[0] for v in every.names.values()} == {len(every.shares)}
    assert every.shares.sum() == pytest.approx(1.0)
    assert set(kept.figures.ravel().tolist()) == {IN_FULL, 4.0, 5.0}
    assert kept.shares.sum() == pytest.approx(1.0)
    assert every.names["F"] == pytest.approx(ways_of(right_at("b")).names["F"])


def test_the_habits_of_some_variants_are_theirs_alone() -> None:
    every = habits(HOLE, GIVENS)
    some = every.only(np.array([1]), {"F", "pi"})
    assert some.names["F"].tolist() == every.names["F"][:, [1]].tolist()
    assert some.names["pi"].tolist() == every.names["pi"].tolist()


def test_an_own_result_in_full_gives_the_digits_of_every_number_that_it_was_rounded_from() -> None:
    """By hand: an own A_s of 376 mm^2 was 375.5 to 376.5, which with 300 MPa makes 112.65 to 112.95 kN, a third of them
    at each of three numbers; six in ten carry on so, the others with 376 itself (112.8 kN)."""
    givens = {name: np.full(5, values[0]) for name, values in GIVENS.items()}
    names, between = names_in_full(HOLE, givens), names_between(HOLE, givens, envelopes(HOLE, givens, 3))
    column, half = np.full(5, 376e-6), np.full(5, 0.5e-6)
    own = Own(("A_s",), column, Before.unknown(5), half, half, column, np.zeros(5, np.bool_))
    setting = Setting(PerVariant(names, between, Ways(HOLE, givens, np.arange(5)), dimensions(HOLE)), (own,))
    carried = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, right_at("a"), (0,), prior=1.0)
    written, right = numbers([112.5, 112.7, 112.8, 112.9, 113.1], 4, 1000.0), np.full(5, 113_097.3)
    found = fits_of(weights_of(written, setting, [carried]), written, [carried], right)
    none = PRIOR_OF_NONE * likelihood_of_none(written, right)
    likely = np.zeros(5)
    likely[found.row] = (found.posterior / found.none[found.row]) * none[found.row]
    assert likely[1:4].tolist() == pytest.approx([0.6 / 3, 0.6 / 3 + 0.4, 0.6 / 3], rel=1e-6)
    assert max(likely[0], likely[4]) <= UNLISTED_HABIT


# The ladder.


def test_both_ends_of_the_envelope_are_right() -> None:
    assert sure_of_right(94.2, 3, 94.2, 95.0) > 0.9
    assert sure_of_right(94.2, 3, 93.0, 94.2) > 0.9


def test_nothing_at_all_is_surely_right_where_only_nothing_is() -> None:
    assert sure_of_right(0.0, 1, 0.0, 0.0) == pytest.approx(1.0, abs=0.02)


def test_no_digits_are_impossible_however_many_they_are() -> None:
    """Fifteen figures are far less likely than three, and still not impossible."""
    chances = [float(likelihood_of_none(numbers([1.2345], n), np.array([1.2345]))[0]) for n in (3, 6, 9, 12, 15, 17)]
    assert chances == sorted(chances, reverse=True)
    assert chances[-1] > 0


SLIPS = methods_at(next(p for p in places(HOLE, 3) if p.key == "a"), dimensions(HOLE))[1:]


def climbed_by(monkeypatch: pytest.MonkeyPatch, told: list[tuple[Method, int, float]]) -> Climbed:
    """The ladder at an entry that these explanations fit: method, marks and how likely each is; the rest: none."""
    candidates = tuple(Hypothesis("slip", 5, Verdict.SLIP, m, marks=Decimal(marks)) for m, marks, _ in told)
    likely = np.array([share for _, _, share in told])
    fits = Fits(np.zeros(len(told), np.intp), np.arange(len(told)), likely, np.array([1 - likely.sum()]))
    nothing = np.empty(0, np.intp)
    monkeypatch.setattr(ladder, "weights_of", lambda *_: Weights(nothing, nothing, np.empty(0)))
    monkeypatch.setattr(ladder, "fits_of", lambda *_: fits)
    far = np.array([1.0])
    rung = Rung(candidates, lambda: (), far, (far, far), (), Rules())
    return climb(numbers([94.2], 3), cast("Setting", SimpleNamespace(only=lambda _: SimpleNamespace(only=str))), rung)


@pytest.mark.parametrize(("second", "named", "tied"), [(0.25, 1, True), (0.3, 1, True), (0.2, 0, False)])
def test_an_explanation_half_as_likely_as_the_first_is_a_tie_and_the_kinder_one_counts(
    monkeypatch: pytest.MonkeyPatch, second: float, named: int, tied: bool
) -> None:
    """The design, section 5: if two explanations tie, the student gets the better mark and the teacher is told."""
    found = climbed_by(monkeypatch, [(SLIPS[0], 1, 0.5), (SLIPS[1], 2, second)])
    assert TIE_SHARE == 0.5
    assert (found.named.tolist(), found.tied.tolist()) == ([named], [tied])
    assert found.marks.tolist() == [200 if named else 100]
    assert found.sure.tolist() == pytest.approx([(second if named else 0.5) * MOST_SURE])


def test_two_explanations_of_one_name_are_no_tie_and_make_the_name_as_sure_as_both_together(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found = climbed_by(monkeypatch, [(SLIPS[0], 1, 0.5), (SLIPS[0], 1, 0.375)])
    assert (found.tied.tolist(), found.marks.tolist()) == ([False], [100])
    assert found.sure.tolist() == pytest.approx([0.875 * MOST_SURE])


def test_what_none_of_these_explains_better_stays_without_a_name(monkeypatch: pytest.MonkeyPatch) -> None:
    found = climbed_by(monkeypatch, [(SLIPS[0], 1, 0.25), (SLIPS[1], 2, 0.25)])
    assert (found.named.tolist(), found.marks.tolist(), found.tied.tolist()) == ([-1], [0], [False])
    assert found.sure.tolist() == [0.5]


ONE_HOLE = wm.load_bank(SMALL_BANK)["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm")
ENTRIES = ["94.2 kN", "56.5 kN", "110 kN", "113.1 MN", "47.1 kN", "36 kN", "11.53 kN", "28.3 kN", "56.5 MN", "226 kN"]


@pytest.mark.parametrize("entry", ENTRIES)
def test_explanations_are_told_likeliest_first_each_possible_and_together_at_most_sure(entry: str) -> None:
    out = wm.mark(ONE_HOLE, {"a": entry})["a"]
    told = [e.sure for e in out.evidence]
    assert told == sorted(told, reverse=True)
    assert all(sure > 0 for sure in told)
    assert sum(told) <= 1 + 1e-9
    assert out.sure <= 1


def test_who_gives_fewer_figures_than_were_asked_need_have_rounded_nothing_but_the_result() -> None:
    """To two figures where three are asked it is as likely as right is: half of all (the priors are our assumption)."""
    right, figures = right_at("a"), np.array([1.0, 2.0, 3.0, 4.0])
    early = Hypothesis(
        "rounded early", 3, Verdict.ROUNDED_EARLY, right, figures=2, prior=PRIOR_OF_KIND["rounded early"]
    )
    full, flat = PRIOR_OF_KIND["right"], early.prior
    assert _prior(early, figures).tolist() == pytest.approx([full, full, flat, flat])
    for other in (replace(early, figures=None), replace(early, kind="sign")):
        assert _prior(other, figures).tolist() == [flat] * 4
