"""What a formula that students may share is worth: by its digits, as a product; and what is named beside it."""

import math

import numpy as np
import pytest

from marking.test_unknown_methods import answers, search
from witnessmark.marking.search import product_fits
from witnessmark.marking.search import shared_odds as shared_odds_module
from witnessmark.marking.search.habit_fits import _digits
from witnessmark.marking.search.product_fits import FITS, PI_ROOM
from witnessmark.marking.search.shared_odds import COST_OF_RIGHT_SIZE, of_chosen, shared_odds
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import _Fit, _rivals
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.questions.working.methods import Method
from witnessmark.questions.working.working import AskedNumber


@pytest.mark.parametrize(("formula", "constant", "powers"), [
    ("tau*d**2/(2*t)", (0, -1), {"tau": 1.0, "d": 2.0, "t": -1.0}), ("tau*t**2*pi", (1, 0), {"tau": 1.0, "t": 2.0}),
])  # fmt: skip
def test_a_product_is_worth_what_its_digits_are_likelier_from_it_than_from_nothing(
    formula: str, constant: tuple[int, int], powers: dict[str, float]
) -> None:
    """Who uses it writes its digits 85 times in 100 (our assumption; common practice, no source), or where pi is in it
    those within 3.14 and 22/7, which are so much less likely each."""
    place, given = search("drain-hole", "a"), answers("drain-hole", "a", [formula] * 5 + [""] * 3)
    full = place._names(given)
    gains, chance = given.gains(full["F"]), given.chance()
    forms, _ = place._forms_of(given, full)
    row = forms.exponents.tolist().index([powers.get(name, 0.0) for name in forms.names])
    column = forms.constants.index(constant)
    fits = place._products(given, forms.names, forms)
    shared = {(n, c): scored for n, c, scored in fits.shared(np.arange(8), gains, given.still())}
    power, mine, log_odds = shared[row, column]
    room = chance * 1.001 + abs(constant[0]) * 0.00051
    worth = np.log(0.85 * gains * chance / room)[:5].sum()
    cost = forms.costs[row] + forms.constant_costs[column] + float(of_chosen(5, 3)) + COST_OF_RIGHT_SIZE
    assert (mine.tolist(), power) == ([0, 1, 2, 3, 4], 0)
    assert log_odds == pytest.approx(worth - cost)


def digits(
    value: list[list[float]], written: list[float], shares: list[float], room: float = 0.001
) -> list[list[float]]:
    """How likely each answer of three figures is by these habits, and the power of ten between."""
    given = Unexplained(np.array(written), np.full(len(written), 3.0), np.ones(len(written)), {}, ("S",) * len(written))
    found = _digits(np.array(value), given, np.array(shares), room, given.chance())
    return [column.tolist() for column in found]


def test_digits_are_as_likely_as_the_habits_that_give_them_and_a_little_where_they_lie_near() -> None:
    """94.2 is what 94.24 rounds to, and 94.26 does not; room and last digit reach to 10^0.00146 = 1.0034 times it. By a
    habit that is not listed 15 in 100 come, spread evenly over that (our assumption; common practice, no source)."""
    chance = 0.1 / 94.2 / math.log(10)
    near = 0.15 * chance / (2 * 0.001 + 2 * chance)
    like, power = digits([[94.24, 94.26, 94.2 * 1.0033, 94.2 * 1.0035], [94.26] * 4], [94.2] * 4, [0.75, 0.25])
    assert like == pytest.approx([0.75, near, near, 0.0])
    assert power == [0, 0, 0, 0]
    assert digits([[94.26], [94.24]], [94.2], [0.75, 0.25])[0] == pytest.approx([0.25])


def test_digits_are_compared_whatever_the_power_of_ten_which_is_that_of_the_habit_that_gives_them() -> None:
    assert digits([[94.24], [94.26]], [94_200.0], [0.5, 0.5]) == [[0.5], [3]]
    like, power = digits([[94.26]], [0.0942], [1.0])
    assert (0 < like[0] < 0.1, power) == (True, [-3])
    assert digits([[94.26], [9.424]], [94.2], [0.5, 0.5]) == [[0.5], [1]]


