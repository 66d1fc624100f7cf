"""Yes or no on a student's own number, worked by hand: as it is put right, as it is written, and against both.

A hole of 20 mm through 6 mm of 300 MPa takes 113.1 kN, which is 360 MPa on the face of the punch.
"""

from dataclasses import replace
from decimal import Decimal

import pandas as pd
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.parts import JudgePart
from witnessmark.questions.model.slips import JudgeSlip

D = Decimal
QUESTION = wm.load_bank(SMALL_BANK)["drain-hole"]
HOLE = QUESTION.variant(tau="300 MPa", d="20 mm", t="6 mm", punch="high-speed steel")
AS_ONE = "Your {} agrees with your own number."
PUT_RIGHT = "Your {} agrees with your own number once its power of ten or its unit is put right."


def judged(said: object, stress: str = "") -> Outcome:
    return wm.mark(HOLE, {"b": stress, "c": said})["c"]


@pytest.mark.parametrize(("stress", "said", "verdict", "because"), [
    ("360 MPa", "yes", "right", AS_ONE), ("", "yes", "right", AS_ONE), ("9999 MPa", "no", "carried forward", AS_ONE),
    ("360 GPa", "yes", "right", PUT_RIGHT), ("360 GPa", "no", "carried forward", AS_ONE),
    ("0.36 MPa", "yes", "right", AS_ONE), ("see over", "yes", "right", AS_ONE),
])  # fmt: skip
def test_what_agrees_with_the_own_number_put_right_or_as_written_earns_all(
    stress: str, said: str, verdict: str, because: str
) -> None:
    out = judged(said, stress)
    assert (out.marks, str(out.verdict), out.because) == (D(1), verdict, because.format(said))
    assert (out.read_as, out.raw, out.misconceptions) == (said, said, ())


@pytest.mark.parametrize(("stress", "said", "own"), [
    ("360 MPa", "no", "yes"), ("", "no", "yes"), ("9999 MPa", "yes", "no"), ("0.36 MPa", "no", "yes"),
])  # fmt: skip
def test_what_agrees_with_neither_is_wrong_and_told_what_the_own_number_says(stress: str, said: str, own: str) -> None:
    out = judged(said, stress)
    assert (out.marks, str(out.verdict)) == (D(0), "wrong")
    assert out.because == f"Your own number says {own}, not {said}."


def test_a_slip_of_the_judgement_is_named_where_it_is_wrong_alone() -> None:
    (part,) = (part for part in QUESTION.parts if isinstance(part, JudgePart))
    slipped = replace(part, slips=(JudgeSlip("stress-is-strength"),))
    parts = tuple(slipped if one is part else one for one in QUESTION.parts)
    variant = replace(HOLE, question=replace(QUESTION, parts=parts))
    found = [wm.mark(variant, {"c": said})["c"] for said in ("no", "yes")]
    assert [(str(out.verdict), out.misconceptions) for out in found] == [
        ("slip", ("stress-is-strength",)),
        ("right", ()),
    ]


@pytest.mark.parametrize("said", ["perhaps", "42"])
def test_what_is_neither_waits_and_a_blank_does_not(said: str) -> None:
    assert (str(judged(said).verdict), bool(judged(said).in_tray)) == ("unreadable", True)
    assert str(judged(" ").verdict) == "blank"


def test_each_row_of_a_table_is_judged_by_its_own_number_and_none_where_the_strength_is_not_known() -> None:
    told = {"tau": 300.0, "d": 20.0, "t": 6.0, "b": ["360 MPa", "9999 MPa", "360 GPa"], "c": ["yes", "yes", "no"]}
    table = wm.mark_table(QUESTION, pd.DataFrame({**told, "punch": "high-speed steel"}))
    assert table["c.verdict"].tolist() == ["right", "wrong", "carried forward"]
    assert "c.verdict" not in wm.mark_table(QUESTION, pd.DataFrame(told)).columns
