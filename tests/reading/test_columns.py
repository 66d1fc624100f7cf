"""A column read at once is the same as its entries read one by one."""

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reading.reading_cases import ALL, CASES
from searching import examples
from witnessmark.maths.quantities import unit
from witnessmark.reading.column.columns import CODES, WORTH_SCANNING, ColumnReading, read_column
from witnessmark.reading.quantity.entries import Reading, read_quantity
from witnessmark.words.errors import UnitError

HOSTILE = (CASES / "hostile_entries.txt").read_text(encoding="utf-8").splitlines()
ASKED = sorted({c.asked for c in ALL})
OTHERS = tuple(map(str, range(WORTH_SCANNING)))  # beside which a few entries are read together too
SIGNS_OF_QUANTITIES = "0123456789.,'- +eExX×*/^²µΩ°kNmMPagsTC()=~:½π\u0667\u041a\u00a0\n"


def assert_same(texts: Sequence[str], asked: str, plausible: float | None = None) -> None:
    for some in (texts, [*texts, *OTHERS]) if len(texts) < WORTH_SCANNING else (texts,):
        expected = None if plausible is None else np.full(len(some), plausible)
        column = read_column(some, asked, expected)
        for i, text in enumerate(texts):
            assert_same_row(column, i, text, asked, plausible)


def assert_same_row(column: ColumnReading, i: int, text: str, asked: str, plausible: float | None) -> None:
    reading = read_quantity(text, asked, plausible)
    assert CODES[column.certainty[i]] == reading.certainty, text
    assert column.reading(i) == reading
    for j, c in enumerate(reading.readings):
        row = (column.si[i, j], column.number[i, j], column.figures[i, j], column.scale[i, j], column.offset[i, j])
        assert row == (c.si, float(c.digits), c.figures, c.scale, c.offset), text
        assert (column.unit_missing[i, j], column.dimension_fits[i, j]) == (c.unit_missing, c.dimension_fits), text
        assert column.pointed[i, j] == c.pointed, text
    beyond = len(reading.readings)
    assert np.isnan(column.si[i, beyond:]).all()
    assert np.isnan(column.number[i, beyond:]).all()
    assert not column.dimension_fits[i, beyond:].any()


@pytest.mark.parametrize("asked", ASKED)
def test_a_column_of_the_entries_of_a_unit_is_read_as_one_by_one(asked: str) -> None:
    assert_same([c.entry for c in ALL if c.asked == asked], asked)


@pytest.mark.parametrize("asked", ["kN", "MPa", "deg", "percent", "degC", "rpm", ""])
def test_a_column_of_every_known_entry_is_read_as_one_by_one(asked: str) -> None:
    assert_same([c.entry for c in ALL], asked, 891.2e6)


def test_a_column_of_the_hostile_corpus_is_read_as_one_by_one() -> None:
    for asked in ("kN", "mm^2", "deg", "", "percent"):
        assert_same(HOSTILE, asked)


@given(st.lists(st.text(SIGNS_OF_QUANTITIES, max_size=14), max_size=6), st.sampled_from(ASKED))
@examples(200)
def test_any_column_is_read_as_one_by_one(texts: list[str], asked: str) -> None:
    assert_same(texts, asked)


NUMBERS = st.one_of(
    st.decimals(-(10**7), 10**7, places=3).map(str),
    st.floats(allow_nan=False, allow_infinity=False).map(repr),
    st.integers(-(10**18), 10**18).map(str),
    st.integers(-(10**9), 10**9).map(lambda n: f"{n:,}"),
    st.integers(-(10**9), 10**9).map(lambda n: f"{n:,}".replace(",", " ")),
    st.floats(1e-9, 1e9).map(lambda x: f"{x:.3e}"),
    st.floats(1e-9, 1e9).map(lambda x: f"{x:.2f}".replace(".", ",")),
    st.floats(1e-9, 1e9).map(lambda x: "{} x 10^{}".format(*f"{x:.3e}".split("e"))),
)
HEADS = st.sampled_from(
    ["", "", "", "F = ", "F=", "about ", "~", "=", "≈", "Ans: ", "F ", "-", "−", "Ø", "(", "F (kN) = "]
)
TAILS = st.sampled_from(
    ["", " kN", "kN", " KN", " N", " kn", " mn", " kg", " kNm", " (approx)", " kN kN", " /m", " ", ".", "..", ")",
     " kN or 7", " °", " 1/2 m", "l", "O", "e", " k N", " N/mm²", "\u00a0N"]
)  # fmt: skip


