"""The envelope explained: the choices that are told, followed by hand and by a second working, give its very ends."""

import itertools
import math
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from functools import cache

import numpy as np
import pytest

from bank_fixture import BANK
from marking.students import CALCULATED
from searching import every
from witnessmark.maths.compiled import compiled
from witnessmark.maths.interval_ends import End
from witnessmark.maths.quantities import from_si, to_si
from witnessmark.maths.syntax import Tree, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.envelope_ends import explained
from witnessmark.questions.working.envelope_steps import By, EnvelopeEnd, EnvelopeExplained
from witnessmark.questions.working.working import envelopes

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="5 mm", punch="oil-hardened tool steel")
SLACK = 1e-9  # relative: what each line and result may lose in binary arithmetic


@cache
def drawn(key: str) -> Variant:
    """A variant of a question, drawn once."""
    return BANK[key].draw(f"envelope ends|{key}")


def ends_of(found: EnvelopeExplained) -> tuple[EnvelopeEnd, EnvelopeEnd]:
    return found.low, found.high


def texts(end: EnvelopeEnd) -> list[str]:
    return [sentence.replace("\N{NO-BREAK SPACE}", " ") for sentence in end.sentences]


def test_the_ends_of_the_drain_hole_are_those_worked_by_hand() -> None:
    found = HOLE.explains("a")
    low, high = ends_of(found)
    # 3.14 · 100 = 314 mm², less 0.5: 313.5 · 0.3 = 94.05 kN, less 0.05
    assert low.quantity.to("kilonewton").magnitude == pytest.approx(94.0, rel=1e-8)
    # 22/7 · 100 = 314.286 mm², and 0.5: 314.786 · 0.3 = 94.4357 kN, and 0.05
    assert high.quantity.to("kilonewton").magnitude == pytest.approx(94.4857, abs=5e-5)
    area, force = low.steps
    assert [(u.name, u.end, u.value) for u in area.uses] == [("pi", "low", 3.14)]
    assert [(u.name, u.key, u.end) for u in force.uses] == [("A_s", "a.A_s", "low")]
    assert (area.key, area.what, area.figures, area.by) == ("a.A_s", "sheared area", 3, By.ROUNDING)
    assert (area.exact, area.half, area.taken) == pytest.approx((314e-6, 0.5e-6, 313.5e-6), rel=1e-8)
    assert found.right == pytest.approx(30_000 * math.pi)


def test_the_ends_are_told_in_numbers() -> None:
    low, high = ends_of(HOLE.explains("a"))
    area, force = texts(low)
    assert (
        area
        == "With π = 3.14, the sheared area is 314 mm²; written to 3 figures it may be 0.5 mm² off, down to 313.5 mm²."
    )
    assert force == (
        "With the sheared area at 313.5 mm², the punching force is 94.05 kN; written to 3 figures it may be 0.05 kN "
        "off, down to 94 kN."
    )
    assert texts(high)[0].startswith("With π = 22/7, the sheared area is 314.29 mm²; ")


def test_an_end_that_takes_one_thing_at_both_ends_is_told_with_what_one_working_reaches() -> None:
    low, high = ends_of(HOLE.explains("b"))
    assert (low.both, high.both) == (("π",), ("π",))
    # 4 tau t/d with one pi: (94.05 - 0.05)/(314 + 0.5) kN/mm², less 0.5 MPa: 298.39; (94.485714)/(313.785714) and 0.5
    assert low.reach == pytest.approx(298.387e6, abs=1e3)
    assert high.reach == pytest.approx(301.616e6, abs=1e3)
    assert low.value < low.reach < 300e6 < high.reach < high.value
    assert texts(low)[-1].startswith(
        "No single working gets there, for it would take π in one place at its low end and in another at its high end; "
        "one working gets to 298.39 MPa at the lowest (the right value is 300 MPa)"
    )


