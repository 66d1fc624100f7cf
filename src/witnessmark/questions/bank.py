"""A bank of questions as a value: questions by key, with the misconceptions and tables they draw on."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.question import Misconception, Table
from witnessmark.questions.model.relations import TopicRelations
from witnessmark.words.checks import expect
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import there_are
from witnessmark.words.problems import Problem


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bank(Mapping[str, DrawableQuestion]):
    """Questions by key, in order of topic and key. `notes` are remarks that stop nothing; `figures_path` is the folder
    (a pathlib.Path) of figure templates, `families` holds the title of the family of each misconception, by key, and
    `relations` what the sheets of a topic may list."""

    questions: Mapping[str, DrawableQuestion]
    misconceptions: Mapping[str, Misconception]
    tables: Mapping[str, Table]
    figures_path: Any
    notes: tuple[Problem, ...] = ()
    families: Mapping[str, str] = field(default_factory=dict)
    relations: Mapping[str, TopicRelations] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for key, question in self.questions.items():
            expect(key == question.key, "key of a question", question.key, key)

    def __repr__(self) -> str:
        return f"<Bank of {len(self)} questions in {len(self.topics())} topics>"

    def __getitem__(self, key: str) -> DrawableQuestion:
        if key not in self.questions:
            raise UnknownName(str(key), f"no question of this bank; {there_are(str(key), self.questions)}")
        return self.questions[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.questions)

    def __len__(self) -> int:
        return len(self.questions)

    def topics(self) -> tuple[str, ...]:
        """Every topic, in alphabetical order."""
        return tuple(sorted({question.topic for question in self.questions.values()}))

    def of_topic(self, topic: str) -> tuple[DrawableQuestion, ...]:
        """The questions of a topic, easiest first."""
        found = [question for question in self.questions.values() if question.topic == topic]
        return tuple(sorted(found, key=lambda q: (q.level, q.key)))

    def relations_for(self, key: str) -> TopicRelations | None:
        """What a sheet can list of the topic of a question; None for a question or a topic that has nothing."""
        return self.relations.get(self.questions[key].topic) if key in self.questions else None
