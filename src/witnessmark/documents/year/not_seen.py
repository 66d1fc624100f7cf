"""What was not seen in a year: where somebody had the chance, and where nobody had one, by topic, counts first."""

from collections.abc import Sequence

from witnessmark.documents.page.blocks import Block, Folded, Heading, Note, Paragraph, Words, words
from witnessmark.documents.year.naming import Naming, named
from witnessmark.review.year.recurrence import Standing, YearRecurrence
from witnessmark.review.year.sentences import counted
from witnessmark.review.year.topics import by_topic
from witnessmark.review.year.year_review import YearReview


def not_seen_blocks(review: YearReview, by: Naming) -> list[Block]:
    """Nothing where all was seen. On paper the topics stand with their counts alone."""
    absent, unknown = review.standing(Standing.NOT_SEEN), review.standing(Standing.NO_CHANCE)
    blocks: list[Block] = []
    if absent:
        told = f"{_misconceptions(absent)}."
        blocks.append(Paragraph((Words("Not seen, with the chance: ", strong=True), Words(told))))
        most = sorted(absent, key=lambda r: -len(r.could))
        names = "; ".join(f"{named(r.key)} ({len(r.could)} had the chance)" for r in most)
        blocks.append(Folded("Which, and how many had the chance", (Note(words(f"{names}.")),)))
    if unknown:
        told = f"{_misconceptions(unknown)}. No answer that came in could have shown them, so nothing is known."
        blocks.append(Paragraph((Words("Not seen, no chance: ", strong=True), Words(told))))
        topics = by_topic(unknown, review.topic_of)
        if by.has_answers:
            blocks += [Folded(f"{len(several)} in {topic}", (_names(several),)) for topic, several in topics]
        else:
            blocks.append(Note(words(", ".join(f"{len(several)} in {topic}" for topic, several in topics) + ".")))
    return [Heading("Not seen"), *blocks] if blocks else []


def _misconceptions(found: Sequence[YearRecurrence]) -> str:
    return counted(len(found), "misconception")


def _names(found: Sequence[YearRecurrence]) -> Note:
    return Note(words("; ".join(named(recurrence.key) for recurrence in found) + "."))
