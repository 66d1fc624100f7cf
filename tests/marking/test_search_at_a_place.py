"""The class-wide search at the places of one small question: what may stand in, what is told, and what is to type."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.search.product_fits import PI_ROOM
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import LINE_ROOM, Search, UnknownMethod, _Fit
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.working.methods import Method, NumberPlace, places
from witnessmark.questions.working.working import AskedNumber

Floats = npt.NDArray[np.float64]
TEXT = """
question: keel-bar
title: A bar below a keel
topic: buoyancy
level: 2
setting: A bar {w} wide, {h} high and {L} long, of density {rho}, stands off by {k} below a keel.
given:
  w: {is: width, unit: mm, from: 20, to: 90, step: 1}
  h: {is: height, unit: mm, from: 20, to: 90, step: 1}
  L: {is: length, unit: m, from: 1, to: 4, step: 0.1}
  rho: {is: density, unit: kg/m^3, from: 1000, to: 9000, step: 10}
  k: {is: distance, unit: mm, from: 20, to: 90, step: 1}
find:
  a:
    ask: Find the area of its end.
    is: area
    symbol: A
    unit: mm^2
    answer: w*h
    marks: 1
  b:
    ask: Find its weight.
    is: weight
    symbol: W
    unit: N
    carries: [a]
    answer: A*L*rho*g
    marks: 2
  c:
    ask: Find three times its area.
    is: three areas
    symbol: S
    unit: mm^2
    answer: 3*w*h
    marks: 1
  d:
    ask: Find half the way round its end.
    is: half its way round
    symbol: u
    unit: mm
    answer: w + h
    marks: 1
  e:
    ask: Find how far off its lower edge is.
    is: lower edge
    symbol: z
    unit: mm
    answer: h*(1 + k/h)
    marks: 1
"""
SIZE = 9
CHANCE = np.random.default_rng(4)
GIVENS: dict[str, Floats] = {
    "w": CHANCE.integers(20, 90, SIZE) / 1000, "h": CHANCE.integers(20, 90, SIZE) / 1000,
    "L": CHANCE.integers(10, 40, SIZE) / 10, "rho": 10.0 * CHANCE.integers(100, 900, SIZE).astype(np.float64),
    "k": CHANCE.integers(20, 90, SIZE) / 1000,
}  # fmt: skip
A = GIVENS["w"] * GIVENS["h"]
W = A * GIVENS["L"] * GIVENS["rho"] * 9.81


@pytest.fixture(scope="module")
def bar() -> DrawableQuestion:
    question, problems = question_from_text(TEXT, "keel-bar.yaml", {})
    assert question is not None, problems
    return question


@pytest.fixture(scope="module")
def searches(bar: DrawableQuestion) -> dict[str, Search]:
    return {place.key: Search(bar, place) for place in places(bar, 3)}


def answers(of: str, values: Floats, count: int = SIZE, using: int | None = None, figures: int = 5) -> Unexplained:
    """What these students write in a unit; those behind the first few (`using`) a number without a method."""
    noise = np.abs(values) * 10 ** np.random.default_rng(8).uniform(-1, 1, SIZE)
    si = np.where(np.arange(SIZE) < (count if using is None else using), values, noise)[:count]
    scale = np.full(count, unit(of).scale)
    givens = {name: column[:count] for name, column in GIVENS.items()}
    who = tuple(f"S{n}" for n in range(count))
    return Unexplained(to_figures(si / scale, figures) * scale, np.full(count, float(figures)), scale, givens, who)


def by(formula: str, **more: Floats) -> Floats:
    """What a formula gives with each student's numbers."""
    return np.broadcast_to(compiled(parse(formula))({**GIVENS, "A": A, "g": 9.81, **more}), SIZE)


def told(found: UnknownMethod | None) -> tuple[str, int, str, Sequence[str]]:
    """A formula with its power of ten, what is to be typed, and who uses it."""
    assert found is not None
    return plain(found.formula), found.power, plain(found.answer), found.who


def test_three_of_three_who_share_a_formula_are_enough(searches: dict[str, Search]) -> None:
    assert told(searches["a"].find(answers("mm^2", by("w**2"), 3))) == ("w**2", 0, "w**2", ("S0", "S1", "S2"))
    assert searches["a"].find(answers("mm^2", by("w**2"), 2)) is None


