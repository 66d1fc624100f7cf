"""The review of a class as a document: what recurs and in whom, how hard each part was, what waits for the teacher."""

from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from witnessmark.documents.page.blocks import (
    Block,
    Document,
    Figure,
    Heading,
    Inset,
    Keep,
    Note,
    Paragraph,
    Run,
    Runs,
    Table,
    TitleBlock,
    Typed,
    Words,
    words,
)  # fmt: skip
from witnessmark.documents.page.charts import Bar, bar_chart
from witnessmark.documents.page.html import html_of
from witnessmark.documents.review.shared_methods import shared_methods_blocks
from witnessmark.marking.outcome import Verdict
from witnessmark.review.class_review import ClassReview, Facility, NoteRead, Recurrence, TrayItem

CHART_WIDTH = 320.0  # points
# Of a very large class the page shows the most; the gradebook and the JSON beside the page hold all.
SURE = 0.9  # a name less sure than this says how sure it is; the default below which a teacher is asked
MOST_NAMED, MOST_BARS, MOST_GROUPS, MOST_WAITING = 60, 20, 12, 400
MODERATE = "witnessmark moderate CLASS SHEET ANSWER --marks MARKS --why REASON --who NAME"


def review_page(review: ClassReview) -> str:
    """The review as one self-contained HTML page."""
    return html_of(review_document(review))


def review_document(review: ClassReview) -> Document:
    """The review as neutral blocks."""
    blocks = [
        _head(review), *_recurrences(review), *shared_methods_blocks(review.searched), *_facilities(review.facilities),
        *_in_tray(review.in_tray), *_notes(review.notes),
    ]  # fmt: skip
    return Document(review.title, tuple(blocks), foot="For the teacher. Marks and names are proposals until you agree.")


def title_of(key: str) -> str:
    """A misconception's key as words: `face-area-for-sheared-edge` as `Face area for sheared edge`."""
    text = key.replace("-", " ")
    return text[:1].upper() + text[1:]


def _head(review: ClassReview) -> TitleBlock:
    fields = (
        ("Returned", f"{review.returned} of {review.issued}"),
        ("Waiting in the in-tray", counted(len(review.in_tray), "answer")),
        ("Not back yet", _first(review.outstanding, ", ") or "nobody"),
    )
    return TitleBlock("Class review", review.title, "", fields)


def _first(names: Sequence[str], between: str) -> str:
    """The names, or of many the first ones and how many more there are."""
    more = len(names) - MOST_NAMED
    shown = [*names[:MOST_NAMED], f"and {more} more"] if more > 0 else names
    return between.join(shown)


def _recurrences(review: ClassReview) -> list[Block]:
    found = review.recurrences
    blocks: list[Block] = [Heading("What recurs")]
    if not found:
        return [*blocks, Paragraph(words("No known misconception was seen."))]
    most = max(len(r.students) for r in found)
    bars = [
        Bar(title_of(r.misconception.key), len(r.students) / most, counted(len(r.students), "student"))
        for r in found[:MOST_BARS]
    ]
    described = "; ".join(f"{bar.label}: {bar.value}" for bar in bars)
    blocks.append(_chart(bars, "How many students show each misconception", described))
    seen = Counter(s.group for r in found for s in r.seen)
    if len(seen) > 1:
        groups = sorted(group for group, _ in seen.most_common(MOST_GROUPS))
        blocks.append(_by_group(found, groups, "Students by group" + _of_many(len(seen))))
    return [*blocks, *(_recurrence(r) for r in found)]


def _chart(bars: Sequence[Bar], title: str, described: str) -> Figure:
    return Figure(bar_chart(bars, title, described), described, CHART_WIDTH)