def test_lines_and_results_that_are_carried_on_give_more_room_than_pi_alone() -> None:
    lines, carried = search("drain-hole", "a")._room(), search("drain-hole", "b")._room()
    (other,) = {search(key, "a")._room() for key in ("pump-fuse", "fuse-for-cable")}
    assert lines == carried > other > math.log10(22 / 7 / 3.14)


def fit(odds: float, logs: list[float], mine: list[int], text: str) -> _Fit:
    """A formula that fits these answers."""
    return _Fit(Method((), AskedNumber("a", parse(text), "N", 3)), (), 0, np.array(mine), odds, np.array(logs))


def test_the_two_likeliest_others_are_named_where_they_are_at_most_twenty_times_less_likely() -> None:
    """e^3 is 20."""
    best = fit(10.0, [0.1, 0.2], [0, 1], "d*t")
    third, first, second = (fit(10 - less, [less, 0.5], [1, 2], f"{less}*t") for less in (3.0, 1.0, 2.0))
    alike, elsewhere = fit(8.5, [3.1, 3.2], [0, 1], "1000*t"), fit(9.9, [0.4, 0.9], [2, 3], "d")
    shifted = fit(9.5, [3.1, 4.2], [0, 1], "tau")  # one and another power of ten are no one formula
    told = [plain(tree) for tree in _rivals(best, [best, third, first, second, alike, elsewhere])]
    assert told == ["t", "2*t"]
    assert [plain(tree) for tree in _rivals(best, [best, third, shifted, alike])] == ["tau", "3*t"]
    assert _rivals(best, [best, fit(6.9, [0.6, 0.5], [0, 1], "d")]) == ()


def test_no_product_that_is_shared_beyond_doubt_is_passed_over_and_none_told_that_is_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each product by itself; a low level of doubt lets hundreds pass. Answers count by what of them is open."""
    for module in (product_fits, shared_odds_module):
        monkeypatch.setattr(module, "LEAST_ODDS", -40.0)
    place = search("drain-hole", "a")
    given = answers("drain-hole", "a", ["4*tau*d*t"] * 4 + ["1000*tau*t**2*pi"] * 3 + [""] * 4, figures=1)
    full, left = place._names(given), np.array([0, 1, 2, 4, 5, 6, 7, 8, 10])
    gains, still = given.gains(full["F"])[left], np.ones(9)
    gains[[1, 7]], still[[4, 8]] = (1.7, 0.4), (0.3, 1e-9)
    forms, _ = place._forms_of(given, full)
    logs = np.stack([np.broadcast_to(np.log10(full[name]), 11) for name in forms.names])[:, left]
    chance, written = given.chance()[left], np.log10(given.si[left])
    by_hand = {}
    for row, column in np.ndindex(len(forms.exponents), len(forms.logs)):
        apart = written - forms.exponents[row] @ logs - forms.logs[column]
        room = chance * 1.001 + PI_ROOM * forms.pis[column]
        fits = np.abs(apart - np.round(apart)) <= room / 2
        if fits.sum() >= 3:
            odds = np.where(fits, FITS * gains * chance / room, 0.0)
            cost = forms.costs[row] + forms.constant_costs[column]
            if (scored := shared_odds(odds, np.round(apart), float(cost), still)) is not None:
                by_hand[row, column] = scored
    found = {(row, column): scored for row, column, scored in place._products(given, forms.names, forms).shared(
        left, gains, still
    )}  # fmt: skip
    assert len(by_hand) > 10
    assert {at: (power, mine.tolist()) for at, (power, mine, _) in found.items()} == {
        at: (power, mine.tolist()) for at, (power, mine, _) in by_hand.items()
    }
    assert [found[at][2] for at in by_hand] == pytest.approx([odds for _, _, odds in by_hand.values()])
