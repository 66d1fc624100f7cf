"""Tables of measured data: drawn with a scatter of the student's own, and read as an instrument reads."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.files.bank.derived_text import focused
from witnessmark.files.bank.fault_text import question_set
from witnessmark.questions.checking.levels import steps
from witnessmark.questions.drawing.draw import draw, draw_all
from witnessmark.questions.sheet.right_texts import given_texts
from witnessmark.questions.sheet.variant import Variant, variant_of

PLATE, ROD, MAT = (BANK[key] for key in ("hardness-of-a-plate", "pull-on-a-rod", "heating-mat"))


@pytest.fixture(scope="module")
def rods() -> tuple[Variant, ...]:
    """The rods of a class of twelve."""
    return tuple(draw_all(ROD, {f"A{n:02}": f"rods|A{n:02}|1" for n in range(12)}, frozenset()).values())


def numbers(variant: Variant, column: str) -> list[Decimal]:
    assert variant.question.table is not None
    return [variant.shown[f"{column}_{row}"].number for row in range(1, variant.question.table.rows + 1)]


def test_every_reading_lies_within_the_scatter_of_its_law_and_half_a_step(rods: tuple[Variant, ...]) -> None:
    for variant in rods:
        values, given = variant.values, variant.given
        area = 3.141592653589793 * values["D"] ** 2 / 4
        for row, reading in enumerate(numbers(variant, "x"), 1):
            law = values["x_0"] + values[f"F_{row}"] * values["L"] / (values["E"] * area)
            assert abs(float(reading) - law * 1e6) <= 3.5 + 1e-9
            assert given[f"F_{row}"].magnitude == pytest.approx(row * given["f"].magnitude)


def test_readings_are_multiples_of_their_step_and_keep_its_last_place(rods: tuple[Variant, ...]) -> None:
    for variant in rods:
        assert all(reading % 1 == 0 for reading in numbers(variant, "x"))
    voltages = numbers(draw(MAT, "mats|A01|1"), "U")
    assert all(reading.as_tuple().exponent == -1 for reading in voltages)


def test_no_two_of_a_class_have_the_same_readings_and_the_same_seed_gives_the_same(rods: tuple[Variant, ...]) -> None:
    assert len({tuple(numbers(variant, "x")) for variant in rods}) == len(rods)
    assert draw(PLATE, "again|A01|1").shown == draw(PLATE, "again|A01|1").shown


def test_two_sheets_that_print_the_same_are_the_same_whatever_lies_behind_them() -> None:
    variant = draw(PLATE, "behind|A01|1")
    printed = {name: str(variant.shown[name].number) for name in PLATE.stated}
    assert variant_of(PLATE, printed).identity == variant.identity
    assert wm.mark(variant_of(PLATE, printed), {"a": "150"}) == wm.mark(variant, {"a": "150"})


def test_what_lies_behind_the_readings_is_told_nowhere(rods: tuple[Variant, ...]) -> None:
    told = [words for words, _ in given_texts(rods[0])]
    assert [words for words in told if "row" in words] == [
        *(f"force, row {row}" for row in range(1, 6)), *(f"reading, row {row}" for row in range(1, 6))
    ]  # fmt: skip
    assert not {"E", "x_0", "modulus of the alloy", "x_1_scatter"} & set(told)


def test_the_cells_of_a_column_are_one_step() -> None:
    assert (steps(PLATE), steps(ROD), steps(MAT)) == (2, 3, 2)


@pytest.mark.parametrize("key", ["pull-on-a-rod", "hardness-of-a-plate"])
def test_what_is_worked_from_a_table_is_no_fault_to_find(key: str) -> None:
    with pytest.raises(wm.ProblemsFound, match="no reading of a table"):
        question_set(BANK, f"find-the-fault-{key}")


def test_a_part_of_a_table_is_asked_again_with_the_column_that_it_needs() -> None:
    again = focused(ROD, "b")
    assert [part.key for part in again.parts] == ["a1", "a2", "a3", "a4", "a5", "b"]
    assert [part.key for part in focused(ROD, "a2").parts] == ["a1", "a2", "a3", "a4", "a5"]


def test_how_an_accepted_slope_comes_about_is_told_cell_by_cell(rods: tuple[Variant, ...]) -> None:
    told = rods[0].explains("b")
    assert told.low.value < told.right < told.high.value
    assert told.low.value <= told.low.reach <= told.right <= told.high.reach <= told.high.value
