"""Equality by algebra against identities of Abramowitz and Stegun and DLMF, and sympy's own simplify as a reference."""

import csv
import math
import random
import time
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import sympy
from hypothesis import assume, given
from hypothesis import strategies as st

from searching import examples
from witnessmark.maths.compiled import compiled
from witnessmark.maths.formulas import Same, constant_ratio, equal, proportional, simplified
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, parse, walk

CASES = Path(__file__).parents[1] / "cases" / "equal_formulas.csv"
LONGEST_SECONDS = 1.0
POSITIVE = {n: sympy.Symbol(n, positive=True) for n in "abcd"}


def rows() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return [{key: value.replace(";", ",") for key, value in row.items()} for row in csv.DictReader(file)]


@pytest.mark.parametrize("row", rows(), ids=lambda r: f"{r['first']} and {r['second']}")
def test_two_formulas_are_the_same_or_not_as_published(row: dict[str, str]) -> None:
    first, second = parse(row["first"]), parse(row["second"])
    assert equal(first, second).same == row["same"]
    assert equal(second, first).same == row["same"]


def test_a_difference_is_shown_at_a_point_where_anybody_can_see_it() -> None:
    answer = equal(parse("a + b"), parse("a*b"))
    assert answer.same is Same.NO
    point, values = answer.reason.removeprefix("at ").split(" one is ")
    a, b = (float(part.split("= ")[1]) for part in point.split(", "))
    one, other = (float(v) for v in values.split(" and the other "))
    assert one == pytest.approx(a + b, rel=0.02)
    assert other == pytest.approx(a * b, rel=0.02)


def test_formulas_of_very_many_pieces_are_not_compared() -> None:
    long: Tree = Name("a")
    for _ in range(150):
        long = Binary("+", long, Name("b"))
    assert equal(long, Binary("+", long, Number("0"))).reason == "together they have more than 400 pieces"
    assert proportional(long, Binary("*", long, Number("2"))) is None
    assert constant_ratio(long, Binary("*", long, Number("2"))) is None


@pytest.mark.parametrize(
    ("first", "second", "ratio", "exact"),
    [
        ("tau*pi*(d/2)*t", "tau*pi*d*t", 0.5, "1/2"),  # radius for diameter against half of the right result
        ("pi*d**2/4*t", "d**2*t", math.pi / 4, "pi/4"),  # pi over four left out
        ("a + b", "2*a + 2*b", 0.5, "1/2"),
        ("sqrt(2)*a", "a", math.sqrt(2), "sqrt(2)"),
        ("1/(1/a + 1/b)", "3*a*b/(a + b)", 1 / 3, "1/3"),
        ("sin(2*x)", "sin(x)*cos(x)", 2.0, "2"),
        ("2*max(a, b)", "max(b, a)", 2.0, "2"),
        ("-a", "a", -1.0, "-1"),
        ("a*b", "a*b", 1.0, "1"),
    ],
)
def test_a_fixed_ratio_is_found_as_a_number_and_exactly(first: str, second: str, ratio: float, exact: str) -> None:
    one, other = parse(first), parse(second)
    assert proportional(one, other) == pytest.approx(ratio, rel=1e-12)
    found = constant_ratio(one, other)
    assert found is not None
    assert plain(found) == exact


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("a", "b"),
        ("a + b", "a - b"),
        ("a", "a**2"),
        ("max(a, b)", "a"),
        ("sqrt(a**2 + b**2)", "a + b"),
        ("a", "0*b"),
        ("a", "0"),
        ("log(-a)", "a"),
        ("exp(-1000*a) + b", "a*b"),
    ],
)
def test_a_ratio_that_varies_or_does_not_exist_is_none(first: str, second: str) -> None:
    assert proportional(parse(first), parse(second)) is None
    assert constant_ratio(parse(first), parse(second)) is None


@pytest.mark.parametrize(
    ("long", "short"),
    [
        ("F/(pi*d**2/4)", "4*F/(pi*d**2)"),
        ("2*pi*(d/2)*t*tau", "pi*d*t*tau"),
        ("1/(1/a + 1/b)", "a*b/(a + b)"),
        ("(F/A)/E*L", "F*L/(A*E)"),
        ("tau*(b - a)*2/4", "tau*(b - a)/2"),
        ("x - x", "0"),
        ("tau*d", "tau*d"),
        ("9**9**9", "9**9**9"),  # too large to be worked out: left as it is
    ],
)
def test_a_formula_is_made_shorter_with_its_letters_in_their_order(long: str, short: str) -> None:
    assert plain(simplified(parse(long))) == short


