"""The class-wide search for unknown wrong methods: a shared one is found, noise is left alone, chance is told truly."""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import numpy.typing as npt
import pytest

from bank_fixture import BANK
from witnessmark.marking.search import near_fits, product_fits
from witnessmark.marking.search import shared_odds as shared_odds_module
from witnessmark.marking.search.product_forms import (
    log_of,
    logs_of_names,
    powers_of,
)
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import Search, UnknownMethod, by_accident
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawing.draw import draw
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.evaluation import names_in_full
from witnessmark.questions.working.methods import dimensions, methods_at, places
from witnessmark.questions.working.working import ALL_CONSTANTS, worked

Floats = npt.NDArray[np.float64]


@cache
def drawn(key: str) -> list[Variant]:
    """What a class has of a question."""
    return [draw(BANK[key], f"unknown|{n}") for n in range(24)]


def answers(
    question: str, key: str, formulas: Sequence[str], figures: int = 4, own: dict[str, Floats] | None = None
) -> Unexplained:
    """What students write who use these formulas (empty: a number without a method), each with their own numbers."""
    chance = np.random.default_rng(11)
    values = [v.values for v in drawn(question)[: len(formulas)]]
    givens = {name: np.array([v[name] for v in values]) for name in values[0]}
    right = worked(BANK[question], givens)
    names = {**ALL_CONSTANTS, **givens}
    for part in BANK[question].parts:
        if part.key in right:
            names |= dict.fromkeys(names_of(part), right[part.key])
    names |= {n: np.where(np.isnan(v), names[n], v) for n, v in (own or {}).items()}
    noise = right[key] * 10 ** chance.uniform(-1, 1, len(formulas))
    place = next(p for p in places(BANK[question], 3) if p.key == key)
    scale = np.full(len(formulas), unit(place.asked.unit).scale)
    used = [compiled(parse(text))(names) if text else noise for text in formulas]
    si = np.array([np.broadcast_to(column, len(formulas))[n] for n, column in enumerate(used)])
    written = to_figures(si / scale, figures) * scale
    who = tuple(f"S{n}" for n in range(len(formulas)))
    return Unexplained(written, np.full(len(formulas), float(figures)), scale, givens, who, own or {})


def search(question: str, key: str) -> Search:
    """The search at one place."""
    return Search(BANK[question], next(p for p in places(BANK[question], 3) if p.key == key))


def found(question: str, key: str, formulas: Sequence[str], figures: int = 4) -> UnknownMethod | None:
    """What the search finds."""
    return search(question, key).find(answers(question, key, formulas, figures))


def test_a_formula_that_three_of_eight_share_is_found_with_who_and_what_to_type() -> None:
    best = found("drain-hole", "a", ["4*tau*d*t"] * 3 + [""] * 5)
    assert best is not None
    assert (plain(best.formula), plain(best.answer), best.who, best.answers) == (
        "4*tau*d*t", "4*tau*d*t", ("S0", "S1", "S2"), 8,
    )  # fmt: skip
    assert best.accidental < 0.01
    assert best.rivals == ()


def test_formulas_that_fit_nearly_as_well_are_named_where_they_share_one_answer_with_the_best() -> None:
    """Where d = 2 t the three formulas are one number, by hand; S2 has such a hole, and each has two others more."""
    drawn = answers("drain-hole", "a", ["1"] * 7)
    givens = {name: column.copy() for name, column in drawn.givens.items()}
    givens["d"][2] = 2 * givens["t"][2]
    tau, d, t = (givens[name] for name in ("tau", "d", "t"))
    ones = np.arange(7)
    si = np.where(ones < 3, 2 * tau * d * t, np.where(ones < 5, 4 * tau * t**2, tau * d**2))
    written = to_figures(si / drawn.scale, 4) * drawn.scale
    best = search("drain-hole", "a").find(replace(drawn, si=written, givens=givens))
    assert best is not None
    assert (plain(best.formula), best.who) == ("2*tau*d*t", ("S0", "S1", "S2"))
    assert {plain(rival) for rival in best.rivals} == {"4*tau*t**2", "tau*d**2"}


def test_two_who_share_a_formula_are_not_enough() -> None:
    assert found("drain-hole", "a", ["4*tau*d*t"] * 2 + [""] * 6) is None


@pytest.mark.parametrize("size", [2, 3, 8, 24])
def test_numbers_without_a_method_share_nothing(size: int) -> None:
    assert found("drain-hole", "a", [""] * size) is None


