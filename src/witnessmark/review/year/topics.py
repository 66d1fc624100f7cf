"""In which topic a misconception belongs: the one of most questions that can show it."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Question
from witnessmark.review.year.recurrence import YearRecurrence

NO_TOPIC = "no topic, for no question asks for them yet"


def topics_of(questions: Iterable[Question]) -> dict[str, str]:
    """The topic of each misconception that a question can show, by its key; of equal ones the first."""
    found: dict[str, Counter[str]] = {}
    for question in questions:
        for key in {key for part in question.parts for key in shown_by(part) if key}:
            found.setdefault(key, Counter())[question.topic] += 1
    return {key: max(sorted(counts), key=counts.__getitem__) for key, counts in found.items()}


def by_topic(
    recurrences: Sequence[YearRecurrence], topics: Mapping[str, str]
) -> list[tuple[str, tuple[YearRecurrence, ...]]]:
    """Misconceptions by topic, the largest topic first; those that no question asks for at the end."""
    found: dict[str, list[YearRecurrence]] = {}
    for recurrence in recurrences:
        found.setdefault(topics.get(recurrence.key, NO_TOPIC), []).append(recurrence)
    ordered = sorted(found.items(), key=lambda item: (item[0] == NO_TOPIC, -len(item[1]), item[0]))
    return [(topic, tuple(several)) for topic, several in ordered]
