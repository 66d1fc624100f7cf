"""Which methods are new: none is the number of a known one or of another, in every variant, but for a power of ten."""

import math
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawing.likeness import (
    SAMPLE,
    Likeness,
    is_times,
    likeness,
    merged,
    new_edits,
    new_to,
    telling,
)
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.working.edited import Edited, edited_at
from witnessmark.questions.working.evaluation import number_of
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.working import AskedNumber

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
NAMES, KNOWN_DIMENSIONS = names_of_sample(HOLE), dimensions(HOLE)
ALIKE = likeness(HOLE)


def power_of_ten_apart(first: Method, second: Method) -> bool:
    """Worked out on the whole sample: one quotient throughout, and that a power of ten."""
    with np.errstate(all="ignore"):
        quotients = number_of(first, NAMES, KNOWN_DIMENSIONS) / number_of(second, NAMES, KNOWN_DIMENSIONS)
        powers = np.log10(np.abs(quotients))
    return bool(np.ptp(powers) < 1e-6 and abs(np.median(powers) - round(float(np.median(powers)))) < 1e-6)


def of_part(key: str) -> tuple[tuple[Method, ...], list[Method]]:
    """The known methods of a part, and the right one's edits."""
    (place,) = (p for p in places(HOLE, 3) if p.key == key)
    known = merged(methods_at(place, KNOWN_DIMENSIONS), ALIKE)
    return known, [e.method for e in edited_at(known[0], KNOWN_DIMENSIONS, HOLE)]


@pytest.mark.parametrize("key", ["a", "b"])
def test_no_new_method_is_a_known_one_or_another_new_one(key: str) -> None:
    known, edited = of_part(key)
    new = new_to(known, edited, ALIKE)
    assert 3 < len(new) < len(edited)
    plain = [m for m in new if not m.bare]
    assert not any(power_of_ten_apart(m, k) for m in plain for k in known)
    assert not any(power_of_ten_apart(m, n) for i, m in enumerate(plain) for n in plain[:i])


@pytest.mark.parametrize("key", ["a", "b"])
def test_every_method_that_is_left_out_is_one_that_is_there(key: str) -> None:
    known, edited = of_part(key)
    new = new_to(known, edited, ALIKE)
    left_out = [m for m in edited if all(m is not n for n in new) and ALIKE.of(m) is not None]
    assert left_out
    assert all(any(power_of_ten_apart(m, n) for n in (*known, *new)) for m in left_out)


@pytest.mark.parametrize("key", ["a", "b"])
def test_what_is_kept_in_bare_metres_is_kept_in_bare_millimetres_too(key: str) -> None:
    known, edited = of_part(key)
    new = new_to(known, edited, ALIKE)
    numbers = {ALIKE.of(m) for m in new}
    metres = {m.formula for m in new if m.bare and not m.millimetres}
    twins = [m for m in edited if m.bare and m.millimetres and m.formula in metres]
    assert len(twins) > 3
    assert all(ALIKE.of(m) in numbers for m in twins)  # itself, or another one that is the same number


def test_new_edits_are_the_edits_of_new_methods() -> None:
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    known = merged(methods_at(place, KNOWN_DIMENSIONS), ALIKE)
    edited = edited_at(known[0], KNOWN_DIMENSIONS, HOLE)
    kept = new_to(known, [e.method for e in edited], ALIKE)
    assert [e.method for e in new_edits(known, edited, ALIKE)] == list(kept)


@pytest.mark.parametrize("value", [1.0, 1.7782794, 3.1622777, 4.0, 10**0.75, 9.9999])
@pytest.mark.parametrize("sign", [1, -1])
def test_a_number_and_ten_times_it_have_one_shape_wherever_it_lies_in_its_decade(value: float, sign: int) -> None:
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    right = methods_at(place, KNOWN_DIMENSIONS)[0]

    def shape(factor: float) -> tuple[float, ...] | None:
        column = np.linspace(value, value * 1.5, SAMPLE) * factor
        names = {"d": column, "t": np.ones(SAMPLE), "tau": np.full(SAMPLE, sign / np.pi), "pi": np.asarray(np.pi)}
        return Likeness({**ALIKE.names, **names}, HOLE).shape_of(right)

    ones = shape(1.0)
    assert ones is not None
    assert all(shape(10.0**power) == pytest.approx(ones, abs=1e-7) for power in (-3, -2, -1, 1, 2, 3))
    assert shape(2.0) != pytest.approx(ones, abs=1e-3)


def test_numbers_of_opposite_signs_are_not_alike() -> None:
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    right = methods_at(place, KNOWN_DIMENSIONS)[0]
    tau = ALIKE.names["tau"]
    for n in range(-50, 51):
        turned = Likeness({**ALIKE.names, "tau": -tau * 10 ** (n / 50)}, HOLE)
        assert turned.of(right) != ALIKE.of(right), n


def test_a_method_that_gives_nothing_in_a_single_variant_has_no_signature() -> None:
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    right = methods_at(place, KNOWN_DIMENSIONS)[0]
    once = ALIKE.names["tau"] * (np.arange(SAMPLE) != 3)
    assert Likeness({**ALIKE.names, "tau": once}, HOLE).of(right) is None


