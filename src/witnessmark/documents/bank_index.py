"""The index of a bank as a page of Markdown: topics by levels, then each topic's questions, easiest first."""

from collections.abc import Iterator, Sequence

from witnessmark.documents.kinds.dispatch import manner_of
from witnessmark.documents.page.wordings import marks_text, total_of
from witnessmark.questions.bank import Bank
from witnessmark.questions.checking.levels import HARDEST, steps
from witnessmark.questions.model.kinds import slips_of
from witnessmark.questions.model.question import Question
from witnessmark.review.year.planning import minutes_of

FOR_TEACHERS = "For a teacher: [what each question can show](INDEX.html), to read and to print."
LEVELS_TOLD = (
    "A level is the number of steps on the longest way to an answer: 1, 2, or 3 for more. Each result is a step, and "
    "each line that is worked from more than lengths."
)
LEVELS = range(1, HARDEST + 1)


def index_page(bank: Bank) -> str:
    """The whole page."""
    return "\n".join([*_head(bank), *_topics(bank), *(line for topic in bank.topics() for line in _topic(bank, topic))])


def _head(bank: Bank) -> list[str]:
    slips = sum(len(slips_of(part)) for question in bank.values() for part in question.parts)
    counts = f"{len(bank)} questions on {len(bank.topics())} topics, with {slips} slips"
    counts += f" and {len(bank.misconceptions)} misconceptions."
    written = "Written by `scripts/write_index.py` from the question files; a test holds it to them."
    return ["# The questions of the bank", "", f"{counts} {written}", "", FOR_TEACHERS, "", LEVELS_TOLD, ""]


def _topics(bank: Bank) -> Iterator[str]:
    yield from _table_head(["topic", *(f"level {level}" for level in LEVELS), "together"])
    for topic in bank.topics():
        found = bank.of_topic(topic)
        counts = [sum(question.level == level for question in found) for level in LEVELS]
        yield _row([f"[{topic}](#{topic})", *map(str, counts), str(len(found))])
    totals = [sum(question.level == level for question in bank.values()) for level in LEVELS]
    yield _row(["together", *map(str, totals), str(len(bank))])
    yield ""


def _topic(bank: Bank, topic: str) -> Iterator[str]:
    yield from (f"## {topic}", "")
    yield from _table_head(["question", "title", "level", "steps", "asks for", "minutes", "marks", "slips", "figure"])
    for question in bank.of_topic(topic):
        yield _row([f"[{question.key}]({topic}/{question.key}.yaml)", question.title, *_facts(question)])
    yield ""


def _facts(question: Question) -> list[str]:
    asked = ", ".join(dict.fromkeys(manner_of(part).word for part in question.parts))
    slips = sum(len(slips_of(part)) for part in question.parts)
    marks = marks_text(total_of(question.parts))
    how_long = str(minutes_of(question))
    return [str(question.level), str(steps(question)), asked, how_long, marks, str(slips), question.figure or "–"]


def _table_head(columns: Sequence[str]) -> tuple[str, str]:
    return _row(columns), "|" + " --- |" * len(columns)


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"
