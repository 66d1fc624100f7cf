"""A formula made by machine, put in order: the same number for the same values, and as a person would write it."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, parse
from witnessmark.maths.tidying import tidied

VALUES = {"d": 0.02, "t": 0.005, "tau": 3e8, "n": 4.0}
CASES = [
    ("tau*(4*(d*t))", "4*tau*d*t"),
    ("2*(d/2)*d", "d**2"),
    ("tau*pi*d**2/4", "tau*pi*d**2/4"),
    ("tau*pi*(d/2)*t*2", "tau*pi*d*t"),
    ("tau*(pi*d*t)/2/2", "tau*pi*d*t/4"),
    ("d*t/d", "t"),
    ("d/d", "1"),
    ("1/(d*t)", "1/(d*t)"),
    ("1000*(d*t)/10", "100*d*t"),
    ("d*3/2", "3*d/2"),
    ("0.5*d", "d/2"),
    ("1.5*d", "1.5*d"),
    ("sqrt(4*(d*d))", "sqrt(4*d**2)"),
    ("(d + 1*t)*2", "2*(d + t)"),
    ("d*(d + t)*(d + t)", "d*(d + t)**2"),
    ("d*n**1", "d*n"),
]


@pytest.mark.parametrize(("text", "tidy"), CASES)
def test_products_are_put_in_order(text: str, tidy: str) -> None:
    assert plain(tidied(parse(text))) == tidy


NUMBERS = st.sampled_from(["1", "2", "4", "0.5", "12", "1e3", "3.14"]).map(Number)
LEAVES = st.one_of(NUMBERS, st.sampled_from([*VALUES, "pi"]).map(Name))


def _grown(inner: st.SearchStrategy[Tree]) -> st.SearchStrategy[Tree]:
    powers = st.sampled_from(["1", "2", "3"]).map(Number)
    return st.one_of(
        st.builds(Binary, st.sampled_from("*/+*/"), inner, inner), st.builds(Binary, st.just("**"), inner, powers),
        st.builds(Minus, inner), st.builds(Call, st.just("sqrt"), st.tuples(inner)),
    )  # fmt: skip


@given(st.recursive(LEAVES, _grown, max_leaves=9))
def test_the_formula_gives_the_same_number(tree: Tree) -> None:
    names = {**VALUES, "pi": math.pi}
    before, after = float(compiled(tree)(names)), float(compiled(tidied(tree))(names))
    assume(math.isfinite(before))
    assert after == pytest.approx(before, rel=1e-9)


@given(st.recursive(LEAVES, _grown, max_leaves=9))
def test_putting_in_order_again_changes_nothing(tree: Tree) -> None:
    assert tidied(tidied(tree)) == tidied(tree)
