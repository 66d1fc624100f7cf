"""The review of a class as a document: what recurs and in whom, how hard each part was, what waits for the teacher."""

from collections.abc import Sequence

from witnessmark.documents.blocks import (
    Block,
    Document,
    Figure,
    Heading,
    Inset,
    Note,
    Paragraph,
    Runs,
    Table,
    TitleBlock,
    Typed,
    Words,
    words,
)  # fmt: skip
from witnessmark.documents.charts import Bar, bar_chart
from witnessmark.documents.html import html_of
from witnessmark.review.class_review import ClassReview, Facility, Recurrence, TrayItem


def review_page(review: ClassReview) -> str:
    """The review as one self-contained HTML page."""
    return html_of(review_document(review))


def review_document(review: ClassReview) -> Document:
    """The review as neutral blocks."""
    blocks = [_head(review), *_recurrences(review), *_facilities(review.facilities), *_in_tray(review.in_tray)]
    return Document(review.title, tuple(blocks), foot="For the teacher. Marks and names are proposals until you agree.")


def title_of(key: str) -> str:
    """A misconception's key as words: `face-area-for-sheared-edge` as `Face area for sheared edge`."""
    text = key.replace("-", " ")
    return text[:1].upper() + text[1:]


def _head(review: ClassReview) -> TitleBlock:
    fields = (
        ("Returned", f"{review.returned} of {review.issued}"),
        ("Waiting in the in-tray", str(len(review.in_tray))),
        ("Not back yet", ", ".join(review.outstanding) or "nobody"),
    )
    return TitleBlock("Class review", review.title, "", fields)


def _recurrences(review: ClassReview) -> list[Block]:
    found = review.recurrences
    blocks: list[Block] = [Heading("What recurs")]
    if not found:
        return [*blocks, Paragraph(words("No known misconception was seen."))]
    most = max(len(r.students) for r in found)
    bars = [Bar(title_of(r.misconception.key), len(r.students) / most, _students(len(r.students))) for r in found]
    described = "; ".join(f"{bar.label}: {bar.value}" for bar in bars)
    blocks.append(Figure(bar_chart(bars, "How many students show each misconception", described), described))
    groups = sorted({s.group for r in found for s in r.seen})
    if len(groups) > 1:
        blocks.append(_by_group(found, groups))
    return [*blocks, *(block for r in found for block in _recurrence(r))]


def _students(count: int) -> str:
    return "1 student" if count == 1 else f"{count} students"


def _by_group(found: Sequence[Recurrence], groups: Sequence[str]) -> Table:
    rows = []
    for r in found:
        counts = [len({s.student for s in r.seen if s.group == group}) for group in groups]
        rows.append((words(title_of(r.misconception.key)), *(words(str(n) if n else "–") for n in counts)))
    header = ("Misconception", *(group or "no group" for group in groups))
    return Table(header, tuple(rows), frozenset(range(1, len(header))), "Students by group")


def _recurrence(r: Recurrence) -> list[Block]:
    m = r.misconception
    who: dict[str, list[str]] = {}
    for seen in r.seen:
        sure = "" if seen.sure >= 0.9 else f", {seen.sure:.0%} sure"
        who.setdefault(seen.group or "no group", []).append(f"{seen.student} ({seen.label}{sure})")
    listed = tuple((words(group), words(", ".join(students))) for group, students in sorted(who.items()))
    inner: list[Block] = [
        Paragraph((Words(f"{label}: ", strong=True), Words(text)))
        for label, text in (
            ("Believes", m.believes), ("Shows as", m.shows), ("Say", m.say), ("Demonstrate", m.demonstrate),
            ("Kit", ", ".join(m.kit)),
        )
        if text
    ]  # fmt: skip
    return [
        Heading(title_of(m.key), 3, aside=f"{_students(len(r.students))}, {r.share:.0%} of those returned"),
        Inset("", tuple(inner)),
        Table(("Where", "Who"), listed),
    ]


def _facilities(found: Sequence[Facility]) -> list[Block]:
    parts = [f for f in found if not f.is_line]
    if not parts:
        return []
    bars = [Bar(f.label, f.facility, f"{f.facility:.0%}") for f in parts]
    described = "; ".join(f"{bar.label}: {bar.value}" for bar in bars)
    rows = tuple(
        (words(f.label), words(f.ask), words(f"{f.facility:.2f}"), words(", ".join(f"{v} {n}" for v, n in f.verdicts)))
        for f in found
    )
    return [
        Heading("How hard each part was"),
        Note(
            words("Facility: mean marks over marks available, among those who returned a sheet. 1 is easy, 0 is hard.")
        ),
        Figure(bar_chart(bars, "Facility of each part", described), described),
        Table(("Part", "What was asked", "Facility", "Verdicts"), rows, frozenset({2})),
    ]


def _in_tray(items: Sequence[TrayItem]) -> list[Block]:
    if not items:
        return [Heading("In-tray"), Paragraph(words("Nothing waits for you."))]
    rows = tuple(
        (words(item.sheet_code), words(item.student), words(item.label), _typed(item.raw), words(item.proposal),
         words("; ".join(item.reasons)))
        for item in items
    )  # fmt: skip
    header = ("Sheet", "Student", "Answer", "Typed", "Proposal", "Why it waits")
    return [Heading("In-tray"), Table(header, rows)]


def _typed(raw: str) -> Runs:
    return (Typed(raw),)
