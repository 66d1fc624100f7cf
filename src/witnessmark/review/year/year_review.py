"""Everything that the review of a year rests on, worked out once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from witnessmark.questions.model.question import Misconception
from witnessmark.review.year.chances import Chance
from witnessmark.review.year.fading import Faded, faded
from witnessmark.review.year.history import Year
from witnessmark.review.year.needs import SameNeed, same_needs
from witnessmark.review.year.recurrence import Standing, YearRecurrence
from witnessmark.review.year.strip import Row, strip_of
from witnessmark.review.year.task_parts import TaskParts, task_parts

NO_TOPICS: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class YearReview:
    """A class over its year: what recurs, what faded, who needs the same, the strip, the parts of each task; the topic
    that each misconception belongs to, by its key."""

    year: Year
    misconceptions: Mapping[str, Misconception]
    recurrences: tuple[YearRecurrence, ...]
    faded: tuple[Faded, ...]
    same: tuple[SameNeed, ...]
    strip: tuple[Row, ...]
    parts: tuple[TaskParts, ...]
    topic_of: Mapping[str, str]

    def standing(self, *wanted: Standing) -> tuple[YearRecurrence, ...]:
        """The misconceptions of which this is known."""
        return tuple(r for r in self.recurrences if r.standing in wanted)

    @property
    def topics(self) -> tuple[str, ...]:
        """The topics in which anything that was seen had a chance, in the order of the alphabet."""
        return tuple(sorted({c.topic for r in self.recurrences if r.seen for c in r.chances}))


def year_review(
    year: Year,
    misconceptions: Mapping[str, Misconception],
    recurrences: Sequence[YearRecurrence],
    topic_of: Mapping[str, str] = NO_TOPICS,
) -> YearReview:
    """The review of a year in which something was marked."""
    found = tuple(parts for task in year.tasks if (parts := task_parts(task)))
    return YearReview(
        year, misconceptions, tuple(recurrences), faded(recurrences, year), same_needs(recurrences), strip_of(year),
        found, topic_of,
    )  # fmt: skip


def in_topic(recurrence: YearRecurrence, topic: str) -> tuple[Chance, ...]:
    """Its chances in one topic."""
    return tuple(chance for chance in recurrence.chances if chance.topic == topic)
