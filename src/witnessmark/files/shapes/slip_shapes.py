"""The shapes of slips: wrong expressions, and wrong judgements, orders, sets, pairs and sizes."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from witnessmark.files.shapes.values import KEEPS, MISCONCEPTION, MOST_SLIPS, Formula, Shape, Text


class SlipShape(Shape):
    """A wrong method: it replaces the answer, or the value of one line."""

    misconception: MISCONCEPTION
    line: Annotated[Text, Field(description="The line whose value it replaces.")] = ""
    answer: Annotated[Formula, Field(description="The wrong expression.")]
    keeps: KEEPS = Decimal(0)


SLIPS = Annotated[list[SlipShape], Field(max_length=MOST_SLIPS)]


class LimitsSlipShape(Shape):
    """A wrong method for one of two limits, or for both."""

    misconception: MISCONCEPTION
    largest: Annotated[Formula, Field(description="The wrong expression of the larger one; left out, it is right.")] = (
        ""
    )
    smallest: Annotated[Formula, Field(description="The same of the smaller one.")] = ""
    keeps: KEEPS = Decimal(0)


class JudgeSlipShape(Shape):
    """What a wrong judgement shows."""

    misconception: MISCONCEPTION


class OrderSlipShape(Shape):
    """A wrong order: {misconception: tempered-first, puts: temper, before: quench}."""

    misconception: MISCONCEPTION
    puts: Annotated[Text, Field(description="The step that stands too early.")]
    before: Annotated[Text, Field(description="The step that it must follow.")]


class SetSlipShape(Shape):
    """A wrong set of options: {misconception: only-the-hot-ones, chooses: [brazing, welding]}."""

    misconception: MISCONCEPTION
    chooses: Annotated[list[Text], Field(min_length=1, description="The options that are chosen, and no others.")]


class PairSlipShape(Shape):
    """A wrong pair: {misconception: drill-for-reamer, pairs: the bore of a bush, with: drilling}."""

    misconception: MISCONCEPTION
    pairs: Annotated[Text, Field(description="The thing that is given a wrong option.")]
    with_: Annotated[Text, Field(alias="with", description="The option that it is given.")]


class SizeSlipShape(Shape):
    """A wrong size: the one beside the right one, one that is not listed, or what another value chooses."""

    misconception: MISCONCEPTION
    takes: Annotated[
        Literal["size below", "size above", "unlisted size", ""], Field(description="Which size, by the list.")
    ] = ""
    value: Annotated[Formula, Field(description="The wrong value that is put to the table.")] = ""
    keeps: KEEPS = Decimal(0)
