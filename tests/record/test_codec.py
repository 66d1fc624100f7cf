"""Dataclasses as JSON text: what is written is JSON, and older or newer data can be read."""

import json
from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

import pytest

from witnessmark.record.codec import dump, load


class Wood(StrEnum):
    """An enumeration."""

    OAK = "oak"
    LARCH = "lärch"


@dataclass(frozen=True, slots=True)
class Plank:
    """One of every kind of field."""

    length: Decimal
    wood: Wood
    label: str
    faults: tuple[str, ...] = ()
    sizes: tuple[tuple[str, Decimal], ...] = ()
    cut: date | None = None
    weight: float = 0.0
    number: int = 0
    is_dry: bool = False
    notes: dict[str, Decimal] = None  # type: ignore[assignment]


PLANK = Plank(
    Decimal("2.50"), Wood.LARCH, 'a "quote", a \\ and \n a \x00', ("knot", ""), (("w", Decimal("0.1")),),
    date(2027, 1, 5), 0.1 + 0.2, -3, True, {"ö": Decimal("1E+2")},
)  # fmt: skip


def test_what_is_written_is_json_with_decimals_as_text() -> None:
    assert json.loads(dump(PLANK)) == {
        **asdict(PLANK),
        "length": "2.50",
        "wood": "lärch",
        "faults": ["knot", ""],
        "sizes": [["w", "0.1"]],
        "cut": "2027-01-05",
        "notes": {"ö": "1E+2"},
    }


def test_every_kind_of_field_comes_back() -> None:
    back = load(Plank, dump(PLANK))
    assert back == PLANK
    assert str(back) == str(PLANK)


def test_half_a_surrogate_pair_is_escaped_and_comes_back() -> None:
    plank = Plank(Decimal(1), Wood.OAK, "\ud800 and \U0001f6a2", notes={})
    assert dump(plank).encode()
    assert load(Plank, dump(plank)) == plank


def test_a_field_that_older_data_lacks_takes_its_default() -> None:
    assert load(Plank, '{"length": "1", "wood": "oak", "label": "x"}') == Plank(Decimal(1), Wood.OAK, "x")


def test_a_field_that_was_dropped_is_passed_over() -> None:
    assert load(Plank, '{"length": "1", "wood": "oak", "label": "x", "old": [1]}').label == "x"


def test_a_field_that_is_needed_is_missed() -> None:
    with pytest.raises(KeyError, match="label"):
        load(Plank, '{"length": "1", "wood": "oak"}')


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_float_that_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="cannot be stored"):
        dump(Plank(Decimal(1), Wood.OAK, "x", weight=value, notes={}))


def test_a_type_that_json_cannot_hold_is_refused() -> None:
    @dataclass
    class Odd:
        """A field that has no coder."""

        what: complex

    with pytest.raises(TypeError, match="cannot hold"):
        dump(Odd(1j))
