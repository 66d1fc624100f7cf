"""Interval propagation against mpmath.iv, a reference library, and against the values that lie between."""

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.compiled import compiled
from witnessmark.maths.intervals import interval_of
from witnessmark.maths.syntax import Tree, parse

EXPRESSIONS = [
    "a + b", "a - b", "a*b", "a/b", "a**2", "a**3", "a**-2", "sqrt(a)", "a*sqrt(b)", "exp(a/10)", "log(a)", "a**1.5",
    "a/(a + b)", "pi*a**2/4", "(a - b)*(a + b)", "-a", "4*a/(pi*b**2)", "sqrt(a**2 + 3*b**2)", "sin(a)", "cos(b)",
    "tan(a/20)", "atan(a/b)",
]  # fmt: skip
REFERENCE = {
    "sqrt": mpmath.iv.sqrt, "exp": mpmath.iv.exp, "log": mpmath.iv.log, "sin": mpmath.iv.sin, "cos": mpmath.iv.cos,
    "tan": mpmath.iv.tan, "pi": mpmath.iv.mpf([3.14, 22 / 7]),
}  # fmt: skip
NO_REFERENCE = ("atan", "1.5")  # mpmath.iv has no arctangent; a power that is not whole is checked by its values alone

ends = st.tuples(st.floats(0.5, 20), st.floats(1.0, 1.2)).map(lambda e: (e[0], e[0] * e[1]))


@pytest.mark.parametrize("text", [e for e in EXPRESSIONS if not any(n in e for n in NO_REFERENCE)])
@given(a=ends, b=ends)
def test_an_interval_is_the_one_that_mpmath_gives(text: str, a: tuple[float, float], b: tuple[float, float]) -> None:
    names = {"a": mpmath.iv.mpf(list(a)), "b": mpmath.iv.mpf(list(b)), **REFERENCE}
    reference = eval(text, {"__builtins__": {}}, names)
    low, high = interval_of(parse(text))({"a": a, "b": b, "pi": (3.14, 22 / 7)})
    if np.isfinite(low):
        scale = max(abs(float(reference.a)), abs(float(reference.b)), 1e-9)
        assert float(low) == pytest.approx(float(reference.a), abs=1e-9 * scale)
        assert float(high) == pytest.approx(float(reference.b), abs=1e-9 * scale)


@pytest.mark.parametrize("text", EXPRESSIONS)
@given(a=ends, b=ends, at=st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1)))
def test_every_value_between_lies_in_the_interval(
    text: str, a: tuple[float, float], b: tuple[float, float], at: tuple[float, float, float]
) -> None:
    tree: Tree = parse(text)
    pi = (3.14, 22 / 7)
    point = {n: e[0] + s * (e[1] - e[0]) for n, e, s in zip("abp", (a, b, pi), at, strict=True)}
    value = float(compiled(tree)({"a": point["a"], "b": point["b"], "pi": point["p"]}))
    low, high = interval_of(tree)({"a": a, "b": b, "pi": pi})
    room = 1e-9 * max(abs(value), 1e-9)
    assert low - room <= value <= high + room


def test_a_divisor_through_zero_has_no_interval() -> None:
    assert np.isnan(interval_of(parse("1/a"))({"a": (-1.0, 1.0)})).all()


def test_the_top_of_a_sine_between_the_ends_is_found() -> None:
    assert interval_of(parse("sin(a)"))({"a": (1.0, 2.0)})[1] == 1.0


def test_an_even_power_through_zero_starts_at_zero() -> None:
    assert interval_of(parse("a**2"))({"a": (-2.0, 1.0)}) == (0.0, 4.0)
