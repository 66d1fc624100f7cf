"""The shapes of a task file, for `task_text`: the task, its rules, what coming late costs."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from witnessmark.files.shapes.values import (
    MOST_QUESTIONS,
    Figures,
    Gravity,
    Lines,
    Marks,
    Shape,
    Share,
    Text,
    Title,
)


class RulesShape(Shape):
    """The rules of a task; every one may be left out."""

    figures: Annotated[Figures, Field(description="Significant figures asked.")] = 3
    carried_forward: Annotated[bool, Field(alias="carried forward")] = True
    unit_missing: Annotated[Marks, Field(alias="unit missing", description="Marks taken off.")] = Decimal("0.5")
    rounded_early: Annotated[Marks, Field(alias="rounded early", description="Marks taken off.")] = Decimal("0.5")
    wrong_unit: Annotated[Marks, Field(alias="wrong unit", description="Marks taken off.")] = Decimal(1)
    power_of_ten: Annotated[Marks, Field(alias="power of ten", description="Marks taken off.")] = Decimal(1)
    unknown_method: Annotated[
        Marks, Field(alias="unknown method", description="Marks for an edit of the right method.")
    ] = Decimal(0)
    figures_mark: Annotated[
        Marks, Field(alias="figures mark", description="Marks taken off a result written to other figures than asked.")
    ] = Decimal(0)
    half_marks: Annotated[bool, Field(alias="half marks")] = True
    ask_below: Annotated[Share, Field(alias="ask below", description="Ask the teacher when less sure than this.")] = (
        Decimal("0.9")
    )
    most_taken_off: Annotated[
        Marks, Field(alias="most taken off", description="The most that several deductions take off one answer.")
    ] = Decimal(1)
    g: Annotated[Gravity, Field(description="The acceleration of free fall that the task takes, m/s^2.")] = Decimal(
        "9.81"
    )


class LateShape(Shape):
    """What coming late costs: marks, or a share of what was earned."""

    marks_off: Annotated[Marks | None, Field(alias="marks off", description="Marks taken off.")] = None
    share_off: Annotated[Share | None, Field(alias="share off", description="A share of the marks earned.")] = None
    each: Annotated[Text, Field(description="day or week, each begun one; left out, it is taken off once.")] = "once"
    at_most: Annotated[Marks | None, Field(alias="at most", description="The most that is taken off.")] = None


class TaskShape(Shape):
    """One task of a class."""

    task: Annotated[Text, Field(description="The key: small letters, digits and hyphens.")]
    title: Title
    questions: Annotated[
        list[Text],
        Field(min_length=1, max_length=MOST_QUESTIONS, description="Questions of the bank, by key, in order."),
    ]
    due: Annotated[Text, Field(description="A date such as 2027-03-05.")] = ""
    rules: RulesShape = RulesShape.model_construct()  # its defaults as they are: fitting them takes a shape to be built
    late: Annotated[LateShape | None, Field(description="What coming late costs; left out, nothing.")] = None
    weight: Annotated[Marks, Field(ge=0, description="The weight among the tasks of the class.")] = Decimal(1)
    attempts: Annotated[Text, Field(description="Which of several attempts counts: best, last or mean.")] = "best"
    layout: Annotated[Text, Field(description="How sheets are laid out: roomy or compact.")] = "roomy"
    working: Annotated[Lines, Field(description="Lines for working at each part.")] = 0
    relations: Annotated[
        bool, Field(description="true: the sheet lists relations of the topics, those needed among others.")
    ] = False
