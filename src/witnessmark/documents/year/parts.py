"""How hard each part of a task was and what it tells apart, with what so few students do not tell."""

from witnessmark.documents.page.blocks import Block, Heading, Keep, Note, Paragraph, Runs, Table, words
from witnessmark.documents.page.wordings import marks_of
from witnessmark.documents.year.naming import Naming
from witnessmark.review.year.task_parts import FEWEST, TaskPart, TaskParts

FACILITY = (
    "Facility is mean marks over marks available: 1 is easy, 0 is hard. What waits for your mark is left out, and not "
    "counted as nothing."
)


def parts_blocks(found: TaskParts, place: int, by: Naming) -> list[Block]:
    """The parts of one task, which stands at this place in the year (from 0)."""
    heading = Heading(f"{place + 1}. {found.task.title}", 3)
    if found.is_of_few:
        rows = tuple(_facility(part, place, by) for part in found.parts)
        header = ("Part", "What was asked", "Facility", "Answers")
        return [Keep((heading, _too_few(found))), Table(header, rows, wide=1, whole=frozenset({0, 3})), _rungs(found)]
    rows = tuple((*_facility(part, place, by), *_tells(part)) for part in found.parts)
    columns = ("Part", "What was asked", "Facility", "Answers", "Best less last", "With the rest", "Alpha without")
    table = Table(columns, rows, wide=1, whole=frozenset({0, 3}))
    return [Keep((heading, *_trust(found))), table, _how_to_read(found), *_alike(found), _rungs(found)]


def _rungs(found: TaskParts) -> Table:
    """What each verdict gave: marks that were carried forward, for one."""
    rows = tuple(
        (words(rung.verdict.value), words(str(rung.answers)), words(marks_of(rung.marks, rung.out_of)))
        for rung in found.rungs
    )
    caption = "What the results earned, by how they were reached"
    return Table(("Verdict", "Results", "Marks given"), rows, frozenset({1, 2}), caption, whole=frozenset({0, 2}))


def _alike(found: TaskParts) -> list[Block]:
    """Whether smaller and larger numbers were equally hard; nothing that looks like a finding where none is one."""
    halves, apart = found.alike.halves, found.alike.apart
    if not halves:
        return []
    looked = f"{len(halves)} part{'s' if len(halves) > 1 else ''} with a number looked at"
    if not apart:
        told = f"Whether larger numbers were harder than smaller ones: nothing is told from chance ({looked})."
        return [Note(words(told))]
    said = "; ".join(
        f"{one.label}: all marks for {one.smaller} of {one.of_smaller} with the smaller results, {one.larger} of "
        f"{one.of_larger} with the larger" for one in apart
    )  # fmt: skip
    told = f"Not equally hard, it seems. {said}. Chance alone makes that in fewer than one task of 20 ({looked})."
    return [Paragraph(words(f"{told} Look at the ranges of the givens."))]


def _facility(part: TaskPart, place: int, by: Naming) -> tuple[Runs, ...]:
    waits = f", {part.waiting} left out" if part.waiting else ""
    facility = words("none marked" if part.facility is None else f"{part.facility:.2f}")
    return ((by.answers(part.label, place),), words(part.asked), facility, words(f"{part.marked}{waits}"))


def _tells(part: TaskPart) -> tuple[Runs, ...]:
    return words(_number(part.upper_less_lower)), words(_number(part.item_rest)), words(_number(part.alpha_without))


def _number(value: float | None) -> str:
    return "–" if value is None else f"{value:.2f}".replace("-", "−")


def _too_few(found: TaskParts) -> Note:
    return Note(words(
        f"{_students(found.whole)} with every part marked. Fewer than {FEWEST} do not show which parts tell students "
        "apart, nor how far a total can be trusted, nor whether all numbers were equally hard: nothing "
        "is said of it."
    ))  # fmt: skip


def _trust(found: TaskParts) -> list[Block]:
    r = found.reliability
    if r is None:
        return [Paragraph(words(f"{_students(found.whole)} with every part marked; their totals do not vary enough to "
                                "say how far one can be trusted."))]  # fmt: skip
    low, high = (_number(end) for end in (r.interval.low, r.interval.high))
    told = (
        f"{_students(r.students)} with every part marked. Cronbach's alpha is {_number(r.alpha)}; with so many "
        f"students it can lie from {low} to {high}. A total is good to about {r.standard_error:.1f} marks either way "
        "(standard error)."
    )
    within = " The interval holds 0: these parts may have nothing in common." if r.interval.holds(0.0) else ""
    return [Paragraph(words(told + within))]


def _how_to_read(found: TaskParts) -> Note:
    against = [part.label for part in found.parts if part.item_rest is not None and part.item_rest < 0]
    look = f" Who is good at the rest does worse at {', '.join(against)}: look at the question." if against else ""
    return Note(words(
        "Best less last is the facility among the best 27 % less that among the last 27 %; with the rest is the "
        f"correlation with the marks of all other parts. A correlation nearer to 0 than {found.told_from:.2f} is not "
        f"told from none by {_students(found.whole)}: there stands a dash, which says nothing about the part.{look}"
    ))  # fmt: skip


def _students(count: int) -> str:
    return f"{count} student" if count == 1 else f"{count} students"