NUMBERS = ["1", "2", "3", "4", "0.5", "7", "12", "180", "97.3"]
leaves: st.SearchStrategy[Tree] = st.sampled_from(
    [*(Name(n) for n in "abcd"), Name("pi"), *(Number(n) for n in NUMBERS)]
)


def grown(inner: st.SearchStrategy[Tree]) -> st.SearchStrategy[Tree]:
    return st.one_of(
        st.builds(Binary, st.sampled_from("+-*/"), inner, inner),
        st.builds(
            Binary, st.just("**"), inner, st.sampled_from([Number("2"), Number("3"), Number("0.5"), Number("1.5")])
        ),
        st.builds(Minus, inner),
        st.builds(
            lambda f, a: Call(f, (a,)), st.sampled_from(["sqrt", "sin", "cos", "exp", "log", "abs", "atan"]), inner
        ),
        st.builds(lambda f, a, b: Call(f, (a, b)), st.sampled_from(["min", "max"]), inner, inner),
    )


trees: st.SearchStrategy[Tree] = st.recursive(leaves, grown, max_leaves=8)


def turned_round(tree: Tree, rng: random.Random) -> Tree:
    """An equal tree: sides swapped, brackets multiplied out, quotients as powers."""
    match tree:
        case Binary(op="*", left=Binary(op="+", left=a, right=b), right=c) if rng.random() < 0.5:
            return Binary("+", turned_round(Binary("*", a, c), rng), turned_round(Binary("*", b, c), rng))
        case Binary(op="+" | "*" as op, left=left, right=right):
            return Binary(op, turned_round(right, rng), turned_round(left, rng))
        case Binary(op="/", left=left, right=right):
            return Binary("*", turned_round(left, rng), Binary("**", turned_round(right, rng), Minus(Number("1"))))
        case Binary(op=op, left=left, right=right):
            return Binary(op, turned_round(left, rng), turned_round(right, rng))
        case Minus(of=of):
            return Binary("*", Minus(Number("1")), turned_round(of, rng))
        case Call(function=function, arguments=arguments):
            return Call(function, tuple(turned_round(a, rng) for a in arguments))
    return tree


@given(tree=trees, seed=st.integers(0, 1000))
@examples(150)
def test_a_formula_turned_round_is_never_called_another(tree: Tree, seed: int) -> None:
    start = time.process_time()
    assert equal(tree, turned_round(tree, random.Random(seed))).same is not Same.NO
    assert time.process_time() - start < 5 * LONGEST_SECONDS


@given(first=trees, other=trees, seed=st.integers(0, 99), turned=st.booleans())
@examples(150)
def test_what_is_called_the_same_has_the_same_values(first: Tree, other: Tree, seed: int, turned: bool) -> None:
    second = turned_round(first, random.Random(seed)) if turned else other
    assume(equal(first, second).same is Same.YES)
    rng = np.random.default_rng(20270305)
    values = {n: rng.uniform(0.1, 5, 400) for n in "abcd"} | {"pi": np.full(400, math.pi)}
    one, two = (np.broadcast_to(compiled(t)(values), 400) for t in (first, second))
    both = np.isfinite(one) & np.isfinite(two) & (np.abs(one) < 1e9) & (np.abs(two) < 1e9)
    assert np.isclose(one[both], two[both], rtol=1e-6, atol=1e-6).all()


def exact(tree: Tree, values: dict[str, Fraction]) -> Fraction:
    match tree:
        case Number(text=text):
            return Fraction(text)
        case Name(name=name):
            return values[name]
        case Binary(op=op, left=left, right=right):
            a, b = exact(left, values), exact(right, values)
            return a + b if op == "+" else a - b if op == "-" else a * b if op == "*" else a / b
    raise TypeError(tree)


