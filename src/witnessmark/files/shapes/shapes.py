"""The shapes of all files that a teacher writes by hand.

A shape says which keys a file may hold and what kind of value each takes; what the values mean together is for
`question_text`, `tables_text`, `misconceptions_text` and `task_text`.
"""

from decimal import Decimal
from typing import Annotated, Any, Literal, TypeVar

from pydantic import Discriminator, Field, Tag, ValidationError

from witnessmark.files.shapes.column_shapes import (
    BehindShape,
    EachRowShape,
    FindShape,
    MarkedShape,
    MeasuredColumnShape,
    MeasuredTableShape,
)
from witnessmark.files.shapes.slip_shapes import (
    SLIPS,
    JudgeSlipShape,
    LimitsSlipShape,
    OrderSlipShape,
    PairSlipShape,
    SetSlipShape,
    SizeSlipShape,
    SlipShape,
)
from witnessmark.files.shapes.values import (
    IN_FIGURE,
    IS,
    KEEPS,
    MARKS,
    MISCONCEPTION,
    MOST_FINDS,
    MOST_GIVENS,
    MOST_LETTERS,
    MOST_LINES,
    MOST_PAIRS,
    MOST_SLIPS,
    MOST_VALUES,
    SYMBOL,
    UNIT,
    Figures,
    Formula,
    Level,
    Marks,
    Needed,
    Number,
    Shape,
    Text,
    Title,
    UnitText,
)


class RowShape(Shape):
    """A row of a table, drawn whole: {row of: sheet-metals}."""

    row_of: Annotated[Text, Field(alias="row of", description="The table, by the name of its file in bank/tables.")]
    rows: Annotated[list[Text], Field(min_length=1, description="Only these rows, by name.")] = []


class ListedShape(Shape):
    """A quantity drawn from a list: {is: hole diameter, unit: mm, one of: [10, 12, 16]}."""

    is_: IS
    unit: UNIT = ""
    symbol: SYMBOL = ""
    in_figure: IN_FIGURE = False
    one_of: Annotated[
        list[Number],
        Field(alias="one of", min_length=1, max_length=MOST_VALUES, description="The values, in the unit."),
    ]


class SpanShape(Shape):
    """A quantity drawn in steps: {is: plate thickness, unit: mm, from: 1, to: 8, step: 0.5}."""

    is_: IS
    unit: UNIT = ""
    symbol: SYMBOL = ""
    in_figure: IN_FIGURE = False
    first: Annotated[Number, Field(alias="from", description="The first value, in the unit.")]
    last: Annotated[Number, Field(alias="to", description="The last value, in the unit.")]
    step: Annotated[Number, Field(description="The step; it must divide the range.")]


class ComputedShape(Shape):
    """A quantity that follows from a table cell or other givens: {is: strength, value: material.shear_strength}.

    Without `is` it is worked out and not told to the student.
    """

    is_: Annotated[Text, Field(alias="is", description="What it is; without it the student is not told.")] = ""
    unit: Annotated[UnitText | None, Field(description="May be left out where the value is one table cell.")] = None
    symbol: SYMBOL = ""
    value: Annotated[Formula, Field(description="An expression of table cells and other givens.")]
    figures: Annotated[Figures | None, Field(description="Significant figures that it is rounded to.")] = None


class LineShape(Shape):
    """A named intermediate result: A_s: {is: sheared area, unit: mm^2, value: pi*d*t, marks: 1}."""

    is_: IS
    unit: UNIT = ""
    symbol: SYMBOL = ""
    value: Annotated[Formula, Field(description="How it is worked.")]
    marks: MARKS = Decimal(0)


class OptionShape(Shape):
    """One option of a choice."""

    text: Text
    right: Annotated[bool, Field(description="true for the one right option.")] = False
    misconception: MISCONCEPTION = ""
    keeps: KEEPS = Decimal(0)


class OneOfSeveralShape(Shape):
    """One option of several, of which any number is right."""

    text: Text
    right: Annotated[bool, Field(description="true for every right option.")] = False
    misconception: MISCONCEPTION = ""