def test_the_questions_own_tolerance_is_named_where_it_sets_the_end() -> None:
    question = HOLE.question
    wide = replace(question.quantity("a"), tolerance=Decimal("0.05"))
    found = explained(replace(question, parts=(wide, *question.parts[1:])), HOLE.values, "a", 3)
    assert [step.by for step in found.low.steps] == [By.ROUNDING, By.TOLERANCE]
    assert found.low.value == pytest.approx(94_050 * 0.95, rel=1e-8)
    assert texts(found.low)[-1].endswith(
        "the punching force is 94.05 kN; the question allows 5 % on that, down to 89.347 kN."
    )


def test_a_narrow_tolerance_is_not_named() -> None:
    part = replace(HOLE.question.quantity("a"), tolerance=Decimal("0.0001"))
    found = explained(replace(HOLE.question, parts=(part,)), HOLE.values, "a", 3)
    assert found.low.steps[-1].by is By.ROUNDING


def test_more_figures_asked_narrow_the_ends() -> None:
    three, four = HOLE.explains("a"), HOLE.explains("a", 4)
    assert three.low.value < four.low.value < four.high.value < three.high.value
    assert four.low.steps[0].half == pytest.approx(0.05e-6)


def test_where_no_number_is_asked_the_places_with_one_are_named() -> None:
    with pytest.raises(KeyError, match=r"c: the numbers asked in drain-hole are a\.A_s, a, b\.A_p, b"):
        HOLE.explains("c")
    with pytest.raises(KeyError, match=r"a: the numbers asked in drain-hole are a\.A_s"):
        BANK["drain-hole"].variant(d="20 mm", t="5 mm").explains("a")


def test_a_constant_that_a_question_gives_itself_is_no_choice() -> None:
    given_pi = explained(HOLE.question, HOLE.values | {"pi": 3.14}, "a", 3)
    assert [u.name for step in given_pi.low.steps for u in step.uses] == ["A_s"]


@pytest.mark.parametrize("key", every(CALCULATED, 3))
def test_both_ends_are_those_of_the_envelope_and_follow_from_the_choices_told(key: str) -> None:
    v = drawn(key)
    bounds = envelopes(v.question, v.columns, 3)
    for place in v.expected_si:
        for end, bound in zip(ends_of(v.explains(place)), bounds[place], strict=True):
            wanted = float(np.ravel(bound)[0])
            assert end.value == pytest.approx(wanted, rel=1e-12), place
            if not end.between:  # as of a slope, whose ends no end of its readings gives
                assert followed(v, end) == pytest.approx(wanted, rel=1e-9), place


@pytest.mark.parametrize("key", every(CALCULATED, 3))
def test_every_combination_of_choices_leads_no_farther_and_the_best_one_to_what_is_told(key: str) -> None:
    v = drawn(key)
    for place in v.expected_si:
        found = v.explains(place)
        results = all_workings(v, place)
        for end, farthest in ((found.low, min(results)), (found.high, max(results))):
            assert end.reach == pytest.approx(farthest, rel=1e-9), (place, end.both)
            if end.is_reached:
                assert end.value == pytest.approx(farthest, rel=1e-9), place
            assert end.is_reached == (end.sentences[-1].find("No single working") < 0)


def followed(v: Variant, end: EnvelopeEnd) -> float:
    """The end worked a second time from the choices alone: the constants named, each step rounded the way it says."""
    made: dict[tuple[str, End], float] = {}
    for step in end.steps:
        names = {n: c.value for n, c in CONSTANTS.items()} | v.values | {n: float("nan") for n in names_of_lines(v)}
        names |= {u.name: made[u.key, u.end] if u.key else constant_at(u.name, u.end) for u in step.uses}
        exact = float(compiled(tree_of(v.question, step.key))(names))
        if math.isnan(exact):  # a result that makes no difference to the largest of several is not told
            names |= {n: names_at_right(v)[n] for n, value in names.items() if math.isnan(value)}
            exact = float(compiled(tree_of(v.question, step.key))(names))
        made[step.key, step.end] = left_by(part_at(v.question, step.key), step.key, exact, step.figures, step.end)
    return made[end.steps[-1].key, end.end]


def names_at_right(v: Variant) -> dict[str, float]:
    """Every line and result by name at its right value."""
    lines = {n.name: v.expected_si[f"{p.key}.{n.name}"] for p in v.question.quantities for n in p.lines}
    return lines | {n: v.expected_si[p.key] for p in v.question.quantities for n in names_of(p)}


