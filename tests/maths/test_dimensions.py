"""Dimensions of expressions against the definitions of the SI, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.dimensions import DimensionError, described, dimension_of
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.syntax import FUNCTIONS, parse
from witnessmark.words.errors import UnitError

NAMES = {
    name: unit(text).dimension
    for name, text in {
        "F": "N", "m": "kg", "a": "m/s^2", "d": "mm", "t": "mm", "A": "mm^2", "p": "Pa", "E": "GPa", "v": "m/s",
        "T_1": "degC", "T_2": "degC", "theta": "deg", "n": "", "P": "kW", "omega": "rad/s", "rho": "kg/m^3", "R": "ohm",
        "I": "A", "U": "V", "Q": "L/min", "eps": "percent", "c": "J/(kg*K)",
    }.items()
}  # fmt: skip

# Left: an expression; right: the unit it must have. SI Brochure 9th ed. (2019), tables 4 to 6, where a derived unit is
# named; otherwise the definition of the quantity.
HAS_UNIT = [
    ("m*a", "N"), ("F/A", "Pa"), ("F*d", "J"), ("P/omega", "N*m"), ("U*I", "W"), ("U/I", "ohm"), ("I**2*R", "W"),
    ("p*A", "N"), ("p*Q", "W"), ("Q/A", "m/s"), ("sqrt(2*p/rho)", "m/s"), ("m*c*(T_2 - T_1)", "J"),
    ("rho*v**2/2", "Pa"),
    ("(d**3)**(1/3)", "m"), ("A**0.5", "m"), ("d**-2", "1/m^2"), ("F**2/F", "N"), ("abs(-d)", "m"), ("min(d, t)", "m"),
    ("max(d, 2*t)", "m"), ("T_2 - T_1", "K"), ("d + t", "m"), ("sin(theta)", ""), ("tan(atan2(d, t))", ""),
    ("exp(d/t)", ""), ("log(n)", ""), ("n**n", ""), ("2**n", ""), ("pi*theta/180", ""), ("acos(d/(2*t))", "deg"),
    ("eps + n + theta", ""), ("(1 + eps)*d", "m"), ("-d", "m"), ("5", ""), ("F/(E*A)", "microstrain"),
    ("F < m*a", "N"), ("p >= F/A", "Pa"), ("d**(3/2)*t**0.5", "m^2"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit_name"), HAS_UNIT)
def test_an_expression_has_the_dimension_of_its_unit(text: str, unit_name: str) -> None:
    assert dimension_of(parse(text), {**NAMES, "pi": unit("").dimension}) == unit(unit_name).dimension


REFUSED = [
    ("d + A", "d + A"), ("F - d*t", "F - d*t"), ("d + 1", "d + 1"), ("1 - d", "1 - d"), ("F*(d + t*A)", "d + t*A"),
    ("d < 5", "d < 5"), ("d > F", "d > F"), ("min(d, A)", "min(d, A)"), ("max(F, 1)", "max(F, 1)"),
    ("atan2(d, A)", "atan2(d, A)"), ("sin(d)", "sin(d)"), ("exp(F)", "exp(F)"), ("log(d*t)", "log(d*t)"),
    ("n**d", "n**d"), ("d**n", "d**n"), ("d**sqrt(2)", "d**sqrt(2)"), ("T_1 + 273.15", "T_1 + 273.15"),
    ("sqrt(d) + t", "sqrt(d) + t"), ("asin(t)", "asin(t)"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "at_fault"), REFUSED)
def test_unlike_things_are_refused_and_the_smallest_expression_named(text: str, at_fault: str) -> None:
    with pytest.raises(DimensionError) as caught:
        dimension_of(parse(text), NAMES)
    assert plain(caught.value.tree) == at_fault
    assert str(caught.value) == caught.value.message


def test_a_name_that_is_not_known_is_the_callers_mistake() -> None:
    with pytest.raises(KeyError):
        dimension_of(parse("d*unknown"), NAMES)


def test_every_function_of_the_language_has_a_dimension() -> None:
    for function, count in FUNCTIONS.items():
        arguments = ", ".join(["n"] * count)
        assert dimension_of(parse(f"{function}({arguments})"), NAMES).is_number


DESCRIBED = [
    ("mm", "length (m)"), ("mm^2", "area (m^2)"), ("L", "volume (m^3)"), ("kN", "force (N)"),
    ("N*m", "moment or work (N*m)"),
    ("MPa", "stress or pressure (Pa)"), ("hp", "power (W)"), ("knot", "speed (m/s)"), ("rpm", "frequency (1/s)"),
    ("", "a pure number"), ("percent", "a pure number"), ("deg", "a pure number"), ("degC", "temperature (K)"),
    ("N/mm", "force on a length (N/m)"), ("L/min", "flow (m^3/s)"), ("kg/m^3", "density (kg/m^3)"),
    ("W/(m*K)", "m*kg/(s^3*K)"), ("1/K", "1/K"), ("Pa*s", "kg/(m*s)"), ("mol", "mol"),
    ("mm^4", "second moment of area (m^4)"),
]  # fmt: skip


@pytest.mark.parametrize(("unit_name", "words"), DESCRIBED)
def test_a_dimension_is_told_in_words(unit_name: str, words: str) -> None:
    assert described(unit(unit_name).dimension) == words


powers = st.lists(st.integers(-4, 4), min_size=6, max_size=6).map(lambda p: Dimension(tuple(float(x) for x in p)))


@given(powers)
def test_what_a_dimension_is_told_as_can_be_read_as_a_unit_of_it(dimension: Dimension) -> None:
    words = described(dimension)
    text = "" if words == "a pure number" else words.rpartition("(")[2].rstrip(")") if " (" in words else words
    assert unit(text).dimension == dimension


@given(powers, st.sampled_from([0.5, 2.0, 1 / 3, 3.0, -1.0]))
def test_a_power_undone_gives_the_dimension_back(dimension: Dimension, exponent: float) -> None:
    again = (dimension**exponent) ** (1 / exponent)
    assert all(math.isclose(a, b, abs_tol=1e-8) for a, b in zip(again.powers, dimension.powers, strict=True))


@pytest.mark.parametrize("text", ["Pas", "mPas", "MPas", "kPas"])
def test_pascal_seconds_without_their_sign_are_no_unit_though_a_plural_would_be_read(text: str) -> None:
    with pytest.raises(UnitError, match=r"pascal seconds are Pa\*s"):
        unit(text)
    assert unit("mPa*s").dimension == (unit("Pa").dimension * unit("s").dimension)