@given(first=st.deferred(lambda: rational_trees), second=st.deferred(lambda: rational_trees))
@examples(150)
def test_what_is_called_different_differs_at_exact_fractions(first: Tree, second: Tree) -> None:
    """A name for pi may take any fraction here: pi solves no equation of whole numbers."""
    assume(equal(first, second).same is Same.NO)
    rng = random.Random(20270305)
    differ = 0
    for _ in range(40):
        values = {n: Fraction(rng.randint(1, 10**6), rng.randint(1, 10**6)) for n in (*"abcd", "pi")}
        try:
            differ += exact(first, values) != exact(second, values)
        except ZeroDivisionError:
            continue
    assert differ


@given(tree=trees)
@examples(150)
def test_a_simplified_formula_has_the_same_values(tree: Tree) -> None:
    short = simplified(tree)
    assert sum(1 for _ in walk(short)) <= sum(1 for _ in walk(tree))
    assert parse(plain(short)) is not None
    assert equal(tree, short).same is not Same.NO


def _reference(tree: Tree) -> sympy.Expr:
    match tree:
        case Number(text=text):
            return sympy.Rational(text)
        case Name(name=name):
            return sympy.pi if name == "pi" else POSITIVE[name]
        case Minus(of=of):
            return -_reference(of)
        case Binary(op=op, left=left, right=right):
            a, b = _reference(left), _reference(right)
            return a + b if op == "+" else a - b if op == "-" else a * b if op == "*" else a / b if op == "/" else a**b
    raise TypeError(tree)


rational_trees: st.SearchStrategy[Tree] = st.recursive(
    leaves, lambda inner: st.builds(Binary, st.sampled_from("+-*/"), inner, inner), max_leaves=6
)


@given(first=rational_trees, seed=st.integers(0, 99), other=rational_trees, same=st.booleans())
@examples(60)
def test_rational_formulas_are_judged_as_sympy_judges_them(first: Tree, seed: int, other: Tree, same: bool) -> None:
    second = turned_round(first, random.Random(seed)) if same else other
    reference = sympy.simplify(_reference(first) - _reference(second))
    assume(not reference.has(sympy.zoo, sympy.nan))
    answer = equal(first, second).same
    assume(answer is not Same.UNKNOWN)
    assert (answer is Same.YES) == (reference == 0)


HOSTILE = [
    ("(a + b + c + d)**30", "(a + b + c + d)**15*(d + c + b + a)**15"),
    ("((a + b)**9*(c + d)**9 - 1)**9", "((b + a)**9*(d + c)**9 - 1)**9 + a - a"),
    ("(sin(a) + sin(b) + sin(c))**12", "(sin(c) + sin(b) + sin(a))**12"),
    ("sin(12*a)**12*cos(11*b)**12", "cos(11*b)**12*sin(12*a)**12 + 0*c"),
    ("sin(1000000*a)", "2*sin(500000*a)*cos(500000*a)"),
    ("(1/a + 1/b + 1/c + 1/d)**12", "(1/d + 1/c + 1/b + 1/a)**12 + 0*a"),
    ("9**9**9**9", "a"),
    ("2**30**30", "a"),
    ("((2**30)**30)**30", "a"),
    ("sqrt(" * 30 + "a" + ")" * 30, "a**(1/2**30)"),
    ("exp(exp(exp(exp(a))))", "exp(exp(exp(exp(a)))) + b - b"),
    ("1e300*a", "a*1e300"),
    ("123456789012345678901234567890**0.5*a", "a*sqrt(123456789012345678901234567890)"),
    ("a**b**c**d", "a**(b**(c**d)) + 0"),
    ("max(a, max(b, max(c, d)))", "max(d, max(c, max(b, a)))"),
    ("+".join("abcd" * 14), "14*(a + b + c + d)"),
    ("*".join(f"({x} + {y})" for x in "abcd" for y in "abc"), "*".join(f"({y} + {x})" for x in "abcd" for y in "abc")),
]  # fmt: skip


@pytest.mark.parametrize(("first", "second"), HOSTILE, ids=range(len(HOSTILE)))
def test_nothing_takes_long(first: str, second: str) -> None:
    one, other = parse(first), parse(second)
    for work in (lambda: equal(one, other), lambda: constant_ratio(one, other), lambda: simplified(one)):
        fastest = min(_seconds(work) for _ in range(2))
        assert fastest < LONGEST_SECONDS


def _seconds(work: object) -> float:
    assert callable(work)
    sympy.core.cache.clear_cache()
    start = time.process_time()
    work()
    return time.process_time() - start
