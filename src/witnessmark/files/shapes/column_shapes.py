"""The shapes of finds in general, and of the table of a question: columns of data, and cells that are asked."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from witnessmark.files.shapes.slip_shapes import SLIPS
from witnessmark.files.shapes.values import (
    ASK,
    IS,
    MARKS,
    SYMBOL,
    UNIT,
    Figures,
    Formula,
    Number,
    Rows,
    Shape,
    Text,
)
from witnessmark.questions.model.table import MOST_ROWS

MOST_COLUMNS = 8


class FindShape(Shape):
    """What all finds have."""

    ask: ASK


class MarkedShape(FindShape):
    """What all finds have whose marks do not add up by themselves."""

    marks: MARKS


class EachRowShape(MarkedShape):
    """A number for each row of the table: its cells in one column."""

    each_row: Annotated[
        Formula, Field(alias="each row", description="How a cell is worked; a column stands for its cell in that row.")
    ]
    is_: IS
    symbol: SYMBOL
    unit: UNIT = ""
    carries: Annotated[list[Text], Field(description="Earlier parts whose results are used, by letter.")] = []
    tolerance: Annotated[Text, Field(description="Room beside rounding, such as 1 %.")] = ""
    figures: Annotated[Figures | None, Field(description="Significant figures asked here.")] = None
    slips: SLIPS = []


class MeasuredColumnShape(Shape):
    """A column of data: {is: extension, unit: mm, value: F*L/(E*A), scatter: 0.02, step: 0.01}."""

    is_: IS
    unit: UNIT = ""
    symbol: SYMBOL = ""
    each: Annotated[
        list[Number] | None, Field(max_length=MOST_ROWS, description="A number for each row, the same for everybody.")
    ] = None
    value: Annotated[
        Formula | None, Field(description="The law behind the readings; row is the number of the row.")
    ] = None
    scatter: Annotated[
        Number, Field(ge=0, description="How far a reading may lie from the law, either way, in the unit.")
    ] = Decimal(0)
    step: Annotated[
        Number | None, Field(gt=0, description="The least step to which a reading is read, in the unit.")
    ] = None


class BehindShape(Shape):
    """A number of the law behind the readings, which is drawn and told to nobody."""

    is_: IS
    unit: UNIT = ""
    first: Annotated[Number, Field(alias="from", description="The first value, in the unit.")]
    last: Annotated[Number, Field(alias="to", description="The last value, in the unit.")]
    step: Annotated[Number, Field(description="The step; it must divide the range.")]


class MeasuredTableShape(Shape):
    """The table of a question: so many rows of measured data."""

    is_: Annotated[Text, Field(alias="is", description="What the table holds, printed above it.")]
    rows: Annotated[Rows, Field(description="How many rows it has.")]
    behind: Annotated[
        dict[str, BehindShape],
        Field(max_length=MOST_COLUMNS, description="What the law takes, told to nobody, by name."),
    ] = {}
    columns: Annotated[
        dict[str, MeasuredColumnShape],
        Field(min_length=1, max_length=MOST_COLUMNS, description="The columns of data, by name."),
    ]
