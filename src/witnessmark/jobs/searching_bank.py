"""Questions of a bank found by topic, level, misconception and words, with what a teacher wants to know of each."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from witnessmark.documents.page.wordings import total_of
from witnessmark.questions.bank import Bank
from witnessmark.questions.checking.spread import spread
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Question
from witnessmark.record.record import Record


@dataclass(frozen=True, slots=True)
class Sought:
    """What a question should have; empty where it does not matter. `words` are sought in title, key and setting."""

    topic: str = ""
    level: str = ""
    misconception: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Found:
    """A question of the bank: its marks, as text, and the misconceptions that it can show, in words."""

    question: DrawableQuestion
    marks: str
    shows: tuple[tuple[str, str], ...]


def found_in(bank: Bank, sought: Sought) -> tuple[Found, ...]:
    """The questions that have all that is sought, by topic and level."""
    fit = (question for question in bank.values() if _fits(question, sought))
    return tuple(found(question) for question in sorted(fit, key=lambda q: (q.topic, q.level, q.key)))


def found(question: DrawableQuestion) -> Found:
    """One question with what a teacher wants to know of it."""
    return Found(question, f"{total_of(question.parts).normalize():f}", tuple(_shows(question)))


def misconceptions_in(bank: Bank) -> Mapping[str, str]:
    """Every misconception that a question can show, with what it is, by key in the order of its words."""
    told = {key: words for question in bank.values() for key, words in _shows(question)}
    return dict(sorted(told.items(), key=lambda one: one[1].casefold()))


def left(question: Question, taken: int) -> int:
    """How many more variants of a question can be issued where so many were."""
    return max(spread(question).issuable - taken, 0)


def taken_in(record: Record) -> Mapping[str, int]:
    """How many variants of each question were issued, by its key."""
    counts: dict[str, set[object]] = {}
    for task in record.tasks():
        for sheet in record.sheets(task):
            for variant in sheet.variants:
                counts.setdefault(variant.question.key, set()).add(variant.identity)
    return {key: len(identities) for key, identities in counts.items()}


def _shows(question: Question) -> Iterator[tuple[str, str]]:
    keys = dict.fromkeys(key for part in question.parts for key in shown_by(part) if key)
    for key in keys:
        known = question.misconceptions.get(key)
        yield key, known.believes.rstrip(".") if known and known.believes else key.replace("-", " ")


def _fits(question: DrawableQuestion, sought: Sought) -> bool:
    text = f"{question.title} {question.key} {question.setting}".casefold()
    return (
        sought.topic in ("", question.topic)
        and sought.level in ("", str(question.level))
        and (not sought.misconception or any(sought.misconception in shown_by(part) for part in question.parts))
        and all(word in text for word in sought.words.casefold().split())
    )