def test_givens_and_results_of_earlier_parts_may_stand_in_for_a_name_and_later_ones_may_not(
    searches: dict[str, Search], bar: DrawableQuestion
) -> None:
    names = {name: column for name, column in GIVENS.items() if name != "k"}
    columns = {**names, "A": A, "W": W, "S": 3 * A, "u": GIVENS["w"] + GIVENS["h"], "g": np.full(SIZE, 9.81)}
    others = {key: searches[key]._others(columns) for key in "abcd"}
    assert {key: set(found) for key, found in others.items()} == {
        "a": {"w", "h", "L", "rho"}, "b": {"w", "h", "L", "rho", "A"}, "c": {"w", "h", "L", "rho", "A", "W"},
        "d": {"w", "h", "L", "rho", "A", "W", "S"},
    }  # fmt: skip
    assert all(len(set(found)) == len(found) for found in others.values())


@pytest.mark.parametrize(("key", "of", "used", "formula", "power", "answer"), [
    ("a", "mm^2", "5*w*h", "w*h/2", 1, "5*w*h"),
    ("a", "mm^2", "w**2/1000", "w**2", -3, "w**2/1000"),
    ("a", "mm^2", "100*w", "w", 2, "100*w"),  # of a length in metres, 10^5 of one in millimetres
    ("a", "mm^2", "w/100000", "w", -5, "w/100"),
    ("d", "mm", "w*h", "w*h", 0, "w*h"),  # square metres for metres
    ("d", "mm", "1000*w*h", "w*h", 3, "w*h"),  # square millimetres for millimetres
    ("d", "mm", "100*w*h", "w*h", 2, "w*h/10"),
])  # fmt: skip
def test_what_is_to_be_typed_gives_what_the_students_wrote(
    searches: dict[str, Search], key: str, of: str, used: str, formula: str, power: int, answer: str
) -> None:
    """A formula of another dimension is worked as bare numbers, in metres or in millimetres, whichever leaves less to
    be typed."""
    found = searches[key].find(answers(of, by(used), using=6))
    assert told(found) == (formula, power, answer, tuple(f"S{n}" for n in range(6)))


@pytest.mark.parametrize("used", ["2*w**2*h", "w**2*h/2", "2*w"])
def test_a_changed_working_that_is_a_product_is_no_rival_of_itself(searches: dict[str, Search], used: str) -> None:
    found = searches["a"].find(answers("mm^2", by(used), using=6))
    assert found is not None
    assert found.rivals == ()


def test_a_number_without_a_name_is_typed_as_it_is_worked_in_millimetres(searches: dict[str, Search]) -> None:
    """All of them wrote 100 mm^2, which is 10^-4 in square metres."""
    method = Method((), AskedNumber("a", parse("100"), "mm^2", 3))
    fit = _Fit(method, (), -6, np.arange(3), 9.0, np.full(SIZE, -4.0))
    assert plain(searches["a"]._answer(fit, GIVENS)) == "100"


def test_a_product_is_told_by_its_ratio_to_the_right_working_where_that_is_a_product_with_a_constant_of_ours(
    searches: dict[str, Search],
) -> None:
    def ratio(key: str, of: str, used: str) -> str | None:
        found = searches[key].find(answers(of, by(used), using=6))
        assert found is not None
        assert found.done == ()
        return None if found.beside is None else plain(found.beside)

    assert ratio("a", "mm^2", "w**2*L/(4*h)") == "w*L/(4*h**2)"
    assert ratio("c", "mm^2", "w**2*L/(4*h)") is None
    assert ratio("d", "mm", "w**2*L/(4*h)") is None


def test_as_many_formulas_were_tried_as_there_are_products_and_changed_workings(searches: dict[str, Search]) -> None:
    given = answers("mm^2", by("w**2"), using=6)
    found, (forms, _) = searches["a"].find(given), searches["a"]._forms_of(given, searches["a"]._names(given))
    varied = searches["a"]._variations
    assert found is not None
    assert varied is not None
    assert found.tried == forms.count + varied.count
    assert (found.answers, varied.count > 100) == (SIZE, True)


