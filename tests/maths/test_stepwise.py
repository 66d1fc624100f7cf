"""Every operation rounded: worked by hand, as somebody who writes each of them down."""

import numpy as np
import pytest

from witnessmark.maths.stepwise import each_rounded
from witnessmark.maths.syntax import parse

BY_HAND = [
    ("pi*d**2/4", {"pi": 3.141592653589793, "d": 7.3}, 3, 41.8),  # 53.3 (53.29), 167 (167.4), 41.8 (41.75)
    ("pi*d**2/4", {"pi": 3.141592653589793, "d": 7.3}, 4, 41.85),  # 53.29, 167.4 (167.42), 41.85
    ("a - b*c", {"a": 100.0, "b": 3.337, "c": 3.0}, 2, 90.0),  # 10 (10.011), 90
    ("-sqrt(x)", {"x": 2.0}, 3, -1.41),
    ("x", {"x": 1.23456}, 3, 1.23456),  # what is given is taken as it stands
    ("2", {}, 1, 2.0),
]


@pytest.mark.parametrize(("text", "names", "figures", "result"), BY_HAND)
def test_each_operation_is_rounded_in_the_order_of_the_expression(
    text: str, names: dict[str, float], figures: int, result: float
) -> None:
    values = {name: np.array([value]) for name, value in names.items()}
    assert np.ravel(each_rounded(parse(text), values, figures)).tolist() == pytest.approx([result], rel=1e-12)


def test_a_whole_column_is_worked_at_once_each_by_its_own_numbers() -> None:
    found = each_rounded(parse("a*b"), {"a": np.array([1.111, 2.222]), "b": np.array([3.0, 4.0])}, 2)
    assert found.tolist() == pytest.approx([3.3, 8.9])


def test_a_name_that_is_absent_is_an_error() -> None:
    with pytest.raises(KeyError):
        each_rounded(parse("a*b"), {"a": np.array([1.0])}, 3)