class PairShape(Shape):
    """A thing and the one option that goes with it: {thing: the bore of a bush, with: reaming}."""

    thing: Annotated[Text, Field(description="What is numbered; in a figure the name that its balloon has there.")]
    with_: Annotated[Text, Field(alias="with", description="The option that goes with it.")]


class CriterionShape(Shape):
    """One thing that the teacher looks for: {criterion: the cut face is marked, marks: 1}."""

    criterion: Text
    marks: MARKS


class QuantityShape(MarkedShape):
    """A number with a unit."""

    answer: Annotated[Formula, Field(description="How it is worked from givens, lines and carried results.")]
    is_: IS
    symbol: SYMBOL = ""
    unit: UNIT = ""
    lines: Annotated[
        dict[str, LineShape], Field(max_length=MOST_LINES, description="Named intermediate results, in working order.")
    ] = {}
    carries: Annotated[list[Text], Field(description="Earlier parts whose results are used, by letter.")] = []
    tolerance: Annotated[Text, Field(description="Room beside rounding, such as 1 % or 0.5 mm.")] = ""
    figures: Annotated[Figures | None, Field(description="Significant figures asked here.")] = None
    division: Annotated[
        Number | None, Field(description="Of a reading: the least division of the scale, in the unit.")
    ] = None
    read_to: Annotated[
        Literal["half a division", "one division"],
        Field(alias="read to", description="How far a reading may be off (half a division)."),
    ] = "half a division"
    slips: SLIPS = []


class LimitShape(Shape):
    """One of two limits: {is: largest bore, symbol: D_max, answer: D + ES}."""

    is_: IS
    symbol: SYMBOL
    answer: Annotated[Formula, Field(description="How it is worked from givens and carried results.")]


class BothLimitsShape(Shape):
    """The larger and the smaller of two limits."""

    largest: LimitShape
    smallest: LimitShape


class LimitsShape(MarkedShape):
    """Two numbers of one unit, in either order."""

    limits: BothLimitsShape
    unit: UNIT = ""
    carries: Annotated[list[Text], Field(description="Earlier parts whose results are used, by letter.")] = []
    tolerance: Annotated[Text, Field(description="Room beside rounding, such as 1 % or 0.5 mm.")] = ""
    figures: Annotated[Figures | None, Field(description="Significant figures asked here.")] = None
    slips: Annotated[list[LimitsSlipShape], Field(max_length=MOST_SLIPS)] = []


class JudgeShape(MarkedShape):
    """Yes or no, judged on the student's own number."""

    judge: Annotated[Formula, Field(description="A comparison; yes when it holds.")]
    carries: Annotated[list[Text], Field(description="Earlier parts whose results are used, by letter.")] = []
    yes_words: Annotated[list[Text], Field(alias="yes words", description="Further words that mean yes here.")] = []
    no_words: Annotated[list[Text], Field(alias="no words", description="Further words that mean no here.")] = []
    slips: list[JudgeSlipShape] = []


class StandardShape(MarkedShape):
    """The next size of a table, chosen by the student's own value."""

    standard: Annotated[Text, Field(description="The table, by the name of its file in bank/tables.")]
    column: Annotated[Text, Field(description="The column of the table that the value is held against.")]
    rows: Annotated[list[Text], Field(min_length=2, description="Only these rows, by name.")] = []
    choose: Annotated[
        Literal["at least", "at most"],
        Field(description="The smallest size that is at least the value, or the largest at most."),
    ]
    value: Annotated[Formula, Field(description="What the size is chosen by: a carried result, or a formula.")]
    is_: IS
    carries: Annotated[list[Text], Field(description="Earlier parts whose results are used, by letter.")] = []
    slips: Annotated[list[SizeSlipShape], Field(max_length=MOST_SLIPS)] = []


class ChoiceShape(MarkedShape):
    """One right option among several."""

    choice: Annotated[list[OptionShape], Field(min_length=2, max_length=MOST_LETTERS)]


