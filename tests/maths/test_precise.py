"""Values with many figures, against published constants, and where there is none."""

import pytest

from witnessmark.maths.precise import CONTEXTS, FINE, Undefined, common_points, coordinate, evaluated
from witnessmark.maths.syntax import parse


@pytest.mark.parametrize(
    ("text", "digits"),  # Abramowitz and Stegun, table 1.1, and DLMF 3.12
    [
        ("pi", "3.14159265358979323846264338327950288"),
        ("exp(1)", "2.71828182845904523536028747135266250"),
        ("sqrt(2)", "1.41421356237309504880168872420969808"),
        ("log(2)", "0.69314718055994530941723212145817657"),
        ("2**0.5", "1.41421356237309504880168872420969808"),
        ("4*atan(1)", "3.14159265358979323846264338327950288"),
        ("2*asin(1)", "3.14159265358979323846264338327950288"),
        ("atan2(1, 1)*4", "3.14159265358979323846264338327950288"),
        ("max(1, 2) - min(1, 2) + abs(-1)", "2"),
        ("sqrt(0)", "0"),
        ("(-2)**3", "-8"),
        ("0**2", "0"),
        ("0**0.5", "0"),
    ],
)
def test_values_are_right_to_thirty_figures(text: str, digits: str) -> None:
    for context in CONTEXTS:
        value = evaluated(parse(text), {"pi": coordinate("pi", 0, context)}, context)
        assert abs(value - context.mpf(digits)) <= context.mpf(10) ** -34


@pytest.mark.parametrize(
    "text",
    ["1/0", "sqrt(-1)", "log(0)", "log(-1)", "asin(1.01)", "acos(-1.01)", "0**0", "0**(-1)", "(-1)**0.5", "exp(2000)",
     "10**1001", "2**(-1001)", "9**9**9", "atan2(0, 0)", "1e300**4", "1 < 2", "1/(1e300**4)"],
)  # fmt: skip
def test_what_has_no_real_value_of_ordinary_size_is_undefined(text: str) -> None:
    with pytest.raises(Undefined):
        evaluated(parse(text), {}, FINE)


def test_points_are_positive_different_and_always_the_same() -> None:
    places = [coordinate(name, index, FINE) for name in ("a", "b", "tau") for index in range(24)]
    assert len(set(places)) == len(places)
    assert all(0.05 <= place <= 10 for place in places)
    assert float(coordinate("a", 0, FINE)) == pytest.approx(0.7671, abs=1e-4)  # changes with the rule for points


def test_points_where_one_side_has_no_value_are_passed_over() -> None:
    points = list(common_points(parse("sqrt(a - b)"), parse("a")))
    assert points
    assert all(point.names["a"] >= point.names["b"] for point in points)


def test_noise_is_no_difference() -> None:
    small, large = (list(common_points(parse(f"(a + 10**{n}) - 10**{n}"), parse("a"))) for n in (10, 25))
    assert all(point.agrees and not point.differs for point in small)
    assert not any(point.agrees or point.differs for point in large)  # too few figures are left to say either
    assert all(point.differs for point in common_points(parse("a + 1/10**25"), parse("a")))
