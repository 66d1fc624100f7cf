"""The shapes of the file `bank/relations.yaml`: of each topic the letters and the relations."""

from typing import Annotated

from pydantic import Field

from witnessmark.files.shapes.values import IS, SYMBOL, UNIT, Formula, Shape, Text

MOST_RELATIONS, MOST_OF_LETTERS = 40, 80  # of one topic: a list of more is no help


class NamedLetterShape(Shape):
    """What one letter stands for: {is: stress, unit: MPa}."""

    is_: IS
    unit: UNIT = ""
    symbol: SYMBOL = ""


class RelationShape(Shape):
    """One relation: {letter: sigma, equals: F/A, needed by: [keel-bolt]}."""

    letter: Annotated[Text, Field(description="The letter that it finds.")]
    equals: Annotated[Formula, Field(description="What that equals, as a formula of the topic's letters.")]
    holds: Annotated[Text, Field(description="For what it holds, such as: for a thin wall.")] = ""
    needed_by: Annotated[
        list[Text], Field(alias="needed by", description="The questions of the topic that need it, by key.")
    ] = []


class TopicRelationsShape(Shape):
    """The relations of one topic."""

    letters: Annotated[
        dict[str, NamedLetterShape],
        Field(min_length=1, max_length=MOST_OF_LETTERS, description="What each letter stands for, by name."),
    ]
    relations: Annotated[
        list[RelationShape], Field(min_length=1, max_length=MOST_RELATIONS, description="Relations of these letters.")
    ]
