"""A table of answers is marked by the same ladder as single answers: the same marks, verdict, names and certainty."""

import random

import numpy as np
import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import CALCULATED, typed
from marking.typed_text import FORMULAS
from witnessmark.maths.quantities import from_si
from witnessmark.questions.model.parts import Kind
from witnessmark.questions.sheet.variant import Variant, unit_of

WORDS = ["", "", "see over", "?", "12 or 13", *FORMULAS[:3]]
FACTORS = [1.0, 1.0, 1.0, 10.0, 0.001, 1e6, 9.81, 2.0, 0.5, 1.37, -1.0]
COMPARED = CALCULATED[::4]


def an_entry(chance: random.Random, variant: Variant, key: str, slips: list[float]) -> str:
    """One entry as somebody might type it: right, by a slip, off by a factor, with any unit or none."""
    if chance.random() < 0.15:
        return chance.choice(WORDS)
    si = chance.choice([variant.expected_si[key], variant.expected_si[key], *slips]) * chance.choice(FACTORS)
    entry = typed(variant.question, key, si, chance.choice([2, 3, 4, 5]))
    number = entry.split(" ")[0]
    return chance.choice([entry, entry, entry, number, f"{number} kg", entry.replace(".", ","), f"{number[:3]},250 N"])


def answers_to(chance: random.Random, variant: Variant) -> dict[str, str]:
    """The answers of one student to one question."""
    answers = {}
    for key in variant.expected_si:
        unit = unit_of(variant.question, key)
        slips = [v if isinstance(v, float) else float(v.to(variant.expected[key].units).magnitude)
                 for v in variant.slips.get(key, {}).values()]  # fmt: skip
        scale = variant.expected_si[key] / from_si(variant.expected_si[key], unit) if slips else 1.0
        if chance.random() < 0.85:
            answers[key] = an_entry(chance, variant, key, [s * scale for s in slips if s])
    for part in variant.question.parts:
        if part.kind is not Kind.QUANTITY:
            answers[part.key] = chance.choice(["yes", "no", "Y", "A", "B", "", "perhaps"])
    return answers


@pytest.mark.parametrize("key", COMPARED)
def test_each_row_of_a_table_is_marked_as_that_student_alone(key: str) -> None:
    chance = random.Random(f"table {key}")
    variants = [BANK[key].draw(f"row {n}") for n in range(3)]
    answers = [answers_to(chance, v) for v in variants]
    names = [n for n in variants[0].shown if all(n in v.shown for v in variants)]
    columns: dict[str, list[object]] = {n: [float(v.shown[n].number) for v in variants] for n in names}
    keys = sorted({k for a in answers for k in a})
    table = wm.mark_table(BANK[key], pd.DataFrame({**columns, **{k: [a.get(k, "") for a in answers] for k in keys}}))
    for row, (variant, mine) in enumerate(zip(variants, answers, strict=True)):
        alone = wm.mark(variant, mine)
        for place in (k for k in keys if BANK[key].part(k.partition(".")[0]).kind in (Kind.QUANTITY, Kind.JUDGE)):
            found = {
                n: table[f"{place}.{n}"].iloc[row] for n in ("marks", "out_of", "verdict", "misconceptions", "sure")
            }
            out = alone[place]
            assert found == {
                "marks": float(out.marks), "out_of": float(out.out_of), "verdict": str(out.verdict),
                "misconceptions": "+".join(out.misconceptions), "sure": pytest.approx(out.sure, abs=1e-9),
            }, (place, mine)  # fmt: skip


def test_the_order_of_rows_has_no_say() -> None:
    chance = random.Random("order")
    variants = [BANK["bottle-jack"].draw(f"row {n}") for n in range(12)]
    answers = [answers_to(chance, v) for v in variants]
    keys = sorted({k for a in answers for k in a})
    columns = {n: [float(v.shown[n].number) for v in variants] for n in variants[0].shown}
    frame = pd.DataFrame({**columns, **{k: [a.get(k, "") for a in answers] for k in keys}})
    there = wm.mark_table(BANK["bottle-jack"], frame)
    back = wm.mark_table(BANK["bottle-jack"], frame.iloc[::-1]).iloc[::-1]
    pd.testing.assert_frame_equal(there, back)


def test_the_table_keeps_its_own_columns_and_order() -> None:
    frame = pd.DataFrame(
        {"who": ["x", "y"], "tau": [300.0, 300.0], "d": [20.0, 20.0], "t": [6.0, 6.0], "a": ["113 kN", "94.2 kN"]},
        index=pd.Index([7, 3]),
    )
    table = wm.mark_table(BANK["drain-hole"], frame)
    assert list(table["who"]) == ["x", "y"]
    assert list(table.index) == [7, 3]
    assert list(table["a.marks"]) == [3.0, 1.0]
    assert list(table["a.misconceptions"]) == ["", "face-area-for-sheared-edge"]
    assert list(frame.columns) == ["who", "tau", "d", "t", "a"]


def test_cells_that_are_numbers_or_empty_are_answers_without_unit_or_blank() -> None:
    frame = pd.DataFrame({"tau": 300.0, "d": 20.0, "t": 6.0, "a": [113.1, np.nan, None]})
    assert list(wm.mark_table(BANK["drain-hole"], frame)["a.verdict"]) == ["unit", "blank", "blank"]


def test_an_empty_table_stays_empty() -> None:
    frame = pd.DataFrame({"tau": [], "d": [], "t": [], "a": []}, dtype=float).astype({"a": str})
    assert len(wm.mark_table(BANK["drain-hole"], frame)) == 0
