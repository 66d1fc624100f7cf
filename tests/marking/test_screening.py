"""The look before digits are weighed: near what is worked in full, whatever the factor, the sign and the scale."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.marking.hypotheses.first_thoughts import TURNED_SIGN
from witnessmark.marking.hypotheses.hypotheses import Factor, Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing import screening
from witnessmark.marking.weighing.digits import Numbers
from witnessmark.marking.weighing.screening import near_entries, window_of
from witnessmark.marking.weights import WINDOW
from witnessmark.maths.compiled import Array
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
RIGHT = methods_at(next(p for p in places(HOLE, 3) if p.key == "a"), dimensions(HOLE))[0]
THOUSAND = Factor(1000.0, 3)


def numbers(*si: float, figures: int = 4) -> Numbers:
    """Entries in SI units."""
    column = np.array(si)
    n = len(si)
    return Numbers(column, column, np.full(n, float(figures)), np.ones(n), np.zeros(n), np.zeros(n, np.bool_))


def by(method: Method = RIGHT, factor: Factor | None = None, carried: tuple[int, ...] = ()) -> Hypothesis:
    return Hypothesis("slip", 5, Verdict.SLIP, method, carried, factor or Factor())


def near(entries: Numbers, candidates: Sequence[Hypothesis], gives: float) -> dict[int, list[int]]:
    """By candidate the entries that lie near it, where every method gives this value."""
    found = list(near_entries(entries, candidates, lambda _: np.full(len(entries.si), gives)))
    assert len({index for indices, _ in found for index in indices}) == sum(len(indices) for indices, _ in found)
    return {index: rows.tolist() for indices, rows in found for index in indices}


def test_near_is_a_window_on_the_logarithm_both_ways() -> None:
    shares = (-1.01, -1.0001, -0.9999, 0.0, 0.9999, 1.0001, 1.01)
    ends = [math.exp(WINDOW * share) for share in shares]
    assert near(numbers(*(0.025 * end for end in ends)), [by()], 0.025) == {0: [2, 3, 4]}


@pytest.mark.parametrize(("written", "room"), [(1.0, 0.5), (7.0, 0.5 / 7), (-7.0, 0.5 / 7)])
def test_a_number_of_one_figure_may_lie_half_of_it_further_up_as_far_as_down(written: float, room: float) -> None:
    """From 0.5, which is written 1, it is ln 2 to 1: further than from 1 to 1.5."""
    assert window_of(numbers(written, figures=1)).tolist() == pytest.approx([WINDOW - math.log(1 - room)])
    assert window_of(numbers(written, 9.0, 94.2, figures=3)).tolist()[1:] == [WINDOW] * 2


def test_a_whole_number_that_ends_in_noughts_may_be_one_of_a_single_figure() -> None:
    assert window_of(numbers(4000.0, 4001.0)).tolist() == pytest.approx([WINDOW - math.log(1 - 0.125), WINDOW])


def test_what_a_factor_makes_of_a_value_is_what_an_entry_must_lie_near() -> None:
    entries = numbers(250.0, 250_000.0, -250.0, -250_000.0)
    some = [by(), by(factor=THOUSAND), by(factor=TURNED_SIGN)]
    assert near(entries, some, 250.0) == {0: [0], 1: [1], 2: [2]}
    assert near(entries, some, -250.0) == {0: [2], 1: [3], 2: [0]}


def test_nothing_lies_near_where_a_method_gives_no_number_and_nothing_is_near_where_nobody_is_asked() -> None:
    assert near(numbers(250.0), [by()], math.nan) == {}
    assert near(numbers(250.0), [], 250.0) == {}


def test_a_temperature_is_near_by_its_size_in_kelvin_and_by_a_factor_on_the_scale_asked() -> None:
    """20 °C is 293.15 K, of which exp(0.06) is 311.28 K; ten times 20 °C is 473.15 K, and 6 % of 200 K reach to 484 K,
    not to 490 K, as 6 % of 473 K would; less 20 °C is 253.15 K."""
    degrees = replace(RIGHT, final=replace(RIGHT.final, unit="degC"))
    some = [by(degrees), by(degrees, Factor(10.0, 1)), by(degrees, TURNED_SIGN)]
    entries = numbers(293.15, 311.25, 311.3, 473.15, 484.0, 490.0, 253.15)
    assert near(entries, some, 293.15) == {0: [0, 1], 1: [3, 4], 2: [6]}


def methods(count: int) -> list[Hypothesis]:
    """Hypotheses of as many methods."""
    return [by(replace(RIGHT)) for _ in range(count)]


def worked_before(entries: Numbers, candidates: Sequence[Hypothesis]) -> list[int]:
    """How many methods had been worked when each candidate was told."""
    worked: list[Hypothesis] = []

    def in_full(h: Hypothesis) -> Array:
        worked.append(h)
        return np.full(len(entries.si), 250.0)

    return [len(worked) for _ in near_entries(entries, candidates, in_full)]


@pytest.mark.parametrize(
    ("most", "n", "by_groups"), [(2, 1, [2, 2, 4, 4, 5]), (4, 2, [2, 2, 4, 4, 5]), (1, 2, [1, 2, 3, 4, 5])]
)
def test_no_more_is_compared_at_once_than_memory_allows_and_one_method_always_is(
    monkeypatch: pytest.MonkeyPatch, most: int, n: int, by_groups: list[int]
) -> None:
    monkeypatch.setattr(screening, "MOST_AT_ONCE", most)
    assert worked_before(numbers(*[250.0] * n), methods(5)) == by_groups


def test_a_method_is_worked_once_for_all_its_factors_and_anew_from_own_results() -> None:
    one, other = methods(2)
    some = [one, replace(one, factor=Factor(1.01)), replace(one, carried=(0,)), other]
    assert worked_before(numbers(250.0), some) == [3] * 4


def test_groups_find_what_all_together_find(monkeypatch: pytest.MonkeyPatch) -> None:
    one, *others = methods(4)
    some = [one, replace(one, factor=THOUSAND), *others, replace(one, factor=TURNED_SIGN)]
    entries = numbers(250.0, -250.0, 250_000.0)
    together = near(entries, some, 250.0)
    monkeypatch.setattr(screening, "MOST_AT_ONCE", 6)
    assert near(entries, some, 250.0) == together == {0: [0], 1: [2], 2: [0], 3: [0], 4: [0], 5: [1]}


def directly(entries: Numbers, some: Sequence[Hypothesis], values: Array, which: list[int]) -> dict[int, list[int]]:
    """The same, each entry set against each candidate by itself: `values` by candidate and variant."""
    found: dict[int, list[int]] = {}
    for index, h in enumerate(some):
        for row, (si, window) in enumerate(zip(entries.si.tolist(), window_of(entries).tolist(), strict=True)):
            given = float(values[index, which[row]]) * h.factor.value
            if si * given > 0 and abs(math.log(si / given)) < window:
                found.setdefault(index, []).append(row)
    return found


TENS = [Factor(10.0**power, power) for power in range(-4, 5) if power]
FACTORS = [
    [Factor()],
    [Factor()],
    [Factor(), *TENS],
    [Factor(), *TENS],
    [TURNED_SIGN, Factor(9.81), Factor(1e22), Factor(1e-22)],
]


@pytest.mark.parametrize("by_variant", [False, True])
@pytest.mark.parametrize("seed", range(8))
def test_what_is_looked_up_is_what_each_entry_set_against_each_candidate_finds(seed: int, by_variant: bool) -> None:
    """Numbers of one figure to five beside what five methods give, by their factors; one gives a nought, no number, or
    one that is far beyond all others."""
    draw = np.random.default_rng(seed)
    size, variants = 120, 7 if by_variant else 120
    which = draw.integers(0, variants, size) if by_variant else np.arange(size)
    each = [(h, factor) for h, factors in zip(methods(5), FACTORS, strict=True) for factor in factors]
    some = [by(h.method, factor) for h, factor in each]
    own = 10.0 ** draw.uniform(-2, 2, (5, variants)) * draw.choice([-1.0, 1.0], (5, variants))
    own[4] = draw.choice([0.0, math.nan, 1e-25, 2e-22, 5e20, 3e22, -3.0], variants)
    of_method: dict[int, int] = {}
    for h in some:
        of_method.setdefault(id(h.method), len(of_method))
    values = np.array([own[of_method[id(h.method)]] for h in some])
    by_whom = draw.integers(0, len(some), size)
    factors = np.array([h.factor.value for h in some])[by_whom]
    meant = values[by_whom, which] * np.where(draw.random(size) < 0.7, factors, draw.choice([1e3, -0.1], size))
    written = np.where(np.isfinite(meant) & (meant != 0), meant, 3.0) * np.exp(draw.uniform(-0.09, 0.09, size))
    figures = draw.integers(1, 6, size)
    rounded = np.array([float(f"{x:.{n - 1}e}") for x, n in zip(written.tolist(), figures.tolist(), strict=True)])
    entries = replace(numbers(*rounded.tolist()), figures=figures.astype(np.float64))
    found: dict[int, list[int]] = {}
    for indices, rows in near_entries(
        entries, some, lambda h: own[of_method[id(h.method)]], which if by_variant else None
    ):
        for index in indices:
            assert index not in found
            found[index] = sorted(rows.tolist())
    assert found == directly(entries, some, values, which.tolist())
    assert sum(map(len, found.values())) > size / 2
