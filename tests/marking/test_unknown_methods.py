"""The class-wide search for unknown wrong methods: a shared one is found, noise is left alone, chance is told truly."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest

from bank_fixture import BANK
from witnessmark.marking.search.product_forms import MOST_STEPS, Powers, forms_near
from witnessmark.marking.search.shared_odds import at_least, by_accident
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import Search, UnknownMethod
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawing.draw import draw
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.working.methods import places
from witnessmark.questions.working.working import ALL_CONSTANTS, worked

Floats = npt.NDArray[np.float64]
DRAWN = {key: [draw(BANK[key], f"unknown|{n}") for n in range(24)] for key in ("drain-hole", "bottle-jack")}


def answers(
    question: str, key: str, formulas: Sequence[str], figures: int = 4, own: dict[str, Floats] | None = None
) -> Unexplained:
    """What students write who use these formulas (empty: a number without a method), each with their own numbers."""
    chance = np.random.default_rng(11)
    values = [v.values for v in DRAWN[question][: len(formulas)]]
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
        chance = np.random.default_rng(n)
        given = answers("drain-hole", "a", [""] * 24, 3)
        si = given.si * 10 ** chance.uniform(-1, 1, 24)
        written = to_figures(si / given.scale, 3) * given.scale
        reported += place.find(Unexplained(written, given.figures, given.scale, given.givens, given.who)) is not None
    assert reported == 0


def test_what_cannot_be_a_number_is_left_out() -> None:
    given = answers("drain-hole", "a", ["4*tau*d*t"] * 5)
    si = given.si.copy()
    si[0], si[1] = np.nan, 0.0
    best = search("drain-hole", "a").find(Unexplained(si, given.figures, given.scale, given.givens, given.who))
    assert best is not None
    assert (best.who, best.answers) == (("S2", "S3", "S4"), 3)


@pytest.mark.parametrize(
    ("mean", "count", "chance"), [(1.0, 1, 0.632120559), (2.5, 3, 0.456186884), (1e-4, 3, 1.66654e-13)]
)
def test_the_chance_of_at_least_so_many_is_that_of_poisson(mean: float, count: int, chance: float) -> None:
    """1 - e^-1, 1 - e^-2.5 (1 + 2.5 + 2.5^2/2), and for small means mean^3/6 (1 - 3/4 mean)."""
    assert at_least(mean, count) == pytest.approx(chance, rel=1e-5)


def test_the_expected_number_of_accidental_fits_is_met_by_numbers_without_a_method() -> None:
    """Three of 60 numbers on one grid of digits share a power of ten as often as is stated (100,000 tries, seeded)."""
    chance = np.random.default_rng(4)
    tries, answered, room = 100_000, 60, 0.004
    apart = chance.uniform(-1, 1, (tries, answered))
    fits = np.abs(apart - np.round(apart)) <= room / 2
    powers = np.round(apart)
    met = sum(int(((fits & (powers == p)).sum(1) >= 3).sum()) for p in (-1, 0, 1))
    assert met / tries == pytest.approx(by_accident(answered * room, 3), rel=0.15)


def test_the_powers_that_are_tried_lie_within_a_few_steps_of_the_right_ones() -> None:
    forms = forms_near(("d", "t", "tau"), Powers((1.0, 1.0, 1.0), (1, 0)))
    steps = np.abs(forms.exponents - 1).sum(1)
    assert steps.max() == MOST_STEPS
    assert [0.0, 0.0, 0.0] not in forms.exponents.tolist()
    assert len(np.unique(forms.exponents, axis=0)) == len(forms.exponents)
    assert (0, 2) in forms.constants  # pi left out, four in its place


def test_many_names_do_not_make_the_search_endless() -> None:
    """Eleven names have 5^11 rows of powers from -2 to 2: 49 million; those within four steps are some thousands."""
    names = tuple(f"x{n}" for n in range(11))
    assert len(forms_near(names, Powers((1.0,) * 4 + (0.0,) * 7, (0, 0))).costs) < 20_000