def constant_at(name: str, end: End) -> float:
    spread = {"pi": (3.14, 22 / 7), "g": (9.8, 9.81)}[name]
    return spread[0 if end is End.LOW else 1]


def rounded_off(si: float, unit: str, figures: int, end: End) -> float:
    """Half a unit of the last figure up or down, found on the decimal text of the number, with the slack of floats."""
    number = Decimal(repr(from_si(si, unit)))
    half = Decimal(5).scaleb(number.adjusted() - figures) if number else Decimal(0)
    room = float(half) + abs(float(number)) * SLACK
    return to_si(float(number) + (-room if end is End.LOW else room), unit)


def left_by(part: QuantityPart, key: str, exact: float, figures: int, end: End) -> float:
    """What a line or result may be at an end: rounded off; of a reading, so far off as its division says, where
    that is more."""
    line = next((n for n in part.lines if f"{part.key}.{n.name}" == key), None)
    unit_name = line.unit if line else part.unit
    rounded = rounded_off(exact, unit_name, figures, end)
    if line or part.division is None:
        return rounded
    number, room = from_si(exact, unit_name), float(part.division.room)
    read = to_si(number + (-room if end is End.LOW else room), unit_name)
    return min(rounded, read) if end is End.LOW else max(rounded, read)


def names_of_lines(v: Variant) -> set[str]:
    parts = v.question.quantities
    return {line.name for p in parts for line in p.lines} | {n for p in parts for n in names_of(p)}


def tree_of(question: Question, key: str) -> Tree:
    found = part_at(question, key)
    return next((n.value for n in found.lines if f"{found.key}.{n.name}" == key), found.answer)


def part_at(question: Question, key: str) -> QuantityPart:
    """The number whose result, or a line of which, has this key."""
    lines = {f"{part.key}.{line.name}": part for part in question.quantities for line in part.lines}
    return lines[key] if key in lines else question.quantity(key)


def all_workings(v: Variant, key: str) -> list[float]:
    """The result at a place by every combination: each constant at either end, each step rounded up or down."""
    order = steps_to(v.question, key)
    rounding = list(itertools.product(End, repeat=len(order)))
    return [once(v, order, pi, g, sides) for pi in End for g in End for sides in rounding]


def steps_to(question: Question, key: str) -> list[str]:
    """The lines and results that a place is worked from, in order, itself last."""
    found: list[str] = []
    for part in question.quantities:
        for name in (*(f"{part.key}.{line.name}" for line in part.lines), part.key):
            found.append(name)
            if name == key:
                return [n for n in found if n == key or n in needed(question, key)]
    raise KeyError(key)


def needed(question: Question, key: str) -> set[str]:
    """Every line and result that a place is worked from, at any remove."""
    part = part_at(question, key)
    owners = {n: p.key for p in question.quantities for n in names_of(p)}
    owners |= {line.name: f"{part.key}.{line.name}" for line in part.lines}
    used = {owners[n] for n in names_in(tree_of(question, key)) if n in owners} - {key}
    return used.union(*(needed(question, k) for k in used))


def once(v: Variant, order: list[str], pi: End, g: End, sides: tuple[End, ...]) -> float:
    names: dict[str, float] = {**v.values, "pi": constant_at("pi", pi), "g": constant_at("g", g)}
    value = math.nan
    for key, side in zip(order, sides, strict=True):
        value = float(compiled(tree_of(v.question, key))(names | lines_of(names, key)))
        part = part_at(v.question, key)
        line = next((n for n in part.lines if f"{part.key}.{n.name}" == key), None)
        figures = 3 if line else part.figures or 3
        value = left_by(part, key, value, figures, side)
        for name in [f"{part.key}.{line.name}"] if line else names_of(part):
            names[name] = value
    return value


def lines_of(names: Mapping[str, float], key: str) -> dict[str, float]:
    """The lines of a place's own part by their bare names."""
    stem = f"{key.partition('.')[0]}."
    return {n.removeprefix(stem): x for n, x in names.items() if n.startswith(stem)}