class ValuesShape(MarkedShape):
    """One right value among those that wrong methods give: the options come from the answer and the slips."""

    choice: Literal["values"]
    answer: Annotated[Formula, Field(description="How the right value is worked from givens.")]
    is_: IS
    unit: UNIT = ""
    figures: Annotated[Figures | None, Field(description="Significant figures of the values offered (3).")] = None
    slips: Annotated[list[SlipShape], Field(min_length=1, max_length=MOST_LETTERS - 1)]


class SeveralShape(MarkedShape):
    """Any number of right options among several."""

    several: Annotated[list[OneOfSeveralShape], Field(min_length=2, max_length=MOST_LETTERS)]
    slips: Annotated[list[SetSlipShape], Field(max_length=MOST_SLIPS)] = []


class MatchShape(MarkedShape):
    """Numbered things that each go with one lettered option."""

    match: Annotated[list[PairShape], Field(min_length=2, max_length=MOST_PAIRS)]
    spare: Annotated[
        list[Text], Field(min_length=1, max_length=MOST_LETTERS - MOST_PAIRS, description="Options that go with none.")
    ]
    in_figure: Annotated[
        bool, Field(alias="in figure", description="true: the things are numbered balloons in the figure.")
    ] = False
    slips: Annotated[list[PairSlipShape], Field(max_length=MOST_SLIPS)] = []


class ExpressionShape(MarkedShape):
    """A formula, equal by algebra."""

    expression: Annotated[Formula, Field(description="The right formula in names of givens and constants.")]
    is_: Annotated[str, Field(alias="is", description="What this quantity is, in words.")] = ""
    symbol: SYMBOL = ""
    unit: Annotated[UnitText | None, Field(description="Where given, the dimension is checked.")] = None
    slips: SLIPS = []


class OrderShape(MarkedShape):
    """Steps of a process, listed in the right order."""

    order: Annotated[list[Text], Field(min_length=3, max_length=MOST_LETTERS)]
    slips: list[OrderSlipShape] = []


class PointsShape(MarkedShape):
    """Short text: any `needed` of the accepted points, each with its accepted wordings."""

    points: dict[str, Annotated[list[Text], Field(min_length=1)]]
    refuse: Annotated[
        dict[str, Annotated[list[Text], Field(min_length=1)]],
        Field(description="For a point by its name: wordings that say the contrary of it."),
    ] = {}
    needed: Annotated[Needed, Field(description="How many points are wanted.")]


class HandShape(FindShape):
    """Marked by the teacher against named criteria; the marks add up by themselves."""

    hand: Annotated[list[CriterionShape], Field(min_length=1)]
    marks: Annotated[Marks | None, Field(description="May be left out; else the sum of the criteria.")] = None


GIVENS: dict[str, type[Shape]] = {
    "row": RowShape, "listed": ListedShape, "span": SpanShape, "computed": ComputedShape,
}  # fmt: skip
FINDS: dict[str, type[FindShape]] = {
    "quantity": QuantityShape, "limits": LimitsShape, "judge": JudgeShape, "standard": StandardShape,
    "choice": ChoiceShape, "values": ValuesShape, "several": SeveralShape, "match": MatchShape,
    "expression": ExpressionShape, "order": OrderShape, "points": PointsShape, "hand": HandShape,
    "each row": EachRowShape,
}  # fmt: skip
GIVEN_KEYS = {"row of": "row", "one of": "listed", "from": "span", "to": "span", "step": "span", "value": "computed"}
FIND_KEYS = {"answer": "quantity"} | {tag: tag for tag in FINDS if tag not in ("quantity", "values")}
ITEMS: dict[str, type[Shape]] = {
    "lines": LineShape, "slips": SlipShape, "choice": OptionShape, "several": OneOfSeveralShape,
    "match": PairShape,
    "hand": CriterionShape, "columns": MeasuredColumnShape,
    "behind": BehindShape,
}  # fmt: skip


def _given_tag(value: Any) -> str | None:
    return next((GIVEN_KEYS[k] for k in GIVEN_KEYS if k in value), None) if isinstance(value, dict) else None


