"""A part that asks figures of its own says so, and a right nought is as sure as what is right can be."""

from decimal import Decimal

import pytest

import witnessmark as wm
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.weights import MOST_SURE

TEXT = """
question: two-gauges
title: Two gauges
topic: measuring
level: 1
setting: The water stands {u} high at one gauge of the slip and {v} at the other.
given:
  u: {is: first height, unit: m, one of: [2.5, 3.5]}
  v: {is: second height, unit: m, one of: [2.5, 1.2]}
find:
  a:
    ask: Find by how much the first is higher.
    is: difference
    symbol: D
    unit: m
    answer: u - v
    figures: 4
    marks: 2
"""


def marked(u: str, v: str, entry: str, rules: wm.Rules | None = None) -> wm.Outcome:
    """The outcome of a difference of two heights."""
    question, problems = question_from_text(TEXT, "two-gauges.yaml", {})
    assert question is not None, problems
    return wm.mark(question.variant(u=u, v=v), {"a": entry}, rules)["a"]


@pytest.mark.parametrize(("entry", "said"), [("2.3 m", True), ("2.300 m", False)])
def test_the_figures_that_a_part_asks_are_those_that_are_told(entry: str, said: bool) -> None:
    out = marked("3.5 m", "1.2 m", entry, wm.Rules(figures_mark=Decimal("0.5")))
    assert ("Write it to 4 significant figures." in out.because) is said
    assert out.marks == Decimal("1.5" if said else "2")


@pytest.mark.parametrize("entry", ["0 m", "0.000 m"])
def test_a_right_nought_is_sure_and_waits_for_nobody(entry: str) -> None:
    out = marked("2.5 m", "2.5 m", entry)
    assert (str(out.verdict), out.marks, out.sure) == ("right", Decimal(2), MOST_SURE)
    assert not out.in_tray
