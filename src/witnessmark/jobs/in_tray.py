"""What waits for the teacher in a task, answer by answer, with those that are alike; and one decision for several.

A decision rests on what was shown: where a mark, an entry or a teacher's words have changed since, nothing is changed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.documents.gradebook.data import criteria_of, state_of
from witnessmark.jobs.moderating_file import BY_HAND
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.jobs.stale import stale_documents
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.mark_steps import marks_typed, may_give, range_text
from witnessmark.questions.sheet.task import Ask, Sheet, Task
from witnessmark.record.record import Record
from witnessmark.record.rows import Given, Moderation, Outcomes
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

Likeness = tuple[str, ...]
Asks = dict[str, dict[str, Ask]]
"""The asks of each sheet by their keys, by sheet code."""
FEW = 20
"""Sheets that are read one by one; of more all are."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer of a sheet as it stands, the teacher's mark where there is one, and `state`, which tells whether any
    of it has changed since."""

    sheet: Sheet
    ask: Ask
    outcome: Outcome
    moderation: Moderation | None = None

    @property
    def state(self) -> str:
        """What a decision about this answer rests on, as a short text."""
        return state_of(self.outcome.marks, self.outcome.raw, self.moderation)

    @property
    def place(self) -> str:
        """Sheet code and ask key: `XC5V-8688 1.a`."""
        return f"{self.sheet.code} {self.ask.key}"

    @property
    def likeness(self) -> Likeness:
        """Equal for two answers that one decision may serve: the same place and verdict, and the same method; where no
        method is named, the same text."""
        outcome = self.outcome
        method = max(outcome.evidence, key=lambda fit: fit.sure, default=None)
        said = " ".join(outcome.raw.casefold().split())
        what = (*method.misconceptions, method.formula) if method and (method.misconceptions or method.formula) else ()
        return (self.ask.key, outcome.verdict.value, f"{outcome.marks}", *(what or (said,)))


@dataclass(frozen=True, slots=True)
class InTray:
    """A task, and the answers of it that wait, in the order of the sheet and then of students, with the likeness of
    each."""

    task: Task
    answers: tuple[Answer, ...]
    likenesses: tuple[Likeness, ...]

    def alike(self, one: Answer) -> tuple[Answer, ...]:
        """The others for which the same decision may hold."""
        wanted = one.likeness
        each = zip(self.answers, self.likenesses, strict=True)
        return tuple(a for a, likeness in each if likeness == wanted and a.place != one.place)


@dataclass(frozen=True, slots=True)
class About:
    """An answer that a decision is about, with the state that was shown."""

    sheet: str
    ask: str
    state: str


@dataclass(frozen=True, slots=True)
class TypedMark:
    """A mark as it was typed, its reason, who gives it, words for the student; `criteria` are the marks of each
    criterion, as typed, where the part is marked by hand."""

    marks: str
    why: str
    who: str
    say: str = ""
    criteria: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Decided:
    """The answers that have the mark now, and a problem for each that had changed since it was shown."""

    given: tuple[About, ...]
    problems: tuple[Problem, ...]
    stale: tuple[Path, ...] = ()


def in_tray(class_path: Path, task_key: str) -> InTray:
    """What waits in a task; raises ProblemsFound where it was not issued."""
    with open_class(class_path).record() as record:
        sheets = _issued(record, class_path, task_key)
        asks = _asks_by_sheet(sheets)
        waiting = _answers(record, sheets, record.waiting(task_key), asks)
    lists = {id(several): several for several in asks.values()}
    order = {key: n for n, key in enumerate(dict.fromkeys(key for several in lists.values() for key in several))}
    likeness = {id(a): a.likeness for a in waiting}
    waiting.sort(key=lambda a: (order[a.ask.key], likeness[id(a)], a.sheet.student.code))
    return InTray(sheets[0].task, tuple(waiting), tuple(likeness[id(a)] for a in waiting))


def answers_of(class_path: Path, task_key: str) -> tuple[Answer, ...]:
    """Every marked answer of a task, sheet by sheet; raises ProblemsFound where it was not issued."""
    with open_class(class_path).record() as record:
        sheets = _issued(record, class_path, task_key)
        return tuple(_answers(record, sheets, record.outcomes(task_key)))


def answer_at(class_path: Path, task_key: str, code: str, ask: str) -> Answer | None:
    """One marked answer of a task, None where there is none; raises ProblemsFound where the task was not issued."""
    with open_class(class_path).record() as record:
        sheet = record.sheet(code)
        if sheet is None or sheet.task.key != task_key:
            _issued(record, class_path, task_key)
            return None
        found = _answers(record, [sheet], record.outcomes(task_key, code))
    return next((answer for answer in found if answer.ask.key == ask), None)


def decide(class_path: Path, task_key: str, about: Sequence[About], decision: TypedMark, now: datetime) -> Decided:
    """Give one mark to several answers, as one step that `undo` can take back.

    Raises ProblemsFound for a mark that cannot be given, and without a name or reason; then nothing is changed.
    """
    with alone(class_path, "moderate", now), open_class(class_path).record() as record:
        there = {(a.sheet.code, a.ask.key): a for a in _about(record, class_path, task_key, about)}
        fresh, problems = _fresh(about, there)
        given = [(one, _given(there[one.sheet, one.ask], decision)) for one in fresh]
        if given:
            with record.step("moderate", task_key, now, decision.who, [one.sheet for one in fresh]):
                for one, mark in given:
                    record.moderate(one.sheet, one.ask, mark.marks, mark.who, mark.why, now, mark.say, mark.criteria)
    sheets = [there[one.sheet, one.ask].sheet for one, _ in given]
    return Decided(tuple(fresh), tuple(problems), stale_documents(class_path, task_key, sheets))


def _issued(record: Record, class_path: Path, task_key: str) -> tuple[Sheet, ...]:
    sheets = record.sheets(task_key)
    if not sheets:
        raise ProblemsFound([not_issued(class_path, task_key)])
    return sheets


def _about(record: Record, class_path: Path, task_key: str, about: Sequence[About]) -> list[Answer]:
    """All answers of the sheets that a decision is about; of a few sheets no others are read."""
    codes = list(dict.fromkeys(one.sheet for one in about))
    if len(codes) > FEW:
        return _answers(record, _issued(record, class_path, task_key), record.outcomes(task_key))
    found = [sheet for code in codes if (sheet := record.sheet(code)) and sheet.task.key == task_key]
    if not found:
        _issued(record, class_path, task_key)
    return [a for sheet in found for a in _answers(record, [sheet], record.outcomes(task_key, sheet.code))]


def _answers(
    record: Record, sheets: Sequence[Sheet], outcomes: Outcomes, asks: Asks | None = None
) -> list[Answer]:  # fmt: skip
    """The answers of sheets that have these outcomes; `asks` are those of each sheet, where they are known already."""
    task_key = sheets[0].task.key
    moderations = record.moderations(task_key, sheets[0].code if len(sheets) == 1 else None)
    asks = _asks_by_sheet(sheets) if asks is None else asks
    return [
        Answer(sheet, ask, outcomes[sheet.code][key], moderations.get(sheet.code, {}).get(key))
        for sheet in sheets
        if sheet.code in outcomes
        for key, ask in asks[sheet.code].items()
        if key in outcomes[sheet.code]
    ]


def _asks_by_sheet(sheets: Sequence[Sheet]) -> Asks:
    """The asks of each sheet by their keys, made once for all that bear the same questions."""
    made: dict[tuple[int, ...], dict[str, Ask]] = {}
    found = {}
    for sheet in sheets:
        questions = tuple(id(variant.question) for variant in sheet.variants)
        if questions not in made:
            made[questions] = {ask.key: ask for ask in sheet.asks}
        found[sheet.code] = made[questions]
    return found


def _fresh(about: Sequence[About], there: dict[tuple[str, str], Answer]) -> tuple[list[About], list[Problem]]:
    fresh, problems = [], []
    for one in about:
        stands = there.get((one.sheet, one.ask))
        if stands is not None and stands.state == one.state:
            fresh.append(one)
        else:
            problems.append(_changed(one, stands))
    return fresh, problems


def _changed(one: About, stands: Answer | None) -> Problem:
    if stands is None:
        return Problem("not-marked", Place(one.sheet), "an answer that was marked", one.ask)
    m = stands.moderation
    by = f", by {m.who}: {m.why}" if m else ""
    place = Place(f"{stands.ask.label} of {stands.sheet.student.code}")
    found = f"one that has changed since: {stands.outcome.marks} of {stands.outcome.out_of} now{by}"
    return Problem("stale", place, "the answer as it was shown to you", found, "look at it once more, then decide")


def _given(answer: Answer, decision: TypedMark) -> Given:
    half_marks, out_of = answer.sheet.task.rules.half_marks, answer.outcome.out_of
    criteria = _criteria(answer, decision, half_marks)
    marks = sum(criteria, Decimal(0)) if criteria else marks_typed(decision.marks)
    if marks is None or not may_give(marks, out_of, half_marks):
        expected = f"{range_text(out_of, half_marks)} for {answer.ask.label}"
        found = f"'{decision.marks}'" if decision.marks.strip() else "none"
        raise ProblemsFound([Problem("marks-out-of-range", Place("marks"), expected, found)])
    why = decision.why.strip() or (BY_HAND if criteria else "")
    return Given(marks, decision.who, why, decision.say.strip(), criteria)


def _criteria(answer: Answer, decision: TypedMark, half_marks: bool) -> tuple[Decimal, ...]:
    """The marks of each criterion, none where none is typed; raises ProblemsFound for one that cannot be given."""
    if not any(text.strip() for text in decision.criteria):
        return ()
    found, problems = [], []
    for text, (name, most) in zip(decision.criteria, criteria_of(answer.ask), strict=False):
        marks = marks_typed(text)
        if marks is None or not may_give(marks, most, half_marks):
            expected = f"{range_text(most, half_marks)} for '{name}'"
            problems.append(Problem("marks-out-of-range", Place("criteria"), expected, f"'{text}'" if text else "none"))
        else:
            found.append(marks)
    if problems:
        raise ProblemsFound(problems)
    return tuple(found)
