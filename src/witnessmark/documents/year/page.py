"""The review of a class over its year as a document: the class, what recurs, what faded, who needs what, the year."""

from collections.abc import Callable, Sequence

from witnessmark.documents.page.blocks import (
    Block,
    Document,
    Figure,
    Heading,
    Inset,
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
from witnessmark.documents.page.wordings import date_text
from witnessmark.documents.year.drawings import MapRow, Moment, class_strip, interval_bars, timeline, topic_map
from witnessmark.documents.year.entries import entries_blocks
from witnessmark.documents.year.naming import Naming, entries_of, in_line, linked, named, naming
from witnessmark.documents.year.not_seen import not_seen_blocks
from witnessmark.documents.year.parts import FACILITY, parts_blocks
from witnessmark.review.statistics.shares import Share
from witnessmark.review.year.chances import Chance
from witnessmark.review.year.history import Visit
from witnessmark.review.year.recurrence import Standing, YearRecurrence, by_family
from witnessmark.review.year.sentences import counted, faded_words, percent, standing_words
from witnessmark.review.year.strip import Came, Cell, Row
from witnessmark.review.year.year_review import YearReview, in_topic

WIDE = 400.0  # points
MOST_BARS, MOST_MAPPED, IN_ONE_STRIP = 14, 12, 30  # what a page of paper has room for
STRIP = "A square for each part, filled from below by its share of the marks."
STRIP_ALSO: tuple[tuple[Callable[[Cell], bool], str], ...] = (
    (lambda cell: cell.came is Came.WAITS, " Dotted: it waits for your mark."),
    (lambda cell: cell.came is Came.NOT_BACK, " A line alone: the sheet is not back."),
    (lambda cell: cell.came is Came.EXCUSED, " A slanted line: absent or exempt."),
    (lambda cell: cell.again is not None, " A thick bar stands at what a further attempt earned."),
)
FOOT = "For the teacher. Marks and names of methods are proposals until you agree."


def year_document(review: YearReview, with_names: bool = True, has_answers: bool = True) -> Document:
    """The review of a year as neutral blocks; without names it tells students by their codes alone, and
    without answers it ends with those that show a misconception."""
    by = naming(review.year, review.misconceptions, with_names, has_answers)
    blocks = [
        _head(review), *_strip(review, by), *_recurs(review, by), *_once(review, by), *not_seen_blocks(review, by),
        *_needs(review, by), *_map(review), *_timeline(review, by), *_parts(review, by), *entries_blocks(review, by),
    ]  # fmt: skip
    return Document(f"{review.year.title}: the year", tuple(blocks), "", FOOT)


def _head(review: YearReview) -> TitleBlock:
    tasks = review.year.tasks
    fields = (
        ("Students", str(len(review.year.students))),
        ("Tasks", str(sum(not task.follows for task in tasks))),
        ("Follow-ups", str(sum(bool(task.follows) for task in tasks))),
        ("Visits", str(len({(v.day, v.who) for v in review.year.visits}))),
    )
    return TitleBlock("The year", review.year.title, "", fields)


# The class -------------------------------------------------------------------------------------------------------
def _strip(review: YearReview, by: Naming) -> list[Block]:
    cells = [cell for row in review.strip for of_task in row.tasks for cell in of_task]
    told = Note(words(STRIP + "".join(said for is_there, said in STRIP_ALSO if any(map(is_there, cells)))))
    first, *more = [_drawn_strip(review.strip[n : n + IN_ONE_STRIP]) for n in range(0, len(review.strip), IN_ONE_STRIP)]
    rows = tuple((words(by.who(row.student.code)), _of_year(row, by)) for row in review.strip)
    table = Table(("Student", "Share of the marks at each task, as far as they are marked"), rows, wide=1)
    return [Keep((Heading("The class"), told, first)), *more, table]


def _drawn_strip(rows: Sequence[Row]) -> Figure:
    title = "The class, by parts of each task"
    drawn = class_strip(rows, [row.student.code for row in rows], title)
    return Figure(drawn, f"{title}: {len(rows)} students; the table below says the same in numbers", WIDE)


def _of_year(row: Row, by: Naming) -> Runs:
    """Every task by its number in the year, with what came of it."""
    runs: list[Run] = []
    for place, cells in enumerate(row.tasks):
        runs += [Words("; " if runs else ""), Words(f"{place + 1}:\u00a0", quiet=True), *_of_task(place, cells, by)]
    return tuple(runs)


def _of_task(place: int, cells: tuple[Cell, ...], by: Naming) -> Runs:
    marked = [cell for cell in cells if cell.came is Came.MARKED]
    waiting = sum(cell.came is Came.WAITS for cell in cells)
    out_of = sum(cell.out_of for cell in marked)
    waits = (Words(f", {waiting} {'wait' if waiting > 1 else 'waits'}", quiet=True),) if waiting else ()
    again = _again(cells, place, by)
    if out_of:
        return (by.answers(percent(sum(cell.marks for cell in marked) / out_of), place), *waits, *again)
    if waiting:
        return (by.answers("not marked", place), *waits, *again)
    if cells[0].came is Came.NOT_BACK:
        return (*words("not\u00a0back"), *again)
    return words(cells[0].said or "–")


def _again(cells: tuple[Cell, ...], place: int, by: Naming) -> Runs:
    """What a further attempt earned, where there was one that is marked."""
    mine = [(cell.again, cell.out_of) for cell in cells if cell.again is not None]
    out_of = sum(most for _, most in mine)
    return (Words(", again\u00a0"), by.answers(percent(sum(m for m, _ in mine) / out_of), place)) if out_of else ()


# What recurs -----------------------------------------------------------------------------------------------------
def _recurs(review: YearReview, by: Naming) -> list[Block]:
    found = review.standing(Standing.RECURS)
    if not found:
        return [Heading("What recurs"), Paragraph(words("No misconception was seen twice."))]
    bars = [(named(r.key), r.share) for r in found if not r.share.is_of_few][:MOST_BARS]
    blocks: list[Block] = []
    if bars:
        title = "Who showed it, of all who had the chance"
        note = Note(words("Filled: students who showed it at least once, of all who had the chance. The line below "
                          "says how common it can be among such students, by so few or many (95 %)."))  # fmt: skip
        drawn = Figure(interval_bars(bars, title), "; ".join(f"{k}: {s.count} of {s.of}" for k, s in bars), WIDE)
        blocks.append(Keep((Heading("What recurs"), note, drawn)))
    else:
        blocks.append(Heading("What recurs"))
    return [*blocks, _families(review), *(_card(r, review, by) for r in found)]


def _families(review: YearReview) -> Table:
    rows = tuple(
        (words(f.family), words(_short(f.share)), in_line(linked(m.key) for m in f.members if m.seen))
        for f in by_family(review.recurrences)
        if f.share.count
    )
    header = ("Family", "Showed any of it", "Which")
    return Table(header, rows, caption="By family", wide=2, whole=frozenset({1}))


def _short(share: Share) -> str:
    """`6 of 17 (17 % to 59 %)`; of few the numbers alone."""
    interval = share.interval()
    told = f"{share.count} of {share.of}"
    return told if share.is_of_few else f"{told} ({percent(interval.low)} to {percent(interval.high)})"


def _card(recurrence: YearRecurrence, review: YearReview, by: Naming) -> Keep:
    inner: list[Block] = []
    found = by.known.get(recurrence.key)
    if found:
        inner.append(Paragraph((Words("Believes. ", strong=True), Words(found.believes))))
    still, tasks = recurrence.still, sorted({c.task + 1 for c in recurrence.seen})
    at = f" At {'task' if len(tasks) == 1 else 'tasks'} {', '.join(map(str, tasks))}."
    inner.append(Paragraph((Words(standing_words(recurrence) + at + " "), linked(recurrence.key, "The entries"))))
    inner.append(Paragraph((Words("Show it still. ", strong=True), Words(by.all(still) or "Nobody."))))
    cleared = [code for code in recurrence.students if code not in still]
    if cleared:
        told = f"{by.all(cleared)}: not at their latest task with a chance."
        inner.append(Paragraph((Words("Showed it earlier. ", strong=True), Words(told))))
    inner += [Paragraph(words(faded_words(one))) for one in review.faded if one.key == recurrence.key]
    aside = f"{recurrence.share.count} of {recurrence.share.of}"
    return Keep((Heading(named(recurrence.key), 3, aside=aside), Inset("", tuple(inner))))


def _once(review: YearReview, by: Naming) -> list[Block]:
    found = review.standing(Standing.ONCE)
    if not found:
        return []
    rows = tuple((((linked(r.key)),), words(by.who(r.seen[0].student)), _where(r.seen[0])) for r in found)
    told = Note(words("One sighting is one sighting: it may be a habit, or a bad evening."))
    return [Heading("Seen once"), told, Table(("What", "In", "At"), rows, wide=0)]


def _where(chance: Chance) -> Runs:
    return words(f"{chance.label} of task {chance.task + 1}")


# Who needs what --------------------------------------------------------------------------------------------------
def _needs(review: YearReview, by: Naming) -> list[Block]:
    if not review.same:
        return []
    rows = tuple((words(by.all(one.students)), in_line(linked(key) for key in one.keys)) for one in review.same)
    return [Heading("Who needs the same"), Table(("Students", "What they still show"), rows, wide=1)]


def _map(review: YearReview) -> list[Block]:
    seen = [r for r in review.recurrences if r.seen][:MOST_MAPPED]
    if not seen:
        return []
    topics = review.topics
    rows = [MapRow(named(r.key), tuple(_share(in_topic(r, topic)) for topic in topics)) for r in seen]
    title = "Misconceptions by topic"
    drawn = topic_map(topics, rows, max(1, len(review.year.students)), title)
    told = Note(words("The area of a disc is how many showed it in that topic; a small ring is a chance where nobody "
                      "showed it; nothing is no chance."))  # fmt: skip
    table_rows = tuple(
        (
            ((linked(r.key)),),
            words("; ".join(_in_words(topic, s) for topic, s in zip(topics, row.shares, strict=True) if s.of)),
        )
        for r, row in zip(seen, rows, strict=True)
    )
    described = "; ".join(f"{named(r.key)}" for r in seen)
    figure = Figure(drawn, f"{title}: {described}; the table below has the numbers", WIDE)
    table = Table(("What", "Showed it, of those who had the chance there"), table_rows, wide=1)
    return [Keep((Heading("Where it shows"), told, figure)), table]


def _share(chances: tuple[Chance, ...]) -> Share:
    return Share(len({c.student for c in chances if c.shown}), len({c.student for c in chances}))


def _in_words(topic: str, share: Share) -> str:
    return f"{topic} {share.count} of {share.of}"


# The year --------------------------------------------------------------------------------------------------------
def _timeline(review: YearReview, by: Naming) -> list[Block]:
    year = review.year
    moments = [Moment(task.issued, str(n)) for n, task in enumerate(year.tasks, 1)]
    moments += [Moment(day, "", True) for day in sorted({visit.day for visit in year.visits})]
    rows = [(task.issued, _task_row(n, review, by)) for n, task in enumerate(year.tasks)]
    rows += [(visits[0].day, _visit_row(visits, by)) for visits in _visits(review)]
    rows.sort(key=lambda row: row[0])
    described = "; ".join(f"task {n}: {date_text(t.issued)}" for n, t in enumerate(year.tasks, 1))
    told = Note(words("Rings are tasks by their numbers, triangles below the line are days of visits."))
    figure = Figure(timeline(moments, "The year", described), described, WIDE)
    table = Table(("Day", "What", "What came of it"), tuple(row for _, row in rows), wide=2, whole=frozenset({0}))
    return [Keep((Heading("The year"), told, figure)), table]


def _task_row(place: int, review: YearReview, by: Naming) -> tuple[Runs, ...]:
    task = review.year.tasks[place]
    shown: dict[str, set[str]] = {}
    for recurrence in review.recurrences:
        for chance in recurrence.seen:
            if chance.task == place:
                shown.setdefault(recurrence.key, set()).add(chance.student)
    most = sorted(shown, key=lambda key: (-len(shown[key]), key))[:3]
    told = in_line(Link(f"{named(key)} ({counted(len(shown[key]), 'student')})", entries_of(key)) for key in most)
    back = Words(f"{len(task.back)} of {len(task.sheets)} back" + ("; most shown: " if most else ""))
    what = f"{place + 1}. {task.title}"
    return (words(date_text(task.issued)), (by.answers(what, place),), (back, *told))


def _visits(review: YearReview) -> list[list[Visit]]:
    by_day: dict[tuple[object, ...], list[Visit]] = {}
    for visit in review.year.visits:
        by_day.setdefault((visit.day, visit.who, visit.note), []).append(visit)
    return list(by_day.values())


def _visit_row(visits: list[Visit], by: Naming) -> tuple[Runs, ...]:
    keys = dict.fromkeys(key for visit in visits for key in visit.misconceptions)
    took = in_line(Words(named(key)) for key in keys) or words("nothing taken up")
    note = visits[0].note if by.is_named else ""
    more = (Words(f". {note}", quiet=True),) if note else ()
    whom = Words(f"{by.all(visit.student for visit in visits)}: ")
    return (words(date_text(visits[0].day)), words("Visit"), (whom, *took, *more))


def _parts(review: YearReview, by: Naming) -> list[Block]:
    if not review.parts:
        return []
    blocks: list[Block] = [Heading("How hard each part was"), Note(words(FACILITY))]
    for found in review.parts:
        blocks += parts_blocks(found, review.year.tasks.index(found.task), by)
    return blocks
