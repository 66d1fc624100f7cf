"""The index of a bank for a teacher: each question with level, minutes, marks, and what wrong answers can show."""

from collections.abc import Iterator, Sequence

from witnessmark.documents.kinds.dispatch import manner_of
from witnessmark.documents.page.blocks import (
    Block,
    Document,
    Heading,
    Keep,
    Link,
    Note,
    Paragraph,
    Run,
    Runs,
    Table,
    TitleBlock,
    Words,
    words,
)
from witnessmark.documents.page.wordings import marks_text, marks_words, total_of
from witnessmark.questions.bank import Bank
from witnessmark.questions.checking.levels import HARDEST
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Question
from witnessmark.review.year.planning import minutes_of

LEVELS = range(1, HARDEST + 1)
HOW_TO_READ = (
    "Below each question stands what its wrong answers can show, by family, in the words of somebody who believes it; "
    "the key in brackets is what a mark, a review and a plan call it. A level is the number of steps on the longest "
    "way to an answer: 1, 2, or 3 for more. Minutes are a guess: three to read, and two for each mark."
)
OF_NO_FAMILY = "of no family"
NOTHING_SHOWN = "Its wrong answers show no misconception: you mark it, or it waits for you."
FAMILIES = "Which questions show what"
FAMILIES_TOLD = (
    "To see whether a class holds something, set a question of its row. How many wrong methods of the family a "
    "question can show stands in brackets, where it is more than one."
)


def teachers_index(bank: Bank) -> Document:
    """The whole index: topics by levels, each topic's questions, and each family with the questions that show it."""
    shown = {key for question in bank.values() for key in misconceptions_of(question)}
    fields = (
        ("Questions", str(len(bank))),
        ("Topics", str(len(bank.topics()))),
        ("Misconceptions", str(len(shown))),
    )
    blocks: list[Block] = [TitleBlock("For the teacher", "The questions of the bank", "", fields)]
    blocks += [Paragraph(words(HOW_TO_READ)), _topics(bank)]
    for topic in bank.topics():
        blocks += [Heading(topic.capitalize(), 1, anchor=_place_of("topic", topic))]
        blocks += [_question(bank, question) for question in bank.of_topic(topic)]
    blocks += [Heading(FAMILIES, 1, anchor="families"), Note(words(FAMILIES_TOLD)), _families(bank)]
    return Document("The questions of the bank", tuple(blocks), "", "for the teacher: what each question can show")


def misconceptions_of(question: Question) -> tuple[str, ...]:
    """The key of every misconception that a wrong answer to the question can show, as they come."""
    return tuple(dict.fromkeys(key for part in question.parts for key in shown_by(part) if key))


def _topics(bank: Bank) -> Table:
    rows = [_topic_row(bank, topic) for topic in bank.topics()]
    header = ("Topic", *(f"Level {level}" for level in LEVELS), "All", "Min")
    return Table(header, tuple(rows), frozenset(range(1, len(header))), wide=0)


def _topic_row(bank: Bank, topic: str) -> tuple[Runs, ...]:
    found = bank.of_topic(topic)
    counts = [sum(question.level == level for question in found) for level in LEVELS]
    minutes = sum(minutes_of(question) for question in found)
    name: Runs = (Link(topic.capitalize(), _place_of("topic", topic)),)
    return name, *(words(str(number)) for number in (*counts, len(found), minutes))


def _question(bank: Bank, question: Question) -> Block:
    """One question: its title with level, minutes and marks, what it asks for, and what it can show."""
    marks = marks_words(total_of(question.parts))
    aside = f"level {question.level}, about {minutes_of(question)} min, {marks}"
    heading = Heading(question.title, 2, aside=aside, anchor=_place_of("question", question.key))
    asked = Paragraph((Words(question.key, strong=True), Words(f": {_asked(question)}", quiet=True)))
    return Keep((heading, asked, _shown(bank, question)), if_fits=True)


def _asked(question: Question) -> str:
    return ", ".join(f"{part.key} {manner_of(part).word} ({marks_text(part.marks)})" for part in question.parts)


def _shown(bank: Bank, question: Question) -> Block:
    """What the question can show, a row for each family; the sentence that says so where it is nothing."""
    by_family = _by_family(bank, misconceptions_of(question))
    if not by_family:
        return Note(words(NOTHING_SHOWN))
    rows = ((words(family), _beliefs(bank, keys)) for family, keys in by_family)
    return Table(("Family", "What it can show"), tuple(rows), wide=1)


def _by_family(bank: Bank, keys: Sequence[str]) -> list[tuple[str, list[str]]]:
    found: dict[str, list[str]] = {}
    for key in keys:
        found.setdefault(bank.families.get(key, OF_NO_FAMILY), []).append(key)
    return sorted(found.items())


def _beliefs(bank: Bank, keys: Sequence[str]) -> Runs:
    said: list[Run] = []
    for key in keys:
        said += [Words(f"{' ' if said else ''}{bank.misconceptions[key].believes} "), Words(f"({key})", quiet=True)]
    return tuple(said)


def _families(bank: Bank) -> Table:
    """Each family with the questions that can show it, those that show most of it first."""
    held: dict[str, list[tuple[int, str]]] = {}
    for question in bank.values():
        for family, keys in _by_family(bank, misconceptions_of(question)):
            held.setdefault(family, []).append((-len(keys), question.key))
    rows = ((words(family), tuple(_links(sorted(found)))) for family, found in sorted(held.items()))
    return Table(("Family", "Questions"), tuple(rows), wide=1)


def _links(found: Sequence[tuple[int, str]]) -> Iterator[Run]:
    for position, (less, key) in enumerate(found):
        yield from [Words(", ")] if position else []
        yield Link(key, _place_of("question", key))
        yield from [Words(f" ({-less})")] if less < -1 else []


def _place_of(what: str, key: str) -> str:
    return f"{what}-{key}"
