"""The marks of a task as a table, and the room of one mark: what it rests on, its history, another in its place."""

from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from typing import NamedTuple

from witnessmark.desk.rooms.in_tray import mark_steps
from witnessmark.desk.rooms.room import Room
from witnessmark.desk.rooms.seen import seen
from witnessmark.desk.visit import Go, Page, Reply, Visit, address
from witnessmark.desk.words import _
from witnessmark.documents.feedback.verdict_words import tone_of
from witnessmark.documents.gradebook.data import criteria_of
from witnessmark.documents.page.blocks import Tone
from witnessmark.jobs.in_tray import About, Answer, TypedMark, answer_at, answers_of, decide
from witnessmark.jobs.moderating import Also, withdraw
from witnessmark.jobs.opened import alone
from witnessmark.jobs.overlooking import last_step
from witnessmark.jobs.telling_history import history
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


class Face(NamedTuple):
    """What is seen of a mark in the table; many marks of a class look alike."""

    says: str
    tone: Tone
    marks: Decimal
    by_teacher: bool
    waits: bool


class Cell(NamedTuple):
    """A mark in the table: its label, the end of the address of its room, and what is seen of it."""

    label: str
    way: str
    face: Face


def show_marks(visit: Visit) -> Reply:
    """A row for each sheet, a column for each answer, each mark a way into its room."""
    answers = [a for a in answers_of(visit.class_path, visit.way["task"]) if a.ask.line is None]
    asks = {id(answer.ask): answer.ask for answer in answers}.values()
    labels, ways = list(dict.fromkeys(ask.label for ask in asks)), {ask.key: address(ask.key) for ask in asks}
    by_sheet: dict[str, list[Answer]] = {}
    for answer in answers:
        by_sheet.setdefault(answer.sheet.code, []).append(answer)
    rows = [_row(several[0].sheet, several, labels, ways) for several in by_sheet.values()]
    last = last_step(visit.class_path)
    return Page("marks", {"labels": labels, "rows": rows, "last": last, "once": cache(lambda do, seen: do(seen))})


def _row(
    sheet: Sheet, answers: list[Answer], labels: list[str], ways: Mapping[str, str]
) -> tuple[Sheet, list[Cell | None], Decimal, Decimal]:
    """A sheet, its marks in the order of the columns (None where it has none), its total and what that is of."""
    cells = {a.ask.label: Cell(a.ask.label, ways[a.ask.key], _face(a)) for a in answers}
    total = sum((a.outcome.marks for a in answers), Decimal(0))
    out_of = sum((a.outcome.out_of for a in answers), Decimal(0))
    return sheet, [cells.get(label) for label in labels], total, out_of


def _face(answer: Answer) -> Face:
    outcome = answer.outcome
    waits, by_teacher = bool(outcome.in_tray), answer.moderation is not None
    return Face(_(outcome.verdict), tone_of(outcome), outcome.marks, by_teacher, waits)


def show_mark(visit: Visit) -> Reply:
    """One mark."""
    answer = _answer(visit)
    told = history(visit.class_path, answer.sheet.code, answer.ask.label).sheets[0].told
    return Page("mark", {
        "answer": answer, "seen": seen(visit, answer), "told": told, "steps": mark_steps(answer),
        "criteria": criteria_of(answer.ask),
    })  # fmt: skip


def change_mark(visit: Visit) -> Reply:
    """Another mark in the place of the one that was shown; or the teacher's taken back."""
    if visit.text("back") == "yes":
        answer = _taken_back(visit)
    else:
        answer = _answer(visit)
        about = About(answer.sheet.code, answer.ask.key, visit.text("state"))
        typed = visit.text("other").strip() or visit.text("marks")
        criteria = tuple(visit.typed.get("criterion", ()))
        decision = TypedMark(typed, visit.text("why"), visit.who.strip(), visit.text("say"), criteria)
        done = decide(visit.class_path, visit.way["task"], [about], decision, visit.now)
        if done.problems:
            raise ProblemsFound(done.problems)
    return Go(visit.at("task", visit.way["task"], "mark", answer.sheet.code, answer.ask.key))


def _taken_back(visit: Visit) -> Answer:
    """The teacher's mark taken back, where it is the one that was shown."""
    with alone(visit.class_path, "moderate"):
        answer = _answer(visit)
        _refuse_stale(answer, visit.text("state"))
        also = Also(task=visit.way["task"])
        withdraw(visit.class_path, answer.sheet.code, answer.ask.key, visit.text("why"), visit.who, visit.now, also)
    return answer


def _refuse_stale(answer: Answer, state: str) -> None:
    if answer.state != state:
        found, remedy = _("one that has changed since"), _("look at it once more, then decide")
        raise ProblemsFound([Problem("stale", Place(answer.ask.label), _("the mark that was shown"), found, remedy)])


def _answer(visit: Visit) -> Answer:
    answer = answer_at(visit.class_path, visit.way["task"], visit.way["sheet"], visit.way["ask"])
    if answer is not None:
        return answer
    expected, remedy = _("an answer that was marked"), _("look for it among the marks of the task")
    raise ProblemsFound([Problem("not-marked", Place(visit.way["sheet"]), expected, visit.way["ask"], remedy)])


ROOMS = (
    Room("/class/{klass}/task/{task}/marks", show_marks),
    Room("/class/{klass}/task/{task}/mark/{sheet}/{ask}", show_mark, change_mark),
)
