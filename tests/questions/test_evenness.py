"""How even variants are: figures and conversions against counts by hand."""

import numpy as np
import pytest

from bank_fixture import BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.questions.checking.evenness import conversions, figures_of_results, judged_yes
from witnessmark.questions.drawable import DrawableQuestion

TEXT = """
question: strips
title: Strips
topic: lengths
level: 1
setting: A strip of {t}.
given:
  t: {is: thickness, unit: mm, one of: [1, 2]}
find:
  a:
    ask: Find twice the thickness.
    is: double thickness
    symbol: T
    unit: cm
    answer: 2*t
    marks: 1
"""


def question(text: str = TEXT) -> DrawableQuestion:
    """A question with one part, from its text."""
    found, problems = question_from_text(text, "q.yaml", {})
    assert problems == ()
    assert found is not None
    return found


def test_figures_are_counted_in_the_unit_that_is_asked() -> None:
    """Doubled and in cm: 0.4 and 0.5 have one figure, 1.2, 2.5 and 1.3 two, 0.125 three, 1.225 and 13.33... more."""
    thickness = np.array([2, 2.5, 6, 12.5, 0.625, 6.5, 6.125, 200 / 3]) / 1000
    ((key, shares),) = figures_of_results(question(), {"t": thickness}, 8)
    assert (key, shares) == ("a", (2 / 8, 3 / 8, 1 / 8, 2 / 8))


def test_of_no_variants_there_are_no_figures_and_no_judgements() -> None:
    assert figures_of_results(question(), {"t": np.zeros(0)}, 0) == ()
    assert judged_yes(BANK["drain-hole"], {}, 0) == ()


@pytest.mark.parametrize(
    ("key", "count"),
    [
        ("oar", 0),  # N and m, asked in N*m
        ("spanner", 1),  # N and mm, asked in N*m
        ("drain-hole", 2),  # a: MPa and mm give N, asked in kN; b: kN to N
        ("shaft-twist", 2),  # in kN and mm, GPa and N*m stand as they are; m to mm, radians to degrees
        ("tilting-board", 0),  # mm to degrees by asin; degrees by tan
        ("shaft-angle", 0),  # mm to degrees by atan; degrees to degrees
        ("hub-heating", 2),  # a: all in micrometres; b: those, the coefficient and mm to K
        ("water-tank", 4),  # a: mm to m, Pa to kPa; b and c in kN and mm: kPa to GPa each
    ],
)
def test_conversions_are_those_that_are_counted_by_hand(key: str, count: int) -> None:
    assert conversions(BANK[key].draw("even")) == count


@pytest.mark.parametrize("key", ["drain-hole", "lightest-tie", "held-pipe", "anode"])
def test_every_variant_needs_as_many_conversions_as_every_other(key: str) -> None:
    """Also where rows are drawn: a column has one unit."""
    assert len({conversions(BANK[key].draw(f"row {n}")) for n in range(12)}) == 1


@pytest.mark.parametrize(
    ("unit", "answer", "count"),
    [("mm", "2*t", 0), ("cm", "2*t", 1), ("m", "2*t", 1), ("mm^2", "t*t", 0), ("m^2", "t*t", 1), ("mm", "t/10 + t", 0)],
)
def test_a_conversion_is_a_number_whose_unit_is_not_of_the_system(unit: str, answer: str, count: int) -> None:
    text = TEXT.replace("unit: cm", f"unit: {unit}").replace("answer: 2*t", f"answer: {answer}")
    assert conversions(question(text).variant(t="1 mm")) == count
