"""Interval propagation against outside references: mpmath.iv, operation by operation, over every step of the bank and
over each kind of operation; and what the GUM prints of its own example.

mpmath.iv has nothing of its own for atan, asin, acos, atan2, min, max, and its tan is a quotient of intervals, wider
than tan is on both sides of nothing. There the ends are its ordinary functions at 30 digits, at the ends of the
operands, since those functions only rise or only fall in each operand (tan between two poles).
"""

import math
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bank_fixture import BANK
from marking.students import CALCULATED
from searching import every, examples
from witnessmark.maths.intervals import interval_of
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, parse, walk
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.working.working import envelopes

iv = mpmath.iv
Span = tuple[float, float]
PI, G = (3.14, 22 / 7), (9.8, 9.81)


def corners(function: Callable[..., Any]) -> Callable[..., Any]:
    """An interval function from an ordinary one that only rises or only falls in each of its operands."""

    def run(*operands: Any) -> Any:
        with mpmath.workdps(30):
            sides = [(mpmath.mpf(x.a), mpmath.mpf(x.b)) for x in operands]
            if len(sides) == 1:
                found = [function(x) for x in sides[0]]
            else:
                found = [function(x, y) for x in sides[0] for y in sides[1]]
            return iv.mpf([min(found), max(found)])

    return run


def tangent(angle: Any) -> Any:
    """The interval of tan, which rises from pole to pole: its values at both ends, or everything across a pole."""
    with mpmath.workdps(30):
        half_turns = {mpmath.floor((mpmath.mpf(end) + mpmath.pi / 2) / mpmath.pi) for end in (angle.a, angle.b)}
    return corners(mpmath.tan)(angle) if len(half_turns) == 1 else iv.mpf([-mpmath.inf, mpmath.inf])


CALLS: dict[str, Callable[..., Any]] = {
    "sqrt": iv.sqrt, "exp": iv.exp, "log": iv.log, "sin": iv.sin, "cos": iv.cos, "tan": tangent, "abs": abs,
    "atan": corners(mpmath.atan), "asin": corners(mpmath.asin), "acos": corners(mpmath.acos),
    "atan2": corners(mpmath.atan2), "min": corners(min), "max": corners(max),
}  # fmt: skip


def reference(tree: Tree, values: Mapping[str, Any]) -> Any:
    """The interval of a tree by mpmath, one operation at a time."""
    match tree:
        case Number(text=text):
            return iv.mpf(float(text))
        case Name(name=name):
            return values[name]
        case Minus(of=of):
            return -reference(of, values)
        case Binary(op="**", left=left, right=right):
            base, exponent = reference(left, values), exponent_of(right)
            return base**exponent if exponent is not None else base ** reference(right, values)
        case Binary(op=op, left=left, right=right):
            x, y = reference(left, values), reference(right, values)
            return {"+": lambda: x + y, "-": lambda: x - y, "*": lambda: x * y, "/": lambda: x / y}[op]()
        case Call(function=function, arguments=arguments):
            return CALLS[function](*(reference(a, values) for a in arguments))
    raise TypeError(tree)


def exponent_of(tree: Tree) -> int | None:
    """A whole exponent, which mpmath raises to without logarithms."""
    if isinstance(tree, Minus) and (inner := exponent_of(tree.of)) is not None:
        return -inner
    return int(tree.value) if isinstance(tree, Number) and tree.value.is_integer() else None


def compare(tree: Tree, spans: Mapping[str, Span], room: float = 1e-12) -> bool:
    """Both ends are the reference's; False where the reference has none (a pole, or out of domain)."""
    values = {name: iv.mpf([low, high]) for name, (low, high) in spans.items()}
    found = reference(tree, values)
    low, high = (float(x) for x in interval_of(tree)(spans))
    ends = float(found.a), float(found.b)
    if not all(map(math.isfinite, ends)) or not math.isfinite(low):
        return False
    scale = max(
        float(abs(reference(node, values)).b) for node in walk(tree)
    )  # a difference keeps the error of its terms
    assert (low, high) == pytest.approx(ends, rel=0, abs=room * scale), tree
    return True


