"""Which names have a say in the ratio of two formulas."""

import pytest

from witnessmark.maths.dependence import names_of_ratio
from witnessmark.maths.syntax import parse


@pytest.mark.parametrize(
    ("one", "other", "names"),
    [
        ("k*d**2", "d", {"d", "k"}),
        ("d/2", "d", set()),
        ("a*L - b*L", "(a + b)/2*L", {"a", "b"}),
        ("a*L - b*L", "a - b", {"L"}),
        ("P/eta", "P*eta", {"eta"}),
        ("pi*d**2/4", "d**2", {"pi"}),
        ("3", "4", set()),
    ],
)  # fmt: skip
def test_what_cancels_from_a_ratio_has_no_say_in_it(one: str, other: str, names: set[str]) -> None:
    assert names_of_ratio(parse(one), parse(other)) == names


def test_every_name_is_told_where_the_ratio_is_no_number() -> None:
    assert names_of_ratio(parse("sqrt(-a)*b"), parse("b")) == {"a", "b"}