def counted(count: int, what: str) -> str:
    """`1 student`, `5 students`."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _of_many(groups: int) -> str:
    return f": the {MOST_GROUPS} of {groups} groups with the most sightings" if groups > MOST_GROUPS else ""


def _by_group(found: Sequence[Recurrence], groups: Sequence[str], caption: str) -> Table:
    rows = []
    for r in found:
        counts = [len({s.student for s in r.seen if s.group == group}) for group in groups]
        total = Words(str(len(r.students)), strong=True)
        rows.append((words(title_of(r.misconception.key)), (total,), *(words(str(n) if n else "–") for n in counts)))
    header = ("Misconception", "All", *(group or "no group" for group in groups))
    return Table(header, tuple(rows), frozenset(range(1, len(header))), caption, whole=frozenset({0}))


def _recurrence(r: Recurrence) -> Keep:
    m = r.misconception
    told = (
        ("Believes", m.believes), ("Shows as", m.shows), ("Say", m.say), ("Demonstrate", m.demonstrate),
        ("Kit", ", ".join(m.kit)), ("Seen in", _seen_in(r)),
    )  # fmt: skip
    inner = tuple(Paragraph((Words(f"{label}: ", strong=True), Words(text))) for label, text in told if text)
    heading = Heading(title_of(m.key), 3, aside=f"{len(r.students)} of the {r.returned} who returned a sheet")
    return Keep((heading, Inset("", inner)))


def _seen_in(r: Recurrence) -> str:
    """Everybody who shows it, group by group."""
    who: dict[str, list[str]] = {}
    for seen in sorted(r.seen, key=lambda s: s.group)[:MOST_NAMED]:
        sure = "" if seen.sure >= SURE else f", {seen.sure:.0%} sure"
        who.setdefault(seen.group or "no group", []).append(f"{seen.student} ({seen.label}{sure})")
    more = len(r.seen) - MOST_NAMED
    rest = [f"and {more} more"] if more > 0 else []
    return "; ".join([*(f"{group} {', '.join(students)}" for group, students in who.items()), *rest])


def _facilities(found: Sequence[Facility]) -> list[Block]:
    parts = [f for f in found if not f.is_line]
    if not parts:
        return []
    marked = [f for f in parts if f.facility is not None]
    bars = [Bar(f.label, f.facility or 0.0, _share(f)) for f in marked]
    described = "; ".join(f"{f.label}: {_share(f)}" for f in parts)
    rows = tuple(
        (words(f.label), (Words(f.ask, quiet=f.is_line),), words(_share(f)), words(_verdicts(f))) for f in found
    )
    explained = (
        "Facility is mean marks over marks available, of those who returned a sheet: 1 is easy, 0 is hard. "
        "Answers that wait for your mark are left out."
    )
    note = Note(words(f"{explained} A step left blank has its marks where the result shows that it was right."))
    chart = [_chart(bars, "Facility of each part", described)] if bars else []
    return [
        Keep((Heading("How hard each part was"), note, *chart)),
        Table(("Part", "What was asked", "Facility", "Verdicts"), rows, frozenset({2}), whole=frozenset({0})),
    ]


def _share(f: Facility) -> str:
    if f.facility is not None:
        return f"{f.facility:.2f}"
    return "set aside" if any(verdict is Verdict.SET_ASIDE for verdict, _ in f.verdicts) else "none marked yet"


def _verdicts(f: Facility) -> str:
    counts = ", ".join(f"{count} {verdict}" for verdict, count in f.verdicts)
    return f"{counts}; left out: {f.waiting}" if f.waiting else counts


def _in_tray(items: Sequence[TrayItem]) -> list[Block]:
    if not items:
        return [Heading("In-tray"), Paragraph(words("Nothing waits for you."))]
    shown = items[:MOST_WAITING]
    alike = [list(some) for _, some in groupby(shown, key=lambda i: (i.sheet_code, i.reasons))]
    header = ("Sheet", "Student", "Answers", "Why it waits")
    told = (Words("To change a mark, with its reason kept: "), Typed(MODERATE))
    more = len(items) - len(shown)
    rest = [Paragraph(words(f"And {more} more, which the gradebook lists."))] if more else []
    table = Table(header, tuple(_waiting(some) for some in alike), whole=frozenset({0, 1}))
    return [Heading("In-tray"), Note(told), table, *rest]


def _waiting(items: Sequence[TrayItem]) -> tuple[Runs, ...]:
    """A row for what waits for the same reasons on one sheet."""
    first = items[0]
    runs: list[Run] = []
    for n, item in enumerate(items):
        runs += [Words("; ")] if n else []
        runs += [Words(f"{item.label} ", strong=True), Typed(item.raw), Words(f" {item.proposal}", quiet=True)]
    return (words(first.sheet_code), words(first.student), tuple(runs), words("; ".join(first.reasons)))


def _notes(notes: Sequence[NoteRead]) -> list[Block]:
    """What students wrote, of everybody: it is never cut short, since nothing else asks for it."""
    if not notes:
        return []
    rows = tuple((words(one.sheet_code), words(one.student), (Typed(one.words),)) for one in notes)
    told = Note(words("In the students' own words, beside their answers. Nothing of it was marked."))
    table = Table(("Sheet", "Student", "What was written"), rows, whole=frozenset({0, 1}))
    return [Keep((Heading("What students wrote to you"), told)), table]