# What each kind of operation is given: spans above nothing, on either side of nothing, and through it.
above = st.tuples(st.floats(0.1, 50), st.floats(1, 1.5)).map(lambda e: (e[0], e[0] * e[1]))
either = st.tuples(st.floats(-50, 50), st.floats(0, 30)).map(lambda e: (e[0], e[0] + e[1]))
share = st.tuples(st.floats(-0.99, 0.9), st.floats(0, 0.09)).map(lambda e: (e[0], e[0] + e[1]))

OF_EITHER_SIGN = [
    "a + b", "a - b", "a - b - a/7", "-a + b - 3", "a*b", "a*b*a", "a**2", "a**3", "a**4 - b**2", "a**5", "abs(a)",
    "abs(a - b)", "min(a, b)", "max(a, b)", "max(a, 0)*b", "min(a - b, b)", "exp(a/10)", "sin(a)", "cos(a)",
    "sin(a) - cos(b)", "a*sin(b)", "atan(a)", "atan(a - b)", "(a + b)*(a - b)", "2*a - 3*b",
]  # fmt: skip
OF_ABOVE = [
    "a/b", "a/(a + b)", "a**-1", "a**-2", "a**-3", "a**1.5", "a**0.5", "a**(1/3)", "a**-0.5", "sqrt(a)", "sqrt(a)*b",
    "sqrt(a**2 + 3*b**2)", "(a/b)**0.25", "log(a)", "log(a/b)", "a**3/(48*b)", "atan2(a, b)", "tan(a/40)",
    "4*a/(pi*b**2)", "pi*(a**4 - b**4)/32", "a*exp(-b/20)", "g*a*b", "min(a, b)/max(a, b)", "b - sqrt(a)",
]  # fmt: skip
OF_SHARES = ["asin(a)", "acos(a)", "asin(a) + acos(b)", "acos(a*b)", "tan(asin(a/2))"]


@pytest.mark.parametrize("text", OF_EITHER_SIGN)
@examples(40)
@given(a=either, b=either)
def test_an_operation_on_spans_of_either_sign_is_that_of_mpmath(text: str, a: Span, b: Span) -> None:
    compare(parse(text), {"a": a, "b": b}, 1e-9)


@pytest.mark.parametrize("text", OF_ABOVE)
@examples(40)
@given(a=above, b=above)
def test_an_operation_on_spans_above_nothing_is_that_of_mpmath(text: str, a: Span, b: Span) -> None:
    compare(parse(text), {"a": a, "b": b, "pi": PI, "g": G}, 1e-9)


@pytest.mark.parametrize("text", OF_SHARES)
@examples(40)
@given(a=share, b=share)
def test_an_angle_of_a_share_is_that_of_mpmath(text: str, a: Span, b: Span) -> None:
    compare(parse(text), {"a": a, "b": b}, 1e-9)


def test_the_reference_of_a_tangent_is_tight_and_breaks_off_at_a_pole() -> None:
    # tan(-pi/6) = -1/sqrt(3) and tan(pi/3) = sqrt(3): the table of exact values of every schoolbook
    angle = iv.mpf([-math.pi / 6, math.pi / 3])
    found = tangent(angle)
    assert (float(found.a), float(found.b)) == pytest.approx((-1 / math.sqrt(3), math.sqrt(3)), rel=1e-14)
    assert float(iv.tan(angle).a) < -0.99  # mpmath's own: the sine of one end over the cosine of the other
    assert not math.isfinite(float(tangent(iv.mpf([1.5, 1.6])).b))


@cache
def steps_of(key: str) -> list[tuple[Tree, dict[str, Span]]]:
    """Every line and result of a drawn variant, with the spans it is worked from: those of earlier steps as issued."""
    question = BANK[key]
    variant = question.draw(f"interval steps|{key}")
    bounds = {k: tuple(float(np.ravel(e)[0]) for e in v) for k, v in envelopes(question, variant.columns, 3).items()}
    names: dict[str, Any] = {c.name: (c.low, c.high) for c in CONSTANTS.values()}
    names |= {name: (value, value) for name, value in variant.values.items()}
    found = []
    for part in question.quantities:
        if part.answer is not None:
            own = dict(names)
            for line in part.lines:
                found.append((line.value, dict(own)))
                own[line.name] = bounds[f"{part.key}.{line.name}"]
            found.append((part.answer, dict(own)))
            names |= dict.fromkeys(names_of(part), bounds[part.key])
    return found


