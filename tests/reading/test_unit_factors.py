"""Conversion factors of typed units against printed tables and scipy.constants; the source stands beside each row."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest
from scipy import constants

from witnessmark.maths.quantities import from_si
from witnessmark.reading.quantity.entries import read_quantity

TABLE = Path(__file__).parents[1] / "cases" / "unit-factors.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
IN_SCIPY = [row for row in ROWS if row["scipy"]]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['entry']} in {row['asked_unit']}: {row['printed']}")
def test_a_factor_agrees_with_the_printed_one_to_its_last_digit(row: dict[str, str]) -> None:
    printed = Decimal(row["printed"])
    half_a_digit = Decimal(5).scaleb(int(printed.as_tuple().exponent) - 1)
    got = Decimal(from_si(read_quantity(row["entry"], row["asked_unit"]).readings[0].si, row["asked_unit"]))
    assert abs(got - printed) <= half_a_digit * Decimal("1.000001")


@pytest.mark.parametrize("row", IN_SCIPY, ids=lambda row: f"{row['entry']}: scipy.constants.{row['scipy']}")
def test_a_factor_agrees_with_scipy(row: dict[str, str]) -> None:
    # scipy multiplies binary numbers and is an ulp or two off in places
    got = read_quantity(row["entry"], row["asked_unit"]).readings[0].si
    assert got == pytest.approx(getattr(constants, row["scipy"]), rel=1e-14)


def test_a_degree_fahrenheit_of_difference_agrees_with_scipy() -> None:
    got = read_quantity("1 1/degF", "1/K").readings[0].si
    assert 1 / got == pytest.approx(constants.degree_Fahrenheit, rel=1e-14)


def test_the_ice_point_agrees_with_scipy() -> None:
    assert read_quantity("0 °C", "K").readings[0].si == constants.zero_Celsius
