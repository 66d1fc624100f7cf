"""Repairs are plain sentences, and tell whether they teach something."""

import re

import pytest

from reading.reading_cases import ALL
from witnessmark.reading.quantity.entries import Reading, read_quantity
from witnessmark.reading.result import teaches


def said(reading: Reading) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*reading.repairs, *(r for c in reading.readings for r in c.repairs))))


def test_every_repair_of_every_row_is_one_plain_sentence() -> None:
    for case in ALL:
        for sentence in said(case.reading):
            assert re.match(r"[A-ZÀ-Þπ]|\S+( \S+)* was read as ", sentence), sentence
            assert sentence.endswith("."), sentence
            assert "\n" not in sentence


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ("70 KN", "KN was read as kN: small letters and capitals differ in units."),
        ("70 kn", "kn was read as kN: small letters and capitals differ in units."),
        ("70 k N", "k N was read as kN."),
        ("7.0 x 10 4 N", "The number after 10 was read as its power."),
        ("7O kN", "The letter O in 7O was read as a nought."),
    ],
)
def test_a_repair_of_a_unit_or_a_number_teaches(entry: str, sentence: str) -> None:
    (repair,) = said(read_quantity(entry, "kN"))
    assert repair == sentence
    assert teaches(repair)


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ("about 70 kN", "Left out before the number: about."),
        ("70 kN (approx)", "Left out after the unit: (approx)."),
        ("70,5 kN", "The comma was read as a decimal point."),
        ("–70 kN", "The dash was read as a minus sign."),
        ("７０ kN", "Digits of another script were read as 0 to 9."),
    ],
)
def test_a_repair_that_only_tidies_up_does_not_teach(entry: str, sentence: str) -> None:
    (repair,) = said(read_quantity(entry, "kN"))
    assert repair == sentence
    assert not teaches(repair)


def test_mega_or_milli_is_chosen_by_the_size_expected_and_said() -> None:
    large, small = (read_quantity("5 mn", "N", size) for size in (5e6, 5e-3))
    assert [c.unit for c in large.readings] == ["MN"]
    assert [c.unit for c in small.readings] == ["mN"]
    assert said(large) == ("mn was read as MN: small letters and capitals differ in units.",)


def test_a_right_milli_is_kept_beside_the_mega_that_is_plausible() -> None:
    reading = read_quantity("891.2 mPa", "MPa", 891.2e6)
    assert [c.unit for c in reading.readings] == ["mPa", "MPa"]
    assert reading.certainty == "ambiguous"


def test_candidates_are_quantities_in_the_unit_typed_or_asked() -> None:
    assert [str(q.units) for q in read_quantity("70 000 N", "kN").candidates] == ["N"]
    assert [str(q.units) for q in read_quantity("70", "kN").candidates] == ["kN"]
    assert read_quantity("70 kN", "N").candidates[0].to("N").magnitude == pytest.approx(70_000)


def test_a_missing_unit_is_recorded_and_a_pure_number_lacks_none() -> None:
    assert read_quantity("70", "kN").unit_missing
    assert not read_quantity("70 kN", "kN").unit_missing
    assert not read_quantity("0.0012", "").unit_missing
    assert not read_quantity("", "kN").unit_missing


def test_a_wrong_dimension_keeps_its_value_and_its_unit() -> None:
    reading = read_quantity("70 kg", "kN")
    (candidate,) = reading.readings
    assert (candidate.unit, candidate.si, candidate.dimension_fits) == ("kg", 70.0, False)
    assert str(reading.candidates[0].units) == "kg"


def test_a_capital_prefix_is_never_a_small_one_however_well_the_size_would_fit() -> None:
    assert read_quantity("3.50 x 10^10 Mpa", "MPa", 3.5e7).readings[0].unit == "MPa"
    assert read_quantity("3.50 x 10^10 mpa", "MPa", 3.5e7).readings[0].unit == "mPa"