@pytest.mark.parametrize("key", every(CALCULATED, 4))
def test_every_step_of_a_question_has_the_interval_that_mpmath_gives(key: str) -> None:
    assert all(compare(tree, spans) for tree, spans in steps_of(key))


@pytest.mark.deep
def test_all_steps_of_the_bank_are_compared_and_they_are_many_of_every_kind() -> None:
    steps = [step for key in CALCULATED for step in steps_of(key)]
    assert all(compare(tree, spans) for tree, spans in steps)
    trees = [tree for tree, _ in steps]
    assert len(CALCULATED) >= 60
    assert len(trees) >= 230
    nodes = [node for tree in trees for node in walk(tree)]
    signs = {node.op for node in nodes if isinstance(node, Binary)}
    assert signs == {"+", "-", "*", "/", "**"}
    assert len([node for node in nodes if isinstance(node, Binary | Call | Minus)]) >= 440


# JCGM 100:2008 (GUM), annex H.1, end gauge: l = l_s + d - l_s (d_alpha theta + alpha_s d_theta). Values and standard
# uncertainties of the inputs, and what each adds to l in nanometres, as printed in table H.1 (from memory, and found in
# a secondary source).
GAUGE = parse("ls + d - ls*(da*th + al*dth)")
INPUTS = {"ls": 50.000623e-3, "d": 215e-9, "al": 11.5e-6, "th": -0.1, "da": 0.0, "dth": 0.0}
UNCERTAINTIES = {"ls": 25e-9, "d": 9.7e-9, "al": 1.2e-6, "th": 0.41, "da": 0.58e-6, "dth": 0.029}
ADDED = {"ls": 25.0, "d": 9.7, "al": 0.0, "th": 0.0, "da": 2.9, "dth": 16.6}


@pytest.mark.parametrize(("name", "added"), ADDED.items())
def test_one_input_of_the_end_gauge_adds_what_the_gum_prints(name: str, added: float) -> None:
    spans = {n: (x, x) for n, x in INPUTS.items()}
    spans[name] = (INPUTS[name] - UNCERTAINTIES[name], INPUTS[name] + UNCERTAINTIES[name])
    low, high = interval_of(GAUGE)(spans)
    assert (high - low) / 2 * 1e9 == pytest.approx(added, abs=0.1)  # 16.675 is printed as 16.6


def test_all_inputs_of_the_end_gauge_together_reach_farther_than_their_combined_uncertainty() -> None:
    spans = {n: (x - UNCERTAINTIES[n], x + UNCERTAINTIES[n]) for n, x in INPUTS.items()}
    low, high = interval_of(GAUGE)(spans)
    assert low < 50.000838e-3 < high  # l as printed
    assert (high - low) / 2 * 1e9 > 32  # u_c as printed; all at their ends at once is more than the root of the squares
    # to first order the sum of what each adds; two products of second order (al dth, da th) come on top
    first = sum(ADDED.values())
    second = 50.000623e6 * (1.2e-6 * 0.029 + 0.58e-6 * 0.41)
    assert (high - low) / 2 * 1e9 == pytest.approx(first + second, abs=0.2)


def test_a_force_from_values_known_to_half_a_digit_spreads_as_the_gum_says() -> None:
    # check 9.7: d 20 +- 0.5 mm, t 25 +- 0.5 mm, tau 350 +- 5 MPa in pi d t tau; GUM 4.3.7 takes a/sqrt(3) of each
    spans = {"d": (19.5, 20.5), "t": (24.5, 25.5), "tau": (345.0, 355.0), "pi": (math.pi, math.pi)}
    low, high = interval_of(parse("pi*d*t*tau"))(spans)
    shares = (0.5 / 20, 0.5 / 25, 5 / 350)
    middle = math.pi * 20 * 25 * 350
    assert (low / middle, high / middle) == pytest.approx(
        (math.prod(1 - s for s in shares), math.prod(1 + s for s in shares))
    )
    combined = math.sqrt(sum(s * s for s in shares) / 3)
    assert combined == pytest.approx(0.0202, abs=5e-5)
    assert (high - low) / 2 / middle > combined