def test_two_formulas_are_both_found_and_no_answer_counts_twice() -> None:
    given = answers("drain-hole", "a", ["4*tau*d*t"] * 4 + ["tau*t**2"] * 4 + [""] * 4)
    both = search("drain-hole", "a").find_all(given)
    assert {plain(m.formula): m.who for m in both} == {
        "4*tau*d*t": ("S0", "S1", "S2", "S3"), "tau*t**2": ("S4", "S5", "S6", "S7"),
    }  # fmt: skip


def test_whom_a_found_formula_leaves_is_looked_at_as_if_nobody_else_had_been_there() -> None:
    """What was worked out of all answers stands in for what would be worked out of the rest alone; S8 to S11 have the
    numbers of S0."""
    drawn = answers("drain-hole", "b", ["F*4/(pi*d**2)"] * 4 + ["4*F/(pi*d*t)"] * 4 + ["F/(d*t)"] * 4)
    givens = {name: np.concatenate([column[:8], column[:1].repeat(4)]) for name, column in drawn.givens.items()}
    typed = {"F": np.where(np.arange(12) < 4, 94_000.0, np.nan)}
    left = replace(drawn, givens=givens, typed=typed)
    together = search("drain-hole", "b").find_all(left)
    alone: list[UnknownMethod] = []
    while (best := search("drain-hole", "b").find(left)) is not None:
        alone.append(best)
        left = left.only(np.array([who not in best.who for who in left.who]))
    assert len(alone) > 1
    assert [(m.formula, m.who, m.rivals, m.power) for m in together] == [
        (m.formula, m.who, m.rivals, m.power) for m in alone
    ]
    assert [m.log_odds for m in together] == pytest.approx([m.log_odds for m in alone], rel=1e-12)


def test_an_edit_is_told_in_words_and_a_product_by_its_ratio_to_the_right_one() -> None:
    edit = found("drain-hole", "a", ["tau*pi*d**2*t"] * 4 + [""] * 3)
    assert edit is not None
    assert edit.done == ("d were used twice",)
    far = found("drain-hole", "a", ["tau*d**2/(2*t)"] * 5 + [""] * 3)
    assert far is not None
    assert (far.done, far.beside and plain(far.beside)) == ((), "d/(2*pi*t**2)")


def test_a_power_of_ten_that_all_share_goes_into_what_is_to_be_typed() -> None:
    best = found("drain-hole", "a", ["1000*4*tau*d*t"] * 4 + [""] * 3)
    assert best is not None
    assert (best.power, plain(best.formula), plain(best.answer)) == (3, "4*tau*d*t", "4000*tau*d*t")


def test_a_formula_of_the_wrong_dimension_is_typed_as_the_bank_works_it() -> None:
    """In millimetres, d times t of 20 and 5 is 100, which is 100 N as a bare number: 1e6 of square metres."""
    best = found("drain-hole", "a", ["1000000*d*t"] * 4 + [""] * 3)
    assert best is not None
    assert plain(best.answer) == "d*t"


def test_what_follows_from_a_students_own_wrong_result_is_found() -> None:
    values = np.array([2e4, 3.3e4, 5.1e4, np.nan, np.nan, 4.7e4])
    given = answers("drain-hole", "b", ["F/(4*d*t)"] * 6, own={"F": values})
    best = search("drain-hole", "b").find(given)
    assert best is not None
    assert (plain(best.formula), len(best.who)) == ("F/(4*d*t)", 6)


def test_many_answers_do_not_make_three_accidental_fits_a_method() -> None:
    place = search("drain-hole", "a")
    reported = 0
    for n in range(6):
        reported += place.find(noise(n, 24, 3)) is not None
    assert reported == 0


def noise(seed: int, count: int, figures: int) -> Unexplained:
    """Numbers without a method, at the first hole."""
    chance = np.random.default_rng(seed)
    given = answers("drain-hole", "a", [""] * count, figures)
    written = to_figures(given.si * 10 ** chance.uniform(-1, 1, count) / given.scale, figures) * given.scale
    return Unexplained(written, given.figures, given.scale, given.givens, given.who)


