"""Something farther on for those whom a follow-up has nothing to say to, where the teacher wants it: one question each,
from the same topics, harder than what was set and not set before."""

from collections.abc import Collection, Sequence
from decimal import Decimal

from witnessmark.jobs.opened_year import OpenedYear
from witnessmark.marking.standing import earned_marks, marks_available, marks_set_aside
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.review.year.history import SetTask
from witnessmark.words.errors import NoVariant

SECURE = Decimal("0.75")
"""Whoever showed no misconception and has at least this share of the marks is ready for more; common practice, no
source."""


def extension_sheets(
    found: OpenedYear, task: SetTask, of_task: Task, served: Collection[str]
) -> tuple[tuple[Sheet, ...], tuple[Student, ...]]:
    """A sheet for each student who is ready for more and was not `served` (codes), and those for whom the bank has no
    question left."""
    questions = _harder(found, task)
    sheets, without = [], []
    for student in ready(found, task):
        if student.code not in served:
            sheet = _sheet(student, of_task, questions)
            sheets += [sheet] if sheet else []
            without += [] if sheet else [student]
    return tuple(sheets), tuple(without)


def ready(found: OpenedYear, task: SetTask) -> tuple[Student, ...]:
    """Who handed the task in, showed nothing in it, has most of its marks, and has none of them still open."""
    shown = {chance.student for r in found.recurrences for chance in r.seen if chance.task_key == task.key}
    aside = marks_set_aside(task.outcomes)
    secure = set()
    for sheet in task.back:
        outcomes = task.outcomes[sheet.code]
        earned, out_of = earned_marks(sheet, outcomes), marks_available(sheet, aside)
        if earned is not None and earned >= SECURE * out_of and not any(o.is_waiting for o in outcomes.values()):
            secure.add(sheet.student.code)
    return tuple(student for student in found.year.students if student.code in secure - shown)


def _harder(found: OpenedYear, task: SetTask) -> Sequence[DrawableQuestion]:
    """Questions of the task's topics that nobody had yet, those above its hardest first, the easiest of them before."""
    mine = [variant.question for variant in task.sheets[0].variants]
    topics, hardest = {question.topic for question in mine}, max(question.level for question in mine)
    used = {v.question.key for t in found.year.tasks for sheet in t.sheets for v in sheet.variants}
    fresh = [q for q in found.bank.values() if q.topic in topics and q.key not in used]
    return sorted(fresh, key=lambda q: (q.level <= hardest, q.level if q.level > hardest else -q.level, q.key))


def _sheet(student: Student, of_task: Task, questions: Sequence[DrawableQuestion]) -> Sheet | None:
    for question in questions:
        try:
            variant = question.draw(f"{of_task.key}|{student.code}|extension")
        except NoVariant:
            continue
        return Sheet(sheet_code(of_task.key, student.code, 1), of_task, student, (variant,))
    return None
