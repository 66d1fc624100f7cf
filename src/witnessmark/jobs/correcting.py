"""The job `correct`: what turned out wrong in a task that was issued is put right, and its marks follow.

Nothing is written unless that is said; first every mark that would change is shown, with the student's name. What was
issued stays as it is: the correction is kept beside it, and the task is marked by it from then on.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from witnessmark.files.bank.correction_text import correction_problems
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import Opened, alone, not_issued, open_class, read_task
from witnessmark.jobs.proposing import concerns, proposals
from witnessmark.jobs.stale import stale_documents
from witnessmark.marking.outcome import Outcome
from witnessmark.marking.standing import earned_marks
from witnessmark.questions.checking.corrections import ASIDE, Changes, Correction, corrected
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Ask, Sheet, Task, ask_labelled
from witnessmark.record.record import Record
from witnessmark.record.rows import Moderation, Outcomes
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be corrected at one answer (`1a`): what changes, and the text of it; or other rules, as the task's
    file has them (`rules`)."""

    label: str = ""
    changes: Changes | None = None
    text: str = ""
    misconception: str = ""
    rules: bool = False


@dataclass(frozen=True, slots=True)
class MarkCorrected:
    """A mark that changes: what stands before and after, out of how much, with the machine's outcomes. Where a teacher
    gave the mark that stands, it stays and waits for another look (`stays`)."""

    sheet: str
    student: str
    name: str
    label: str
    before: Outcome
    after: Outcome
    marks: tuple[Decimal, Decimal]
    is_line: bool
    stays: bool = False


@dataclass(frozen=True, slots=True)
class TaskCorrected:
    """What a correction changes, or has changed where it was `applied`: marks, and totals by student."""

    task: str
    told: str
    changes: tuple[MarkCorrected, ...]
    totals: tuple[tuple[str, str, Decimal, Decimal], ...]
    applied: bool
    stale: tuple[Path, ...] = ()


def correct(class_path: Path, task_key: str, wanted: Wanted, decision: Decision) -> TaskCorrected:
    """Show what a correction would change, or make it as one step; raises ProblemsFound."""
    with alone(class_path, "correct", decision.now if decision.apply else None):
        opened = open_class(class_path)
        with opened.record() as record:
            sheets = record.sheets(task_key)
            if not sheets:
                raise ProblemsFound([not_issued(class_path, task_key)])
            plan = _rules(opened, sheets) if wanted.rules else _correction(sheets, wanted)
            outcomes = _marked_by(record, plan)
            changes = tuple(_changes(record, plan, outcomes))
            totals = tuple(_totals(record, sheets, changes))
            if decision.apply:
                _apply(record, plan, outcomes, decision)
            handed_in = record.outcomes(task_key)
    marked = [sheet for sheet in sheets if sheet.code in handed_in]
    stale = stale_documents(class_path, task_key, marked) if decision.apply else ()
    return TaskCorrected(task_key, plan.told, changes, totals, decision.apply, stale)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The sheets as they would be marked, and what is kept: a correction, or the task with other rules."""

    sheets: tuple[Sheet, ...]
    told: str
    correction: Correction | None = None
    task: Task | None = None


def _correction(sheets: Sequence[Sheet], wanted: Wanted) -> _Plan:
    ask = _ask(sheets, wanted.label)
    if wanted.changes is None:
        raise ValueError("nothing to correct")
    question = sheets[0].variants[ask.number - 1].question
    line = ask.line.name if ask.line else ""
    one = Correction(question.key, ask.part.key, wanted.changes, wanted.text.strip(), line, wanted.misconception)
    versions = {id(v.question): v.question for s in sheets for v in s.variants if v.question.key == question.key}
    problems = [p for version in versions.values() for p in correction_problems(version, one)]
    if problems:
        raise ProblemsFound(list(dict.fromkeys(problems)))
    what = " ".join(part for part in (str(one.changes), one.misconception, one.text) if part)
    return _Plan(_with(sheets, one), f"{ask.label}: {what}", one)


def _ask(sheets: Sequence[Sheet], label: str) -> Ask:
    asks = {ask.label: ask for sheet in sheets for ask in sheet.asks}.values()
    ask = ask_labelled(asks, label)
    if ask is None:
        expected = f"one of {', '.join(one.label for one in asks)}"
        raise ProblemsFound([Problem("no-answer", Place("ANSWER"), expected, f"'{label}'")])
    return ask


def _with(sheets: Sequence[Sheet], one: Correction) -> tuple[Sheet, ...]:
    questions: Mapping[int, Question] = {id(v.question): v.question for sheet in sheets for v in sheet.variants}
    made = {key: corrected(question, [one]) for key, question in questions.items()}
    return tuple(
        replace(s, variants=tuple(replace(v, question=made[id(v.question)]) for v in s.variants)) for s in sheets
    )


def _rules(opened: Opened, sheets: Sequence[Sheet]) -> _Plan:
    """The rules of the task's file in the place of those that the task is marked by."""
    issued = sheets[0].task
    wanted = read_task(opened, issued.key, opened.bank()).rules
    if wanted == issued.rules:
        expected, remedy = f"other rules in tasks/{issued.key}.yaml", "change them there first"
        raise ProblemsFound([Problem("same-rules", Place(str(opened.path)), expected, "the same", remedy)])
    names = [name for name in wanted.__slots__ if getattr(wanted, name) != getattr(issued.rules, name)]
    told = ", ".join(f"{n.replace('_', ' ')} {getattr(issued.rules, n)} -> {getattr(wanted, n)}" for n in names)
    task = replace(issued, rules=wanted)
    return _Plan(tuple(replace(sheet, task=task) for sheet in sheets), f"rules: {told}", task=task)


