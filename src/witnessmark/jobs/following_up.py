"""The job `follow-up`: for each student who showed something a sheet aimed at it, drawn, stored and issued like a task.

Whoever showed nothing gets none, or something farther on where the teacher wants it. A sheet that was issued before
stays as it was.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path

from witnessmark.documents.follow_up.sheet import Round, follow_up_document
from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.files.bank.derived_text import find_the_fault, focused
from witnessmark.files.class_folder.typed_into import sparing_typed
from witnessmark.files.safe.atomic import ensure_folder, write_together
from witnessmark.jobs.documents import Documents
from witnessmark.jobs.extending import extension_sheets
from witnessmark.jobs.issuing import WORKBOOK, figures_of
from witnessmark.jobs.opened import alone, not_issued
from witnessmark.jobs.opened_year import FOLLOW_UP, OpenedYear, open_year
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing.draw import draw, draw_several
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.year.chances import FAULT
from witnessmark.review.year.history import SetTask
from witnessmark.review.year.needs import Need, needs_of
from witnessmark.review.year.wrong_working import Wrong, another, distance, farthest, wrongs_of
from witnessmark.words.errors import NoVariant, ProblemsFound
from witnessmark.words.faults import Fault

MOST = 2
"""Misconceptions on one sheet, about two pages each: nobody learns three things at once."""
OTHERS = 2


@dataclass(frozen=True, slots=True)
class FollowedUp:
    """The task of the follow-up, the sheets new in this run and those issued before, what each is aimed at (nothing: it
    goes farther on), the needs for which the bank has no such question, the files, and students for whom nothing
    farther on is left in the bank."""

    task: str
    new: tuple[Sheet, ...]
    before: tuple[Sheet, ...]
    aims: Mapping[str, tuple[str, ...]]
    left: tuple[Need, ...]
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()
    without: tuple[Student, ...] = ()


def follow_up(class_path: Path, task_key: str, now: datetime, extension: bool = False) -> FollowedUp:
    """Draw, store and write the follow-up sheets of a task, with `extension` also something farther on for those who
    showed nothing; raises ProblemsFound when it was not issued."""
    with alone(class_path, "follow-up", now):
        found = open_year(class_path)
        task = found.year.task(task_key)
        if task is None:
            raise ProblemsFound([not_issued(class_path, task_key)])
        key = f"{task_key}{FOLLOW_UP}"
        earlier = found.year.task(key)
        before = earlier.sheets if earlier else ()
        served = {sheet.student.code for sheet in before}
        needs = _needs(found, task, served)
        of_task = Task(key, f"{task.title}: follow-up", EACH_ITS_OWN, None, task.sheets[0].task.rules)
        new, left = _drawn(found, of_task, needs)
        farther, without = extension_sheets(found, task, of_task, served) if extension else ((), ())
        new = (*new, *farther)
        if new:
            with found.opened.record() as record:
                record.add_sheets(new, now)
        return replace(_written(found, key, new, before, left), without=without)


def _needs(found: OpenedYear, task: SetTask, served: set[str]) -> dict[Student, tuple[Need, ...]]:
    """What students showed at this task and still show, those who have their sheet left out."""
    mine = needs_of(found.recurrences)
    wanted: dict[Student, tuple[Need, ...]] = {}
    for student in found.year.students:
        shown = tuple(
            need for need in mine.get(student.code, ()) if any(c.task_key == task.key for c in need.shown)
        )  # fmt: skip
        if shown and student.code not in served:
            wanted[student] = shown
    return wanted


def _drawn(
    found: OpenedYear, of_task: Task, needs: Mapping[Student, Sequence[Need]]
) -> tuple[tuple[Sheet, ...], tuple[Need, ...]]:
    key, sheets, left = of_task.key, [], []
    for student, mine in needs.items():
        variants: list[Variant] = []
        for need in mine:
            made = _three(found, need, f"{key}|{student.code}") if len(variants) < 3 * MOST else None
            if made is None:
                left.append(need)
            else:
                variants += made
        if variants:
            sheets.append(Sheet(sheet_code(key, student.code, 1), of_task, student, tuple(variants)))
    return tuple(sheets), tuple(left)


def _three(found: OpenedYear, need: Need, seed: str) -> tuple[Variant, Variant, Variant] | None:
    """Find the fault, the numbers that part right from wrong, the plain question; None where no question serves."""
    for question, wrong in _questions(found, need):
        try:
            again = focused(question, wrong.part.key)
            seeds = f"{seed}|{need.key}"
            fault = _fault(found, question, wrong).draw(f"{seeds}|fault")
            apart = farthest(draw_several(again, f"{seeds}|apart"), wrong)
            plain = another(again.draw, f"{seeds}|plain", (apart.identity,))
            if distance(plain, wrong) > distance(apart, wrong):  # several draws need not hold the farthest of all
                apart, plain = plain, apart
            return fault, apart, plain
        except (NoVariant, ProblemsFound, KeyError):
            continue
    return None


def _questions(found: OpenedYear, need: Need) -> Iterator[tuple[Question, Wrong]]:
    """The question at which it showed, then others of the bank that know it, the easiest first."""
    own = [v.question for t in found.year.tasks for s in t.sheets if s.code == need.last.sheet for v in s.variants]
    own = [question for question in own if question.key == need.last.question]
    others = sorted(found.bank.values(), key=lambda q: (q.level, q.key))
    for question in [*own, *(q for q in others if q.key != need.last.question)]:
        yield from ((question, wrong) for wrong in wrongs_of(question, need.key))


def _fault(found: OpenedYear, question: Question, wrong: Wrong) -> DrawableQuestion:
    key = wrong.slip.misconception
    others = [
        found.misconceptions[other]
        for part in question.parts
        for other in dict.fromkeys(shown_by(part))
        if other and other != key and other in found.misconceptions
    ]
    more = [m for k, m in found.misconceptions.items() if found.bank.families.get(k) == found.bank.families.get(key)]
    return find_the_fault(question, wrong.part.key, _of(found, question, key), _distinct(
        [*others, *more], _of(found, question, key)), FAULT)  # fmt: skip


def _of(found: OpenedYear, question: Question, key: str) -> Misconception:
    return question.misconceptions.get(key) or found.misconceptions[key]


def _distinct(found: Sequence[Misconception], wrong: Misconception) -> list[Misconception]:
    """The first few that look otherwise."""
    by_text = {m.shows: m for m in reversed(found) if m.shows and m.shows != wrong.shows and m.key != wrong.key}
    return list(reversed(by_text.values()))[:OTHERS]


def _written(
    found: OpenedYear, key: str, new: Sequence[Sheet], before: Sequence[Sheet], left: Sequence[Need]
) -> FollowedUp:
    made, aims = Documents(), {}
    sheets = sorted((*before, *new), key=lambda sheet: sheet.student.code)
    for sheet in sheets:
        rounds = rounds_of(sheet)
        aims[sheet.student.code] = tuple(one.wrong.slip.misconception for one in rounds)
        name = sheet.student.code
        page = partial(follow_up_document, sheet, rounds, figures_of(sheet, found.bank.figures_path))
        made.add(f"sheets/{name}.pdf", partial(_pdf, page), sheet.student)
        made.add(f"pages/{name}.html", partial(_html, page), sheet.student)
        made.add(f"books/{name}.xlsx", partial(answer_book, sheet), sheet.student)
    folder = found.opened.issued(key)
    books = {name: data for name, data in made.files.items() if name.endswith(WORKBOOK)}
    spared = sparing_typed(folder, books)
    write_together(folder, {**spared.files, **{n: d for n, d in made.files.items() if n not in books}})
    ensure_folder(found.opened.returned(key))
    paths = (folder / "sheets", folder / "pages", folder / "books") if sheets else ()
    return FollowedUp(key, tuple(new), tuple(before), aims, tuple(left), paths, tuple(made.faults))


def _pdf(page: Callable[[], Document]) -> bytes:
    return pdf_of(page())


def _html(page: Callable[[], Document]) -> bytes:
    return html_of(page()).encode()


def rounds_of(sheet: Sheet) -> tuple[Round, ...]:
    """What a stored follow-up sheet consists of: three questions for each misconception."""
    found = []
    for start in range(0, len(sheet.variants) - 2, 3):
        fault, apart, plain = sheet.variants[start : start + 3]
        key = next(shown for shown in shown_by(fault.question.parts[0]) if shown)
        wrong = next(wrongs_of(apart.question, key))
        draw = _draw(apart.question)
        told = Variant(apart.question, fault.shown, fault.row_names)
        taken = (fault.identity, apart.identity, plain.identity)
        example = another(draw, f"{sheet.code}|{start}|example", taken)
        found.append(Round(start + 1, wrong, example, fault, told, apart, plain))
    return tuple(found)


def _draw(question: Question) -> Callable[[str], Variant]:
    return partial(draw, question)
