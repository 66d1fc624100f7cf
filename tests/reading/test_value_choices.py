"""A choice between printed values: named by letter, by the value in any unit, or by both."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.value_choices import read_value_choice

OPTIONS = ("94.2\u00a0kN", "23.6\u00a0kN", "12\u202f500\u00a0kN", "1.26\u00a0×\u00a010⁷\u00a0kN", "188\u00a0kN")
ROWS = [
    line.split("|")
    for line in (Path(__file__).parents[1] / "cases" / "typed_value_choices.txt")
    .read_text(encoding="utf-8")
    .split("\n")
    if line and not line.startswith("#")
]
UNITS = ("kN", "mm^2", "MPa", "", "percent", "deg", "degC", "N*m", "m/s")


@pytest.mark.parametrize(("typed", "option"), ROWS)
def test_what_is_typed_names_the_option_that_a_reader_would_take_it_for(typed: str, option: str) -> None:
    reading = read_value_choice(typed, OPTIONS, "kN")
    found = reading.certainty.value if reading.index is None else "abcde"[reading.index]
    assert found == option, reading


@given(st.lists(st.floats(0.0001, 1e8), min_size=2, max_size=6), st.sampled_from(UNITS), st.data())
def test_an_option_as_printed_is_always_read_as_itself(values: list[float], unit: str, data: st.DataObject) -> None:
    apart = [v for i, v in enumerate(values) if all(abs(v / w - 1) > 0.02 for w in values[:i])]
    options = [quantity_text(value, unit, 3) for value in apart]
    index = data.draw(st.integers(0, len(options) - 1))
    reading = read_value_choice(options[index], options, unit)
    assert (reading.index, reading.certainty) == (index, Certainty.CERTAIN)


def test_temperatures_near_nought_are_told_apart_as_they_are_printed() -> None:
    printed = [quantity_text(value, "degC", 3) for value in (1.0, 0.5)]
    assert [read_value_choice(option, printed, "degC").index for option in printed] == [0, 1]


@given(st.text(max_size=40))
def test_nothing_typed_raises_an_error(text: str) -> None:
    reading = read_value_choice(text, OPTIONS, "kN")
    assert reading.index is None or 0 <= reading.index < len(OPTIONS)
