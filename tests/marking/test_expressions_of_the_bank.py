"""Formulae of the bank as people type them: each told for what it is, and every slip keeps what it keeps."""

import csv
from pathlib import Path

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.kinds.expression import asked_formula, mark_expression
from witnessmark.maths.printing.plain import plain
from witnessmark.questions.model.parts import ExpressionPart, Kind

CASES = Path(__file__).parents[1] / "cases" / "marked_formulas.csv"
with CASES.open(encoding="utf-8", newline="") as file:
    ROWS = [tuple(row) for row in csv.reader(file) if row and not row[0].startswith("#")][1:]
EXPRESSIONS = [(q.key, p.key) for q in BANK.values() for p in q.parts if p.kind is Kind.EXPRESSION]


@pytest.mark.parametrize(("key", "letter", "typed", "verdict", "misconception"), ROWS)
def test_a_typed_formula_of_the_bank_is_told_for_what_it_is(
    key: str, letter: str, typed: str, verdict: str, misconception: str
) -> None:
    out = wm.mark(BANK[key].draw("formulae"), {letter: typed})[letter]
    assert (out.verdict, "+".join(out.misconceptions)) == (verdict, misconception), out


@pytest.mark.parametrize(("key", "letter"), EXPRESSIONS)
def test_every_slip_of_a_formula_keeps_what_it_keeps_and_never_all(key: str, letter: str) -> None:
    part = BANK[key].part(letter)
    assert isinstance(part, ExpressionPart)
    asked = asked_formula(BANK[key], part)
    assert mark_expression(asked, plain(part.answer)).marks == part.marks
    for slip in part.slips:
        out = mark_expression(asked, plain(slip.answer))
        assert (out.marks, out.misconceptions) == (slip.keeps, (slip.misconception,))
        assert out.marks < part.marks


def test_a_letter_that_a_given_and_the_cell_of_a_table_have_alike_is_the_givens() -> None:
    variant = BANK["choosing-a-fit"].draw("letters")
    assert wm.mark(variant, {"e": "EI - es"})["e"].verdict == "right"