def _marked_by(record: Record, plan: _Plan) -> dict[str, dict[str, Outcome]]:
    key = plan.sheets[0].task.key
    corrections = (*record.corrections(key), *((plan.correction,) if plan.correction else ()))
    sheets = {sheet.code: sheet for sheet in plan.sheets}
    return proposals(sheets, record.returns(key), record.differences(key), corrections=corrections)


def _changes(record: Record, plan: _Plan, outcomes: Outcomes) -> Iterator[MarkCorrected]:
    """Every change of a mark, in sheet order; a teacher's own mark stays but where the part is set aside."""
    key = plan.sheets[0].task.key
    standing, moderated = record.proposals(key), record.moderations(key)
    for sheet in plan.sheets:
        for ask in sheet.asks:
            before, after = standing.get(sheet.code, {}).get(ask.key), outcomes.get(sheet.code, {}).get(ask.key)
            if before is None or after is None:
                continue
            mine = moderated.get(sheet.code, {}).get(ask.key)
            stays = mine is not None and not _is_aside(sheet, ask, plan)
            marks = _marks(before, after, mine, stays)
            differs = (before.marks, before.out_of, before.verdict) != (after.marks, after.out_of, after.verdict)
            if differs or marks[0] != marks[1]:
                who = sheet.student
                yield MarkCorrected(
                    sheet.code, who.code, who.name, ask.label, before, after, marks, ask.line is not None, stays
                )


def _marks(before: Outcome, after: Outcome, mine: Moderation | None, stays: bool) -> tuple[Decimal, Decimal]:
    first = mine.marks if mine else before.marks
    return first, first if stays else after.marks


def _is_aside(sheet: Sheet, ask: Ask, plan: _Plan) -> bool:
    one = plan.correction
    return one is not None and one.changes in ASIDE and concerns(sheet, ask, one)


def _totals(
    record: Record, sheets: Sequence[Sheet], changes: Sequence[MarkCorrected]
) -> Iterator[tuple[str, str, Decimal, Decimal]]:
    """The total of each student whose total changes; a part's marks hold those of its lines."""
    standing = record.outcomes(sheets[0].task.key)
    for sheet in sheets:
        before = earned_marks(sheet, standing.get(sheet.code, {})) or Decimal(0)
        mine = [c.marks for c in changes if c.sheet == sheet.code and not c.is_line]
        change = sum((after - first for first, after in mine), Decimal(0))
        if change:
            yield sheet.student.code, sheet.student.name, before, before + change


def _apply(record: Record, plan: _Plan, outcomes: Outcomes, decision: Decision) -> None:
    """The correction is kept and the task has its new marks, both or neither."""
    key, who, now = plan.sheets[0].task.key, decision.who, decision.now
    why = f"corrected, {plan.told}: {decision.why}"
    with record.step("correct", key, now, who):
        if plan.task is not None:
            record.change_rules(plan.task, who, decision.why, now)
        if plan.correction is not None:
            record.correct(key, plan.correction, plan.told, who, decision.why, now)
        for sheet in plan.sheets:
            for ask in sheet.asks:
                if _is_aside(sheet, ask, plan) and ask.key in record.moderations(key).get(sheet.code, {}):
                    record.withdraw(sheet.code, ask.key, who, why, now)
        if outcomes:
            record.set_outcomes(key, outcomes, now, why, who)
