"""What was read from the text of a file without a problem is kept: a process that needs a bank again and again (a class
is issued, marked, returned) reads only the files that changed. Problems name a file, so they are found anew."""

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, field, replace
from typing import Generic, TypeVar

from witnessmark.files.bank.misconceptions_text import misconceptions_from_text
from witnessmark.files.bank.question_text import Known, question_from_text
from witnessmark.files.bank.relations_text import relations_from_text
from witnessmark.files.shapes.yaml_text import YamlText
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.question import Misconception, Table
from witnessmark.questions.model.relations import TopicRelations
from witnessmark.words.problems import Problem

MOST_QUESTIONS = 1_000
MOST_MISCONCEPTIONS = 8
Value = TypeVar("Value")
MisconceptionsRead = tuple[Mapping[str, Misconception], YamlText]


@dataclass(frozen=True, slots=True)
class Kept(Generic[Value]):
    """Values by what they were made of; where there are `most` of them, the oldest goes."""

    most: int
    values: dict[Hashable, Value] = field(default_factory=dict)

    def keep(self, made_of: Hashable, value: Value) -> Value:
        """The value, which is kept from now on."""
        while len(self.values) >= self.most:
            self.values.pop(next(iter(self.values)), None)
        self.values[made_of] = value
        return value


_QUESTIONS: Kept[DrawableQuestion] = Kept(MOST_QUESTIONS)
_MISCONCEPTIONS: Kept[MisconceptionsRead] = Kept(MOST_MISCONCEPTIONS)
_RELATIONS: Kept[Mapping[str, TopicRelations]] = Kept(MOST_MISCONCEPTIONS)


def question_once(
    text: str, file: str, tables: Mapping[str, Table], known: Known, around: Hashable
) -> tuple[DrawableQuestion | None, tuple[Problem, ...]]:
    """The question of a file, or None with every problem of it; `around` is all that `tables` and `known` were read
    from, so that equal texts around mean an equal question."""
    if kept := _QUESTIONS.values.get((text, around)):
        return kept, ()
    question, problems = question_from_text(text, file, tables, known)
    if question is not None and not problems:
        _QUESTIONS.keep((text, around), question)
    return question, problems


def misconceptions_once(text: str, file: str) -> tuple[Mapping[str, Misconception], YamlText, tuple[Problem, ...]]:
    """Every misconception by key, the file as read, and every problem."""
    if kept := _MISCONCEPTIONS.values.get(text):
        return kept[0], replace(kept[1], file=file), ()
    found, read, problems = misconceptions_from_text(text, file)
    if not problems:
        _MISCONCEPTIONS.keep(text, (found, read))
    return found, read, problems


def relations_once(
    text: str, file: str, topics: Mapping[str, Collection[str]] | None
) -> tuple[Mapping[str, TopicRelations], tuple[Problem, ...]]:
    """The relations of each topic, and every problem; `topics` holds the keys of the questions of each topic."""
    around = None if topics is None else tuple((topic, *keys) for topic, keys in topics.items())
    if (kept := _RELATIONS.values.get((text, around))) is not None:
        return kept, ()
    found, problems = relations_from_text(text, file, topics)
    if not problems:
        _RELATIONS.keep((text, around), found)
    return found, problems