def test_a_question_whose_numbers_are_never_drawn_is_searched_for_products_alone(bar: DrawableQuestion) -> None:
    stated = replace(bar, givens=tuple(replace(g, span=None) if g.name == "w" else g for g in bar.givens))
    search = Search(stated, places(stated, 3)[0])
    given = answers("mm^2", by("w**2*L/(4*h)"), using=6)
    found = search.find(given)
    assert told(found) == ("w**2*L/(4*h)", 0, "w**2*L/(4*h)", tuple(f"S{n}" for n in range(6)))
    assert found is not None
    assert found.tried == search._forms_of(given, search._names(given))[0].count


def test_products_are_left_out_where_a_temperature_is_asked_and_changed_workings_are_not(
    bar: DrawableQuestion,
) -> None:
    """What is multiplied is no number of degrees Celsius."""
    part = replace(bar.quantities[0], unit="degC")
    search = Search(replace(bar, parts=(part,)), NumberPlace(part, None, 3))
    far, near = (answers("K", by(used), using=6) for used in ("w**2*L/(4*h)", "w**2*h"))
    assert search.find(far) is None
    found = search.find(near)
    assert found is not None
    assert found.done == ("w were used twice",)


def test_who_goes_on_from_a_wrong_result_of_their_own_is_followed(searches: dict[str, Search]) -> None:
    """Of nine six had a wrong area, and left the density out."""
    own = np.where(np.arange(SIZE) < 6, A * np.array([1.7, 0.3, 2.2, 0.9, 1.1, 3.1, 1, 1, 1]), np.nan)
    used = np.where(np.arange(SIZE) < 6, own, A) * GIVENS["L"] * 9.81
    given = replace(answers("N", used), own={"A": own, "x": own})
    found = searches["b"].find(given)
    assert found is not None
    assert (found.done, len(found.who)) == (("rho were left out",), SIZE)
    assert plain(found.formula) == "A*L*g"
    without = searches["b"].find(replace(given, own={}))
    assert without is not None
    assert without.who == ("S6", "S7", "S8")


def test_who_goes_on_from_a_right_result_as_it_was_typed_is_followed_where_somebody_typed_one(
    searches: dict[str, Search],
) -> None:
    """The areas were typed one part in a hundred too small, by six of nine; the others left them blank. Nobody typed a
    weight."""
    typed = np.where(np.arange(SIZE) < 6, 0.99 * A, np.nan)
    used = np.where(np.arange(SIZE) < 6, typed, A) * GIVENS["L"] * 9.81
    given = replace(answers("N", used), typed={"W": np.full(SIZE, np.nan), "A": typed, "x": typed})
    found = searches["b"].find(given)
    assert found is not None
    assert (found.done, len(found.who)) == (("rho were left out",), SIZE)
    without = searches["b"].find(replace(given, typed={}))
    assert without is not None
    assert without.who == ("S6", "S7", "S8")


def test_once_those_are_found_who_typed_a_result_the_others_are_looked_at_without(searches: dict[str, Search]) -> None:
    typed = np.where(np.arange(SIZE) < 5, 0.99 * A, np.nan)
    used = np.where(np.arange(SIZE) < 5, typed * GIVENS["L"] * 9.81, A * GIVENS["rho"] * 9.81 * GIVENS["L"] ** 2)
    found = searches["b"].find_all(replace(answers("N", used), typed={"A": typed}))
    assert {plain(told.formula): len(told.who) for told in found} == {"A*L*g": 5, "L**2*rho*A*g": 4}


def test_a_line_of_three_figures_has_its_room_and_one_of_two_has_not() -> None:
    """1.00 may stand for 1.005, and two such lines are rarely so far out both; 1.0 for 1.05."""
    assert math.log10(1.005) < LINE_ROOM < min(2 * math.log10(1.005), math.log10(1.05))


def test_where_nothing_is_carried_on_there_is_room_for_pi_twice(searches: dict[str, Search]) -> None:
    """As in pi^2 or in a product of two circles."""
    assert searches["a"]._room() == pytest.approx(2 * PI_ROOM)
    assert searches["b"]._room() == LINE_ROOM
