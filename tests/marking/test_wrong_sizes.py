"""The wrong sizes that a question models, typed once each: beside the right ones, by other values, through the table.

By hand, for a mast 6 mm across and pi from 3.14 to 22/7: the way round is 18.84 to 18.86 mm, for which that of 18.85 mm
is enough or not, so that both it and that of 20 mm are right.
"""

from decimal import Decimal

import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.kinds.wrong_answers import wrong_sizes
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.parts import StandardPart
from witnessmark.questions.model.question import Table

SIZES = ("12", "18.85", "20", "25", "30")
BANDS = """question: bands
title: Bands
topic: lengths
level: 1
setting: A model of a mast is {D} across.
given:
  D: {is: diameter, unit: mm, one of: [6, 7]}
find:
  a:
    ask: Find the way round it.
    is: way round
    symbol: U
    unit: mm
    answer: pi*D
    marks: 1
    slips:
      - {misconception: half-the-way-round, answer: pi*D/2, keeps: 0}
      - {misconception: round-and-up, answer: pi*D + 11.15*D/6, keeps: 0}
  b:
    ask: A band goes round it once. Which is taken?
    is: band
    standard: bands
    column: length
    choose: at least
    value: U
    carries: [a]
    marks: 1
    slips:
"""
BELOW = "      - {misconception: nearest-size-taken, takes: size below, keeps: 0}\n"
ABOVE = "      - {misconception: one-size-more-than-enough, takes: size above, keeps: 0.5}\n"
FAR = "      - {misconception: twice-round, value: 2*U, keeps: 0}\n"
STILL_FIRST = "      - {misconception: a-hair-less, value: U - 1*D/6, keeps: 0}\n"
STILL_SECOND = "      - {misconception: a-hair-more, value: U + 0.5*D/6, keeps: 0}\n"
NEAR = "      - {misconception: a-hand-more, value: U + 6.15*D/6, keeps: 0}\n"


def bands(*slips: str) -> DrawableQuestion:
    """The question with these slips of the choice."""
    rows: dict[str, dict[str, Decimal | str]] = {f"{size} mm": {"length": Decimal(size)} for size in SIZES}
    table = Table("bands", "invented for a test", {"length": "mm"}, rows)
    found, problems = question_from_text(BANDS + "".join(slips), "bands.yaml", {"bands": table})
    assert problems == ()
    assert found is not None
    return found


def typed(*slips: str) -> list[tuple[tuple[str, ...], str]]:
    """What is typed wrongly for a mast of 6 mm."""
    question = bands(*slips)
    part = question.part("b")
    assert isinstance(part, StandardPart)
    return list(wrong_sizes(question.variant(D="6 mm"), part, 3))


THROUGH = [(("half-the-way-round",), "12 mm"), (("round-and-up",), "30 mm")]
"""By hand 9.42 mm, and 29.99 to 30.01 mm, of which the first that would do is taken."""


@pytest.mark.parametrize(("slips", "wrong"), [
    ((BELOW,), [(("nearest-size-taken", "half-the-way-round"), "12 mm"), THROUGH[1]]),
    ((ABOVE,), [THROUGH[0], (("one-size-more-than-enough",), "25 mm"), THROUGH[1]]),
    ((NEAR,), [THROUGH[0], (("a-hand-more",), "25 mm"), THROUGH[1]]),
    ((FAR,), THROUGH), ((STILL_FIRST,), THROUGH), ((STILL_SECOND,), THROUGH),
    ((BELOW, ABOVE, NEAR, FAR), [
        (("nearest-size-taken", "half-the-way-round"), "12 mm"),
        (("one-size-more-than-enough", "a-hand-more"), "25 mm"), THROUGH[1],
    ]),
])  # fmt: skip
def test_a_wrong_size_is_typed_once_for_all_who_would_take_it_and_none_that_is_right_or_not_listed(
    slips: tuple[str, ...], wrong: list[tuple[tuple[str, ...], str]]
) -> None:
    """A hand more is 24.99 to 25.01 mm, of which again the first is taken; twice round has no size; a hair less or more
    asks for 18.85 and 20 mm, which are right."""
    assert typed(*slips) == wrong
