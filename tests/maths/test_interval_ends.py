"""Which ends of names give an end of an interval: followed by hand on small expressions, and by putting them in."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.compiled import compiled
from witnessmark.maths.interval_ends import End, reaching
from witnessmark.maths.intervals import interval_of
from witnessmark.maths.syntax import parse

LOW, HIGH = End.LOW, End.HIGH
VALUES = {"a": (2.0, 3.0), "b": (4.0, 5.0), "n": (-3.0, -2.0), "z": (-1.0, 2.0), "c": (7.0, 7.0)}
BY_HAND = [
    ("a + b", LOW, {"a": LOW, "b": LOW}),
    ("a - b", LOW, {"a": LOW, "b": HIGH}),
    ("a*n", LOW, {"a": HIGH, "n": LOW}),  # 3 times -3
    ("b/a", HIGH, {"b": HIGH, "a": LOW}),
    ("-a", LOW, {"a": HIGH}),
    ("n**2", HIGH, {"n": LOW}),
    ("a**-2", HIGH, {"a": LOW}),
    ("sqrt(b - a)", LOW, {"b": LOW, "a": HIGH}),
    ("acos(a/4)", LOW, {"a": HIGH}),
    ("c*a", HIGH, {"a": HIGH}),  # c lies nowhere else
    ("max(a, b)", LOW, {"b": LOW}),  # whatever a is
    ("min(a, b)", HIGH, {"a": HIGH}),
    ("abs(n)", LOW, {"n": HIGH}),
    ("atan2(a, b)", HIGH, {"a": HIGH, "b": LOW}),
    ("z*a", LOW, {"z": LOW, "a": HIGH}),
]


@pytest.mark.parametrize(("text", "end", "expected"), BY_HAND, ids=[f"{t} {e}" for t, e, _ in BY_HAND])
def test_the_ends_of_names_are_those_found_by_hand(text: str, end: End, expected: dict[str, End]) -> None:
    found = reaching(parse(text), VALUES, end)
    assert (dict(found.ends), found.between, found.both) == (expected, frozenset(), frozenset())


def test_an_extreme_between_the_ends_is_said_to_lie_between() -> None:
    assert reaching(parse("z**2"), VALUES, LOW).between == {"z"}
    assert reaching(parse("abs(z) + a"), VALUES, LOW).between == {"z"}
    assert reaching(parse("sin(b/3)"), VALUES, HIGH).between == {"b"}  # the top lies at b = 3 pi/2
    assert reaching(parse("z**2"), VALUES, HIGH).between == frozenset()


def test_a_name_that_would_have_to_be_at_both_ends_is_told() -> None:
    assert reaching(parse("a/(a + b)"), VALUES, LOW).both == {"a"}
    assert reaching(parse("a*a"), VALUES, LOW).both == frozenset()
    assert dict(reaching(parse("a*a"), VALUES, LOW).ends) == {"a": LOW}


def test_a_point_is_reached_without_any_choice() -> None:
    assert reaching(parse("2*c"), VALUES, LOW).ends == ()


ONCE = [
    "a + b - d", "a*b/d", "a**2*b", "sqrt(a/b) - d", "(a - b)*d", "a*sin(b)", "cos(a)/b", "exp(-a/10)*b", "log(b) - a",
    "a**1.5/d", "max(a, b)*d", "min(a - b, d)", "abs(a - b)*d", "atan(a/b)", "asin(a/40)", "atan2(a, b) + d", "d - -a",
]  # fmt: skip
spans = st.tuples(st.floats(0.5, 20), st.floats(1.0, 1.1)).map(lambda e: (e[0], e[0] * e[1]))


@pytest.mark.parametrize("text", ONCE)
@given(a=spans, b=spans, d=spans)
def test_the_ends_of_names_put_in_give_the_end_of_the_interval(
    text: str, a: tuple[float, float], b: tuple[float, float], d: tuple[float, float]
) -> None:
    values, tree = {"a": a, "b": b, "d": d}, parse(text)
    span = interval_of(tree)(values)
    for end, wanted in zip(End, span, strict=True):
        found = reaching(tree, values, end)
        assert found.both == frozenset()
        if not found.between:
            chosen = {n: ends[0] for n, ends in values.items()} | {
                n: values[n][0 if e is LOW else 1] for n, e in found.ends
            }
            scale = max(*np.abs(span), 1e-9)
            assert float(compiled(tree)(chosen)) == pytest.approx(float(wanted), abs=1e-12 * scale)
