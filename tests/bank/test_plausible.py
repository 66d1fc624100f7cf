"""The numbers of the bank as the trade knows them: what each result may come to, and no stress beyond its metal.

Over a sample of every question's variants that may be drawn, with those at the ends of all ranges.
"""

import csv
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from bank_fixture import BANK
from witnessmark.maths.quantities import from_si, to_si, unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.drawing.separation import keeps
from witnessmark.questions.drawing.space import Pick, choices, columns_of, pick_of
from witnessmark.questions.model.parts import Kind, QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.working import Columns, worked

CASES = Path(__file__).parents[1] / "cases" / "plausible.csv"
with CASES.open(encoding="utf-8", newline="") as file:
    ROWS = [row for row in csv.reader(file) if row and not row[0].startswith("#")][1:]
SAMPLE = 1_200
STRESS = unit("Pa").dimension
FAILURE_ASKED = {"drain-hole": "b"}  # will the punch survive: some do not
SHEAR_SHARE = 0.6  # of the yield strength, as a round figure for ductile metals: common practice, no source


def strengths(question: Question) -> list[str]:
    """The yield strength of every metal that is drawn and has to hold; what is punched gives way, as it should."""
    used = frozenset[str]().union(*(names_in(given.value) for given in question.givens if given.value is not None))
    rows = [row for row in question.rows if f"{row.name}.shear_strength" not in used]
    return [f"{r.name}.yield_strength" for r in rows if "yield_strength" in BANK.tables[r.table].units]


CALCULATED = [(q.key, p.key) for q in BANK.values() for p in q.quantities]
STRESSED = [
    (q.key, p.key)
    for q in BANK.values()
    for p in q.parts
    if p.kind is Kind.QUANTITY and unit(p.unit).dimension == STRESS and "stress" in p.is_
    and strengths(q)
]  # fmt: skip


def ends(question: Question) -> list[Pick]:
    """Picks in which every choice is at its first or its last, as far as a few hundred of them go."""
    counts = [choice.count for choice in choices(question)]
    whole = range(min(2 ** len(counts), 256))
    return [tuple((count - 1) * (n >> i & 1) for i, count in enumerate(counts)) for n in whole]


@cache
def drawable(key: str) -> tuple[Columns, int]:
    """Variants that keep what the question asks, with all cells of their rows: a sample, and the ends of the ranges."""
    question = replace(BANK[key], tables={row.table: BANK.tables[row.table] for row in BANK[key].rows})
    counts = [choice.count for choice in choices(question)]
    picks = list(dict.fromkeys([*ends(question), *(pick_of(counts, f"plausible|{i}") for i in range(SAMPLE))]))
    columns = columns_of(question, picks)
    good = keeps(question, columns, len(picks))
    return {name: values[good] for name, values in columns.items()}, int(good.sum())


def test_every_calculated_result_has_its_limits() -> None:
    assert sorted((row[0], row[1]) for row in ROWS) == sorted(CALCULATED)
    assert all(len(row) == 6 and len(row[5]) > 8 for row in ROWS)


@pytest.mark.parametrize(("key", "letter", "low", "high", "unit_name", "why"), ROWS, ids=lambda v: v)
def test_a_result_stays_within_what_the_trade_knows(
    key: str, letter: str, low: str, high: str, unit_name: str, why: str
) -> None:
    columns, size = drawable(key)
    assert size > 20
    values, asked = worked(BANK[key], columns)[letter], "" if unit_name == "number" else unit_name
    assert float(low) <= from_si(float(np.min(values)), asked), why
    assert from_si(float(np.max(values)), asked) <= float(high), why


@pytest.mark.parametrize(("key", "letter"), STRESSED)
def test_no_metal_is_stressed_beyond_its_strength_unless_that_is_asked(key: str, letter: str) -> None:
    question = BANK[key]
    if FAILURE_ASKED.get(key) == letter:
        pytest.skip("whether it fails is the question")
    columns, _ = drawable(key)
    stress = worked(question, columns)[letter]
    limit = np.min([columns[name] for name in strengths(question)], axis=0)
    if "shear" in question.quantity(letter).is_:
        stated = [columns[g.name] for g in question.givens if "shear strength" in g.is_]
        limit = np.min(stated, axis=0) if stated else SHEAR_SHARE * limit
    assert np.all(stress < limit), f"{np.max(stress / limit):.2f} of the strength"


def test_a_hand_never_has_to_give_more_than_a_hand_can() -> None:
    """Givens and results that a text calls the force of a hand: at most 400 N. Common practice, no source."""
    for question in BANK.values():
        columns, _ = drawable(question.key)
        right = worked(question, columns)
        forces = [(g.is_, columns[g.name]) for g in question.givens if "hand" in g.is_ and g.unit in ("N", "kN")]
        forces += [(p.is_, right[p.key]) for p in question.quantities if "hand" in p.is_ and p.unit in ("N", "kN")]
        for what, values in forces:
            assert np.max(values) <= to_si(400, "N"), (question.key, what)


def part_of(key: str, letter: str) -> QuantityPart:
    return BANK[key].quantity(letter)


@pytest.mark.parametrize(("key", "letter", "unit_name"), [(r[0], r[1], r[4]) for r in ROWS])
def test_limits_are_stated_in_the_unit_that_is_asked(key: str, letter: str, unit_name: str) -> None:
    assert (part_of(key, letter).unit or "number") == unit_name