def test_chance_brings_no_better_findings_than_are_stated_at_most(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever a search reports, the stated numbers of such findings are met at most: their inverse has a mean of 1."""
    for module in (near_fits, product_fits, shared_odds_module):
        monkeypatch.setattr(module, "LEAST_ODDS", -9.0)
    place, tries = search("drain-hole", "a"), 40
    best = [place.find(noise(n, 10, 2)) for n in range(tries)]
    inverses = [1 / found.accidental for found in best if found is not None]
    assert len(inverses) > tries / 5
    assert sum(inverses) / tries < 1


def test_the_expected_number_of_accidental_fits_falls_with_the_odds_and_counts_those_who_lie_near() -> None:
    assert by_accident(4.0, 3) == pytest.approx(math.exp(-4) * 1.15**3)
    assert by_accident(14.0, 3) == pytest.approx(math.exp(-10) * by_accident(4.0, 3))


def test_what_cannot_be_a_number_is_left_out() -> None:
    given = answers("drain-hole", "a", ["4*tau*d*t"] * 5)
    si = given.si.copy()
    si[0], si[1] = np.nan, 0.0
    best = search("drain-hole", "a").find(Unexplained(si, given.figures, given.scale, given.givens, given.who))
    assert best is not None
    assert (best.who, best.answers) == (("S2", "S3", "S4"), 3)


@pytest.mark.parametrize("key", ["viewing-port", "drain-hole"])
def test_what_may_stand_in_for_a_name_is_a_number_of_the_sheet_and_never_g(key: str) -> None:
    names = {name: np.broadcast_to(values, (64,))[:12] for name, values in names_of_sample(BANK[key]).items()}
    others = search(key, "a")._others(names)
    assert others
    assert set(others) <= names.keys() - {"g"}


@pytest.mark.parametrize(("key", "names", "powers", "constant"), [
    ("a", ("tau", "d", "t"), (1.0, 1.0, 1.0), (1, 0)), ("b", ("F", "d"), (1.0, -2.0), (-1, 2)),
])  # fmt: skip
def test_the_powers_of_a_working_are_those_of_its_formula(
    key: str, names: tuple[str, ...], powers: tuple[float, ...], constant: tuple[int, int]
) -> None:
    """F = pi d t tau, and sigma = 4 F / (pi d^2)."""
    given = answers("drain-hole", key, ["1"] * 8)
    question = BANK["drain-hole"]
    full = names_in_full(question, given.givens)
    (place,) = (p for p in places(question, 3) if p.key == key)
    right = methods_at(place, dimensions(question))[0]
    known, logs = logs_of_names(question, right, place, full, 8)
    assert set(names) <= set(known)
    found = powers_of(right, known, full, logs)
    assert found is not None
    assert {n: p for n, p in zip(known, found.of_names, strict=True) if p} == dict(zip(names, powers, strict=True))
    assert found.constant == constant
    assert log_of(constant) == pytest.approx(math.log10(math.pi ** constant[0] * 2.0 ** constant[1]))


@pytest.mark.parametrize("nothing", [0.0, np.nan])
def test_a_name_that_is_nothing_in_one_variant_is_no_factor_of_a_product(nothing: float) -> None:
    """Its logarithm would be no number there."""
    given = answers("drain-hole", "a", ["1"] * 8)
    full, place = names_in_full(BANK["drain-hole"], given.givens), search("drain-hole", "a").place
    right = methods_at(place, dimensions(BANK["drain-hole"]))[0]
    some = {**full, "t": np.where(np.arange(8) == 2, nothing, full["t"])}
    known, logs = logs_of_names(BANK["drain-hole"], right, place, some, 8)
    assert set(logs_of_names(BANK["drain-hole"], right, place, full, 8)[0]) == {*known, "t"} > {"tau", "d"}
    assert np.isfinite(logs).all()


def test_who_goes_on_from_a_right_result_does_so_as_it_was_typed_four_times_in_ten() -> None:
    """The share is our assumption (common practice, no source)."""
    typed = np.where(np.arange(5) == 3, np.nan, 94_000.0)
    given = replace(answers("drain-hole", "b", ["1"] * 5), typed={"F": typed, "A_p": np.full(5, np.nan)})
    place = search("drain-hole", "b")
    without, ways = place._ways(replace(given, typed={}), as_typed=False), place._ways(given, as_typed=True)
    size = len(without.shares)
    assert ways.shares[:size].tolist() == pytest.approx((0.6 * without.shares).tolist())
    assert ways.shares[size:].tolist() == pytest.approx((0.4 * without.shares).tolist())
    full = np.broadcast_to(without.names["F"], (size, 5))
    assert ways.names["F"][:size].tolist() == full.tolist()
    assert ways.names["F"][size:].tolist() == np.where(np.isnan(typed), full, typed).tolist()
    assert ways.figures.tolist() == [*without.figures.tolist()] * 2
