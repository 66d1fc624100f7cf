"""What a program hands over as answers, as the texts that a student would have typed."""

from collections.abc import Iterable, Mapping

import numpy as np

from witnessmark.maths.plain_numbers import exact_number, is_missing
from witnessmark.questions.model.kinds import limits_in, lines_of
from witnessmark.questions.model.parts import Kind
from witnessmark.questions.model.question import Question
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import with_hint

Answer = object
"""A text as it was typed, a number (which has no unit then), True or False for a judgement, None for nothing."""
FORMS = "text such as '94.2 kN', a number, None where nothing was entered, or True and False for a judgement"
YES_NO = {True: "yes", False: "no"}


def keys_of(question: Question) -> tuple[str, ...]:
    """The key of every place for an answer, in the order of the sheet: lines before their part."""
    return tuple(k for part in question.parts for k in (*(f"{part.key}.{n.name}" for n in lines_of(part)), part.key))


def places_of(question: Question) -> tuple[str, ...]:
    """The same with the keys of two limits (`a.largest`, `a.smallest`), which may be answered one by one."""
    return (*keys_of(question), *sides_of(question))


def sides_of(question: Question) -> tuple[str, ...]:
    """The keys of the values of two limits."""
    return tuple(side.key for part in limits_in(question.parts) for side in part.sides)


def answer_texts(question: Question, answers: Mapping[str, Answer]) -> dict[str, str]:
    """The text of every answer, by key. UnknownName for a key that is no part or line, TypeError for what is no answer.

    Not a number (NaN), which is how tables leave a cell empty, is a blank as None is.
    """
    known = places_of(question)
    if unknown := [str(key) for key in answers if key not in known]:
        parts = f"the parts of {question.key} are {', '.join(known)}"
        raise UnknownName(", ".join(unknown), f"{parts}{with_hint(unknown[0], known)}")
    judged = judgements_of(question)
    return {key: answer_text(key, value, key in judged) for key, value in answers.items()}


def judgements_of(question: Question) -> frozenset[str]:
    """The keys where yes or no is asked."""
    return frozenset(part.key for part in question.parts if part.kind is Kind.JUDGE)


def answer_text(key: str, value: Answer, judged: bool) -> str:
    """One answer as a student would have typed it; TypeError, which names the key, for what is no answer."""
    if isinstance(value, str):
        return value
    if is_missing(value):
        return ""
    if judged and isinstance(value, bool | np.bool_):
        return YES_NO[bool(value)]
    if exact_number(value) is None:
        raise TypeError(f"{key}: expected {FORMS}; found {value!r}")
    return str(value)


def column_texts(key: str, values: Iterable[Answer], judged: bool) -> list[str]:
    """The answers of a column as texts."""
    return [value if type(value) is str else answer_text(key, value, judged) for value in values]
