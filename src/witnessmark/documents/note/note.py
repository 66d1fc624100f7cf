"""A progress note in plain words, for a student or for whoever supports them at the yard, to edit before it is sent."""

from collections.abc import Mapping
from datetime import date

from witnessmark.documents.page.blocks import Block, Caution, Document, Heading, Paragraph, Typed, Words, words
from witnessmark.documents.page.wordings import date_text, marks_text
from witnessmark.questions.model.question import Misconception
from witnessmark.review.year.kit import cautions_of
from witnessmark.review.year.needs import Need
from witnessmark.review.year.progress import Progress

MOST_NEEDS = 3
"""More than this is not practised at once."""


def note_document(
    title: str, progress: Progress, known: Mapping[str, Misconception], day: date, for_yard: bool, with_marks: bool
) -> Document:
    """The note of one student; it names nobody else, and has marks where they are asked for."""
    student = progress.student
    who = student.name or student.code
    blocks: list[Block] = [Heading(f"How it is going: {who}", 1), Paragraph(words(f"{title}, {date_text(day)}"))]
    blocks += [*_secure(progress, for_yard), *_practise(progress, known, for_yard), *_open(progress, for_yard)]
    blocks += _marks(progress) if with_marks else []
    return Document(f"Progress of {who}", tuple(blocks), "", "")


def _secure(progress: Progress, for_yard: bool) -> list[Block]:
    whose = "they" if for_yard else "you"
    blocks: list[Block] = [Heading("What is secure")]
    if progress.secure:
        told = f"Every answer was right the last time {whose} worked on: {'; '.join(progress.secure)}."
    else:
        told = "No question was right in every answer yet. That says where to begin, and no more than that."
    blocks.append(Paragraph(words(told)))
    if progress.faded:
        blocks.append(Paragraph(words(_faded(len(progress.faded), for_yard))))
    return blocks


def _faded(count: int, for_yard: bool) -> str:
    whose, they = ("their", "they") if for_yard else ("your", "you")
    if count == 1:
        return f"A way of working that once led {whose} answers astray did not show the last time {they} could meet it."
    return f"{count} ways of working that once led {whose} answers astray did not show the last time {they} met them."


def _practise(progress: Progress, known: Mapping[str, Misconception], for_yard: bool) -> list[Block]:
    blocks: list[Block] = [Heading("What to practise")]
    taken = progress.needs[:MOST_NEEDS]
    for need in taken:
        blocks += _need(need, known.get(need.key), for_yard)
    if not taken:
        blocks.append(Paragraph(words("No wrong way of working showed that still stands.")))
    if progress.unsure:
        blocks.append(Paragraph(words(f"To work once more: {'; '.join(progress.unsure)}.")))
    return blocks


def _need(need: Need, found: Misconception | None, for_yard: bool) -> list[Block]:
    last = need.last
    lead = f"In the answer {last.label} of {last.task_key} "
    wrote = (Words(f"{lead}{'there stood' if for_yard else 'you wrote'} "), Typed(last.typed or "–"), Words(". "))
    doubt = Words("How it came about is not sure: ask first. ") if for_yard and last.sure < 0.9 else Words("")
    told: list[Block] = [Paragraph((*wrote, doubt, Words(found.say if found else "")))]
    if for_yard and found and found.demonstrate:
        kit = f" It takes: {', '.join(found.kit)}." if found.kit else ""
        told.append(Paragraph((Words("What helps at the bench: ", strong=True), Words(f"{found.demonstrate}{kit}"))))
        cautions = cautions_of(found.demonstrate, found.kit)
        told += [Caution(" ".join(cautions))] if cautions else []
    return told


def _open(progress: Progress, for_yard: bool) -> list[Block]:
    told = "What was not asked yet is not known: nothing here speaks of it."
    missing = f" Not handed in so far: {'; '.join(progress.missing)}." if progress.missing else ""
    ask = " Please let them work it themselves, and ask how they got there." if for_yard else ""
    return [Heading("What is still open"), Paragraph(words(f"{told}{missing}{ask}"))]


def _marks(progress: Progress) -> list[Block]:
    blocks: list[Block] = [Heading("Marks")]
    for one in progress.marks:
        waits = f", {one.waiting} not marked yet" if one.waiting else ""
        blocks.append(Paragraph(words(f"{one.title}: {marks_text(one.marks)} of {marks_text(one.out_of)}{waits}")))
    return blocks
