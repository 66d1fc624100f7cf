"""One page to leave with a student: what was looked at, what to try, in words for them and with no marks."""

from collections.abc import Mapping

from witnessmark.documents.page.blocks import (
    AnswerBox,
    Block,
    Caution,
    Document,
    Figure,
    Heading,
    Keep,
    Paragraph,
    TitleBlock,
    Typed,
    Words,
    words,
)
from witnessmark.documents.page.wordings import GENERAL_CAUTION, date_text
from witnessmark.documents.visits.trip import NARROW, Shown, Shows, once
from witnessmark.questions.model.question import Misconception
from witnessmark.review.year.trip import Seeing, Trip


def leaving_document(seeing: Seeing, trip: Trip, known: Mapping[str, Misconception], shows: Shows) -> Document:
    """The page for one student; it names the code alone."""
    fields = [("For", seeing.student.code), *([("Day", date_text(trip.day))] if trip.day else [])]
    blocks: list[Block] = [TitleBlock("After the visit", "What we looked at", "", tuple(fields))]
    drawn: set[str] = set()
    for need in seeing.needs:
        shown = once(shows.get((seeing.student.code, need.key)), drawn)
        blocks += _need(need.last.typed, known.get(need.key), shown)
    if not seeing.needs:
        blocks.append(Paragraph(words("We looked at how some of your answers came about.")))
    try_it = Paragraph(words("Work one of your own answers again with this in mind, and write down what changed:"))
    blocks.append(Keep((Heading("To try", 2), try_it, AnswerBox((), lines=4))))
    blocks.append(Caution(GENERAL_CAUTION))
    return Document("After the visit", tuple(blocks), "", "Ask when anything here is not clear.")


def _need(typed: str, found: Misconception | None, shown: Shown | None) -> list[Block]:
    inner: list[Block] = [Heading(shown.title if shown else "One of your answers", 2)]
    inner.append(Paragraph((Words("You wrote "), Typed(typed or "–"), Words("."))))
    if shown and shown.figure:
        inner.append(Figure(shown.figure.svg, shown.figure.alt, min(shown.figure.width or NARROW, NARROW)))
    if found:
        inner.append(Paragraph((Words("Look at this. ", strong=True), Words(found.say))))
    return [Keep(tuple(inner))]