def _find_tag(value: Any) -> str | None:
    if isinstance(value, dict) and isinstance(value.get("choice"), str):
        return "values"
    return next((FIND_KEYS[k] for k in FIND_KEYS if k in value), None) if isinstance(value, dict) else None


AnyGiven = Annotated[
    Annotated[RowShape, Tag("row")] | Annotated[ListedShape, Tag("listed")] | Annotated[SpanShape, Tag("span")]
    | Annotated[ComputedShape, Tag("computed")],
    Discriminator(_given_tag),
]  # fmt: skip
AnyFind = Annotated[
    Annotated[QuantityShape, Tag("quantity")] | Annotated[LimitsShape, Tag("limits")]
    | Annotated[JudgeShape, Tag("judge")] | Annotated[StandardShape, Tag("standard")]
    | Annotated[ChoiceShape, Tag("choice")] | Annotated[ValuesShape, Tag("values")]
    | Annotated[SeveralShape, Tag("several")] | Annotated[MatchShape, Tag("match")]
    | Annotated[ExpressionShape, Tag("expression")]
    | Annotated[OrderShape, Tag("order")] | Annotated[PointsShape, Tag("points")]
    | Annotated[HandShape, Tag("hand")]
    | Annotated[EachRowShape, Tag("each row")],
    Discriminator(_find_tag),
]  # fmt: skip


class QuestionShape(Shape):
    """One question file."""

    question: Annotated[Text, Field(description="The key: small letters, digits and hyphens.")]
    title: Title
    topic: Annotated[Text, Field(description="The key of the topic: small letters, digits and hyphens.")]
    level: Annotated[Level, Field(description="1 recall of one relation, 2 two steps, 3 several.")]
    setting: Annotated[Text, Field(description="The story; {name} is replaced by the value of a given.")]
    given: Annotated[
        dict[str, AnyGiven], Field(max_length=MOST_GIVENS, description="What the student is told, by name.")
    ] = {}
    table: Annotated[MeasuredTableShape | None, Field(description="Measured data, printed as one table.")] = None
    keep: Annotated[list[Formula], Field(description="Comparisons that every drawn variant satisfies.")] = []
    figure: Annotated[Text, Field(description="A template of bank/figures, by name.")] = ""
    caution: Annotated[Text, Field(description="One line of caution, printed with the question.")] = ""
    find: Annotated[
        dict[str, AnyFind], Field(min_length=1, max_length=MOST_FINDS, description="What to find, by letter.")
    ]


class TableShape(Shape):
    """One table: rows of values that belong together."""

    source: Annotated[Text, Field(description='Where the values come from, or "invented for the demo".')]
    columns: Annotated[dict[str, UnitText], Field(min_length=1, description="Columns and their units; text for words.")]
    rows: Annotated[list[dict[str, Any]], Field(min_length=1, description="Rows: a name, and a cell for each column.")]


class MisconceptionShape(Shape):
    """What a student believes, how it shows, and what to do about it."""

    believes: Text
    shows: Text
    say: Text
    demonstrate: Annotated[Text, Field(description="What to show at the bench.")] = ""
    kit: Annotated[list[Text], Field(description="What to carry for that.")] = []
    published: Annotated[Text, Field(description="Where others have found it: authors, year, title.")] = ""


S = TypeVar("S", bound=Shape)


def validated(shape: type[S], data: Any) -> tuple[S | None, list[dict[str, Any]]]:
    """The data in its shape, or pydantic's list of errors (`type`, `loc`, `ctx`, `input`)."""
    try:
        return shape.model_validate(data), []
    except ValidationError as error:
        return None, [dict(e) for e in error.errors(include_url=False)]


def schema_of(shape: type[Shape]) -> dict[str, Any]:
    """The JSON Schema of a shape as pydantic makes it."""
    return shape.model_json_schema(by_alias=True)


def keys_of(shape: type[Shape]) -> tuple[str, ...]:
    """The keys of a shape as they are typed."""
    return tuple(field.alias or name for name, field in shape.model_fields.items())
