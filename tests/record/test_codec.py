"""Dataclasses as JSON text: what is written is JSON, and older or newer data can be read."""

import json
import sqlite3
from contextlib import closing
from dataclasses import asdict, dataclass, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest

from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.task import Student, Task
from witnessmark.record.codec import Unreadable, dump, load, to_json
from witnessmark.record.outcomes import NOT_IN_BODY

CASES = Path(__file__).parents[1] / "cases" / "record"


class Unknown:
    """A type that says nothing of its fields."""


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
    with pytest.raises(Unreadable, match="label"):
        load(Plank, '{"length": "1", "wood": "oak"}')


@pytest.mark.parametrize("text", ["", "{", "[1]", '"x"', "null", '{"length": "long", "wood": "oak", "label": "x"}'])
def test_text_that_holds_no_value_of_the_type_is_told(text: str) -> None:
    with pytest.raises(Unreadable):
        load(Plank, text)


@pytest.mark.parametrize("small", [1e-4, 1e-5, 1e-7, 5e-324, 1e16, -2.5e-9])
def test_a_float_is_spelt_as_python_spells_it(small: float) -> None:
    plank = Plank(Decimal(1), Wood.OAK, "x", weight=small, notes={})
    assert f'"weight":{small!r},' in dump(plank)
    assert load(Plank, dump(plank)) == plank


LATER_RULES = ',"most_taken_off":"1","g":"9.81"'


def test_the_bodies_of_a_record_are_written_as_the_coder_before_pydantic_wrote_them() -> None:
    # The outcomes, students, tasks and misconceptions of the kept record of version 3, which that coder wrote.
    with closing(sqlite3.connect(":memory:")) as db:
        db.executescript((CASES / "class-of-version-3.sql").read_text(encoding="utf-8"))
        bodies = db.execute("SELECT marks, out_of, verdict, body FROM outcomes").fetchall()
        others: list[tuple[type[Any], str]] = [(Task, body) for (body,) in db.execute("SELECT body FROM tasks")]
        others += [(Student, body) for (body,) in db.execute("SELECT student_body FROM sheets")]
        others += [(Misconception, body) for (body,) in db.execute("SELECT misconception_body FROM accepted")]
    assert (len(bodies), len(others)) == (20, 6)
    for marks, out_of, verdict, body in bodies:
        head = json.dumps({"marks": marks, "out_of": out_of, "verdict": verdict}, separators=(",", ":"))
        whole = f"{head[:-1]},{body[1:]}"
        outcome = load(Outcome, whole)
        assert dump(outcome, without=NOT_IN_BODY) == body
        assert plain_of(outcome) == {**json.loads(whole), "teacher": None}
    later = ("late", "weight", "attempts", "layout", "working", "relations")  # what tasks have since version 8
    for of, body in others:  # rules that came later have their defaults
        told = dump(load(of, body), without={Task: later, Misconception: ("published",)}.get(of, ()))
        assert told == body.replace(',"ask_below":0.9}', f',"ask_below":0.9{LATER_RULES}}}')


def plain_of(value: Any) -> Any:
    """A value as plain data, without pydantic."""
    if is_dataclass(value):
        return {f.name: plain_of(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, tuple):
        return [plain_of(one) for one in value]
    return str(value) if isinstance(value, Decimal | StrEnum) else value


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_float_that_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        dump(Plank(Decimal(1), Wood.OAK, "x", weight=value, notes={}))


def test_a_type_that_json_cannot_hold_is_refused() -> None:
    @dataclass
    class Odd:
        """A field of a type that says nothing of itself."""

        what: Unknown

    with pytest.raises(TypeError, match="cannot hold"):
        dump(Odd(Unknown()))


def test_letters_stand_in_the_record_as_they_were_typed() -> None:
    """So that a text can be found in the file; RFC 8259 lets JSON hold them unescaped."""
    assert to_json({"who": "Jörg Ærø 安"}) == '{"who":"Jörg Ærø 安"}'
    assert to_json(["half \ud83d"]) == '["half \\ud83d"]'  # UTF-8 has no half of a surrogate pair