def test_methods_that_are_one_number_share_their_names_and_keep_what_the_kindest_keeps() -> None:
    known, _ = of_part("a")
    right, slip = known[0], replace(known[1], keeps=Decimal(1))
    kinder = replace(slip, misconceptions=("kinder",), keeps=Decimal(2))
    harder = replace(slip, misconceptions=("harder",), keeps=Decimal(0))
    again = replace(slip, keeps=Decimal(0))
    found = merged((right, slip, kinder, harder, again), ALIKE)
    assert [m.names for m in found] == [(), (*slip.misconceptions, "kinder", "harder")]
    assert found[1].keeps == 2
    assert merged((right, replace(right, misconceptions=("lucky",))), ALIKE) == (right,)


def test_a_working_in_millimetres_alone_is_no_new_one_where_a_power_of_ten_of_it_is_known() -> None:
    _, edited = of_part("a")
    metres = {m.formula: m for m in edited if m.bare and not m.millimetres}
    twins = [(metres[m.formula], m) for m in edited if m.bare and m.millimetres and m.formula in metres]
    checked = [(metre, mm) for metre, mm in twins if power_of_ten_apart(metre, mm)]
    assert len(checked) > 3
    assert all(new_to((metre,), (mm,), ALIKE) == () for metre, mm in checked)
    assert any(new_to((), (metre, mm), ALIKE) == (metre, mm) for metre, mm in checked)


def test_a_method_gives_a_multiple_of_another_where_it_does_so_in_every_variant() -> None:
    """The common logarithm of two is 0.30103; signatures are kept to eight places, and one place is left for noise."""
    other = (0.1, 0.25, -0.4)
    twice = tuple(x + math.log10(2) for x in other)
    assert is_times(twice, 2, other)
    assert is_times(other, 0.5, twice)
    assert not is_times(other, 2, twice)
    assert not is_times(twice, 2.001, other)
    assert not is_times((*twice[:2], 0.3), 2, other)
    assert is_times(tuple(x + 0.9e-7 for x in twice), 2, other)
    assert not is_times(tuple(x - 1.1e-7 for x in twice), 2, other)
    assert not is_times(None, 2, other)
    assert not is_times(twice, 2, None)
    assert is_times((1e-7,), 1, (0.0,))


def by(formula: str, unit: str = "kN", bare: bool = False, millimetres: bool = False) -> Method:
    """A method in one step."""
    asked = AskedNumber("a", parse(formula), unit, 3)
    return Method((), asked, ("x",), millimetres=millimetres, bare=bare or millimetres)


def test_signatures_tell_how_many_times_one_method_gives_what_another_does() -> None:
    alike = likeness(HOLE)
    half, whole, twice = (alike.of(by(f"{times}*tau*d*t")) for times in ("0.5", "1", "2"))
    assert is_times(twice, 2, whole)
    assert is_times(half, 0.25, twice)
    assert not is_times(whole, 2, twice)


@pytest.mark.parametrize(("formula", "unit", "times"), [
    ("tau*d*t*d", "kN", 1e3),  # newton metres for newtons: a thousand times as many newton millimetres
    ("d", "kN", 1e3),
    ("tau*d*t", "MPa", 1e6),  # newtons for pascals: they are told as so many megapascals
    ("tau*d", "MPa", 1e3),
])  # fmt: skip
def test_a_bare_number_of_millimetres_has_the_signature_of_what_is_written(
    formula: str, unit: str, times: float
) -> None:
    alike = likeness(HOLE)
    metres, millimetres = by(formula, unit, bare=True), by(formula, unit, millimetres=True)
    given = [number_of(m, NAMES, KNOWN_DIMENSIONS) for m in (metres, millimetres)]
    assert given[1] == pytest.approx(given[0] * times)
    assert is_times(alike.of(millimetres), times, alike.of(metres))


def test_a_method_of_a_name_that_nobody_knows_has_no_signature_and_hides_none() -> None:
    lost, right = by("tau*d*e"), by("tau*d*t")
    assert ALIKE.of_each([lost, right]) == [None, ALIKE.of(right)]
    assert new_to((), (lost, right), ALIKE) == (right,)


def test_of_one_number_in_both_systems_or_of_its_powers_of_ten_one_is_new() -> None:
    """A kilogram metre is as many tonne millimetres; a newton metre is a thousand newton millimetres."""
    same = by("tau*d**3/g", bare=True), by("tau*d**3/g", millimetres=True)
    apart = by("tau*d**3", bare=True), by("tau*d**3", millimetres=True)
    assert new_to((), same, ALIKE) == same[:1]
    assert new_to((), apart, ALIKE) == apart
    assert new_to((), apart[::-1], ALIKE) == apart[1:]
    force, tenfold, twice = by("tau*d*t"), by("10*tau*d*t"), by("2*tau*d*t")
    assert new_to((), (force, tenfold, twice), ALIKE) == (force, twice)
    assert new_to((force,), (tenfold, twice, force), ALIKE) == (twice,)


def test_an_edit_tells_something_where_it_is_no_known_number_and_no_power_of_ten_of_the_right_one() -> None:
    right, slip = by("tau*d*t"), by("tau*d*t/3")
    formulas = ["d*tau*t", "tau*t*d/3", "10*tau*d*t", "tau*d*e", "10*tau*d*t/3", "2*tau*d*t", "tau*d*t*2"]
    edited = [Edited(by(formula), (formula,), 1.0) for formula in formulas]
    assert [e.done for e in telling((right, slip), edited, ALIKE)] == [("10*tau*d*t/3",), ("2*tau*d*t",)]
