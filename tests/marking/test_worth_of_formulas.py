"""What a formula that students may share is worth: by its digits, as a product; and what is named beside it."""

import math

import numpy as np
import pytest

from marking.test_unknown_methods import answers, search
from witnessmark.marking.search.shared_odds import COST_OF_RIGHT_SIZE, of_chosen
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