@given(
    st.lists(st.tuples(HEADS, NUMBERS, TAILS).map("".join), max_size=8),
    st.sampled_from(["kN", "MPa", "deg", "percent", ""]),
)
@examples(200)
def test_any_column_of_numbers_with_something_around_them_is_read_as_one_by_one(texts: list[str], asked: str) -> None:
    assert_same(texts, asked)


def test_the_size_expected_is_that_of_each_row() -> None:
    column = read_column(["5 mn", "5 mn"], "N", np.array([5e6, 5e-3]))
    assert column.si[:, 0].tolist() == [5e6, 5e-3]


def test_an_empty_column_has_no_rows() -> None:
    column = read_column([], "kN")
    assert column.si.shape == (0, 1)
    assert column.certainty.shape == (0,)


def test_a_column_without_plain_entries_and_one_of_blanks_are_read() -> None:
    column = read_column(["", "don't know", "-"], "kN")
    assert column.is_blank.tolist() == [True, False, True]
    assert column.is_unreadable.tolist() == [False, True, False]
    assert column.si.shape == (3, 1)


def test_entries_with_line_ends_and_lone_surrogates_are_read() -> None:
    assert_same(["70 kN\n80 kN", "70 kN", "\ud800", "70\nkN"], "kN")


def test_every_entry_of_a_long_column_is_read() -> None:
    texts = [f"{i}.5 kN" if i % 3 else f"{i},5 kN" for i in range(70_000)]
    column = read_column(texts, "kN")
    assert np.array_equal(column.si[:, 0], (np.arange(70_000) + 0.5) * 1e3)


def test_an_asked_unit_that_is_none_is_an_error_of_the_program() -> None:
    with pytest.raises(UnitError):
        read_column(["70 kN"], "kiloNewton")


def test_the_si_value_is_number_times_scale_plus_offset() -> None:
    column = read_column(["20 °C", "68 °F", "293.15 K"], "degC")
    value = column.number * column.scale + column.offset
    assert np.array_equal(column.si, value)
    assert math.isclose(column.si[1, 0], 20 + unit("degC").offset, rel_tol=1e-14)


def test_entries_that_repeat_are_read_as_each_alone() -> None:
    texts = ["70.5 kN", "70,5 kn", "", "seventy", "1/2 kN", "7.05e4 N", "70.5", "12 or 13 kN"] * 40
    column = read_column(texts, "kN")
    alone = [read_column([text], "kN") for text in texts]
    for name in ("si", "number", "figures", "scale", "unit_missing", "dimension_fits"):
        together = getattr(column, name)[:, 0]
        assert np.array_equal(together, [getattr(one, name)[0, 0] for one in alone], equal_nan=True), name
    assert column.certainty.tolist() == [int(one.certainty[0]) for one in alone]


def test_each_entry_has_its_own_reading_and_a_text_is_read_once_wherever_the_same_is_expected(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    read: list[tuple[str, float | None]] = []

    def noted(text: str, asked: str, expected: float | None) -> Reading:
        read.append((text, expected))
        return read_quantity(text, asked, expected)

    texts, sizes = ["5 mn", "70 kN", "5 mn", "5 mn", "70 kN"], np.array([5e6, 5e6, 5e-3, 5e6, 5e6])
    column = read_column(texts, "N", sizes)
    monkeypatch.setattr("witnessmark.reading.column.columns.read_quantity", noted)
    found = list(column.readings(np.array([0, 2, 3, 4])))
    assert [i for i, _ in found] == [0, 2, 3, 4]
    for i, reading in found:
        assert reading == read_quantity(texts[i], "N", float(sizes[i]))
    assert read == [("5 mn", 5e6), ("5 mn", 5e-3), ("70 kN", 5e6)]
