"""The kinds of value that files take (text, marks, figures, formulae), their limits, and the base of all shapes."""

from decimal import Decimal
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

MOST_LETTERS = 26  # options and steps are printed with letters
MOST_PAIRS = 13
MOST_VALUES = 2_000  # that one given can take
MOST_GIVENS, MOST_FINDS, MOST_SLIPS, MOST_LINES, MOST_QUESTIONS = 100, 100, 200, 100, 100
MOST_MARKS = 1_000
Number = Annotated[Decimal, WithJsonSchema({"type": "number"})]
Marks = Annotated[Decimal, Field(le=MOST_MARKS), WithJsonSchema({"type": "number", "maximum": MOST_MARKS})]


def _whole(value: Any) -> Any:
    if isinstance(value, Decimal) and value == value.to_integral_value():
        return int(value)
    raise PydanticCustomError("whole_number", "a whole number")


def _stripped(value: Any) -> Any:
    return value.strip() if isinstance(value, str) else value  # pydantic leaves U+001C to U+001F, which are blanks too


def _formula(value: Any) -> Any:
    return format(value, "f") if isinstance(value, Decimal) else value


def _unit(value: Any) -> Any:
    return {"number": "", "": ""}.get(value, value) if isinstance(value, str) else value


Text = Annotated[str, BeforeValidator(_stripped), StringConstraints(min_length=1, max_length=5_000)]
Title = Annotated[str, BeforeValidator(_stripped), StringConstraints(min_length=1, max_length=200)]
Figures = Annotated[int, Field(ge=1, le=9), BeforeValidator(_whole)]
Level = Annotated[int, Field(ge=1, le=3), BeforeValidator(_whole)]
Lines = Annotated[int, Field(ge=0, le=30), BeforeValidator(_whole)]
Needed = Annotated[int, Field(ge=1), BeforeValidator(_whole)]
Rows = Annotated[int, Field(ge=2, le=12), BeforeValidator(_whole)]
Gravity = Annotated[
    Decimal, Field(ge=Decimal("9.7"), le=10), WithJsonSchema({"type": "number", "minimum": 9.7, "maximum": 10})
]
Share = Annotated[Decimal, Field(ge=0, le=1), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1})]
Formula = Annotated[
    str,
    BeforeValidator(_formula),
    StringConstraints(min_length=1, max_length=2_000),
    WithJsonSchema({"type": ["string", "number"]}),
]
UnitText = Annotated[str, BeforeValidator(_unit)]
IN_FIGURE = Annotated[bool, Field(alias="in figure", description="true: read from the figure, and printed nowhere.")]
IS = Annotated[Text, Field(alias="is", description="What this quantity is, in words.")]
UNIT = Annotated[UnitText, Field(description="The unit shown, such as kN; number (or nothing) for a pure number.")]
SYMBOL = Annotated[Text, Field(description="The letter that is printed, such as F, sigma or τ.")]
ASK = Annotated[Text, Field(description="What the student is asked; {name} is replaced by the value of a given.")]
MARKS = Annotated[Marks, Field(description="Marks in halves or whole marks.")]
MISCONCEPTION = Annotated[Text, Field(description="A key of misconceptions.yaml.")]
KEEPS = Annotated[Marks, Field(description="The marks that this wrong method keeps.")]


class Shape(BaseModel):
    """Base of all shapes: no further keys, no silent change of one kind of value into another."""

    model_config = ConfigDict(defer_build=True, extra="forbid", strict=True, frozen=True, populate_by_name=False)
