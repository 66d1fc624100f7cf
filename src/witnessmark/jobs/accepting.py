"""The job `accept`: a wrong method that the bank did not know becomes a slip of a task that was issued already.

Nothing is written unless that is said; first every mark that would change is shown. What was issued stays as it is:
the slip is kept beside it in the record, and the task is marked with it from then on.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from witnessmark.files.bank.folder import MISCONCEPTIONS
from witnessmark.files.bank.slip_text import NAME, form_problems, meaning_problems, read_marks
from witnessmark.jobs.bank_advice import BankAdvice, advice, known_misconceptions
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.jobs.proposing import proposals
from witnessmark.jobs.stale import stale_documents
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.checking.accepted_slips import AcceptedSlip, standing_of, with_accepted, without_accepted
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.questions.sheet.task import Ask, Sheet, ask_labelled
from witnessmark.record.record import Record
from witnessmark.record.rows import Acceptance, Outcomes
from witnessmark.review.shared_methods import search
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Proposed:
    """What is to be accepted: the key of a misconception, a formula as an author types it or the number of one that the
    review found, the marks kept, what to say where the bank has not the misconception yet, and whether it is to be
    written into the bank's file as well."""

    misconception: str
    formula: str = ""
    found: int = 0
    keeps: str = ""
    say: str = ""
    into_bank: bool = False


@dataclass(frozen=True, slots=True)
class MarkChange:
    """A machine's mark that changes, for one answer; `stands` is the teacher's own mark, which stays, and whose it is.

    `before` and `after` are outcomes (None: there is none).
    """

    sheet: str
    student: str
    label: str
    before: Outcome | None
    after: Outcome | None
    stands: Decimal | None = None
    stands_by: str = ""


@dataclass(frozen=True, slots=True)
class Accepted:
    """What accepting a slip (or taking one back: `dropped`) changes, or has changed where it was `applied`."""

    task: str
    label: str
    slip: AcceptedSlip
    changes: tuple[MarkChange, ...]
    applied: bool
    dropped: bool
    advice: BankAdvice | None = None
    stale: tuple[Path, ...] = ()


def accept(class_path: Path, task_key: str, label: str, proposed: Proposed, decision: Decision) -> Accepted:
    """Show what accepting a slip at one answer (`1a`) would change, or do it; raises ProblemsFound."""
    with alone(class_path, "accept", decision.now if decision.apply else None):
        return _accept(class_path, task_key, label, proposed, decision)


def _accept(class_path: Path, task_key: str, label: str, proposed: Proposed, decision: Decision) -> Accepted:
    opened = open_class(class_path)
    with opened.record() as record:
        sheets = _marked_sheets(record, class_path, task_key)
        ask = _ask(sheets, label)
        slip = _slip(record, class_path, sheets, ask, proposed, opened.folder.bank)
        outcomes = _marked_by(record, sheets, lambda question: with_accepted(question, [slip]))
        changes = _changes(record, sheets, outcomes)
        if decision.apply:
            why = f"{slip.misconception.key} accepted as a slip at {ask.label}: {decision.why}"
            _apply(record, record.accept, task_key, slip, outcomes, decision, why)
    told = advice(opened.folder.bank, slip, write=decision.apply and proposed.into_bank)
    stale = _stale(class_path, sheets, changes, decision)
    return Accepted(task_key, ask.label, slip, changes, decision.apply, False, told, stale)


def drop(class_path: Path, task_key: str, label: str, misconception: str, decision: Decision) -> Accepted:
    """Show what taking an accepted slip back would change, or do it; raises ProblemsFound where it was not accepted."""
    with alone(class_path, "accept", decision.now if decision.apply else None):
        return _drop(class_path, task_key, label, misconception, decision)


def _drop(class_path: Path, task_key: str, label: str, misconception: str, decision: Decision) -> Accepted:
    opened = open_class(class_path)
    with opened.record() as record:
        sheets = _marked_sheets(record, class_path, task_key)
        ask = _ask(sheets, label)
        slip = _accepted(record, sheets, ask, misconception).slip
        outcomes = _marked_by(record, sheets, lambda question: without_accepted(question, slip))
        changes = _changes(record, sheets, outcomes)
        if decision.apply:
            why = f"{misconception} no longer a slip at {ask.label}: {decision.why}"
            _apply(record, record.drop, task_key, slip, outcomes, decision, why)
    stale = _stale(class_path, sheets, changes, decision)
    return Accepted(task_key, ask.label, slip, changes, decision.apply, True, None, stale)


def _stale(
    class_path: Path, sheets: Sequence[Sheet], changes: Sequence[MarkChange], decision: Decision
) -> tuple[Path, ...]:  # fmt: skip
    changed = {change.sheet for change in changes}
    mine = [sheet for sheet in sheets if sheet.code in changed]
    return stale_documents(class_path, sheets[0].task.key, mine) if decision.apply else ()


def _apply(
    record: Record, keep: Callable[[str, AcceptedSlip, str, str, datetime], object], task_key: str, slip: AcceptedSlip,
    outcomes: Outcomes, decision: Decision, why: str,
) -> None:  # fmt: skip
    """The slip is kept (or dropped) and the task has its new outcomes, both or neither."""
    with record.step("accept", task_key, decision.now, decision.who):
        keep(task_key, slip, decision.who, decision.why, decision.now)
        record.set_outcomes(task_key, outcomes, decision.now, why, decision.who)


def _marked_sheets(record: Record, class_path: Path, task_key: str) -> tuple[Sheet, ...]:
    """The sheets of a task whose marks are those that this program gives; a problem where they are not."""
    place, again = Place(str(class_path)), f"witnessmark mark {class_path} {task_key}"
    sheets = record.sheets(task_key)
    if not sheets:
        raise ProblemsFound([not_issued(class_path, task_key)])
    if not record.proposals(task_key):
        raise ProblemsFound([Problem("not-marked", place, f"a marked task {task_key}", "no marks", again)])
    outcomes = _marked_by(record, sheets, lambda question: question)
    old = [c for c in record.changes(task_key, outcomes) if c.changes_the_mark]
    if old:
        found = f"{len(old)} that marking gives otherwise now"
        raise ProblemsFound([Problem("marks-out-of-date", place, "marks that are up to date", found, again)])
    return sheets


def _ask(sheets: Sequence[Sheet], label: str) -> Ask:
    """The answer of a label or key on the sheets of a task."""
    asks = {ask.label: ask for sheet in sheets for ask in sheet.asks}.values()
    ask = ask_labelled(asks, label)
    if ask is None:
        labels = ", ".join(ask.label for ask in asks if isinstance(ask.part, QuantityPart))
        raise ProblemsFound([Problem("no-answer", Place("ANSWER"), f"one of {labels}", f"'{label}'")])
    if not isinstance(ask.part, QuantityPart):
        expected, found = "an answer that is a number with a unit", f"{ask.label}, a {ask.part.kind}"
        raise ProblemsFound([Problem("not-a-quantity", Place("ANSWER"), expected, found)])
    return ask


def _slip(
    record: Record, class_path: Path, sheets: Sequence[Sheet], ask: Ask, proposed: Proposed, bank: Path
) -> AcceptedSlip:
    """The slip that is to be accepted, looked at as one of a question file is."""
    versions = list({q.source: q for q in (s.variants[ask.number - 1].question for s in sheets)}.values())
    formula = proposed.formula or _found(record, class_path, sheets, ask, proposed.found)
    keeps, line = max(read_marks(proposed.keeps), Decimal(0)), ask.line.name if ask.line else ""
    key = proposed.misconception
    if not key.strip():
        raise ProblemsFound([_unknown(key, bank)])
    slip = AcceptedSlip(versions[0].key, ask.part.key, Misconception(key, "", "", ""), formula, keeps, line)
    rules = sheets[0].task.rules
    problems = form_problems(versions[0], slip, proposed.keeps, rules.half_marks)
    known = known_misconceptions(bank, versions[0])
    if key not in known and not proposed.say.strip():
        problems += (_unknown(key, bank),)
    if not problems:
        problems = _meanings(versions, slip, record.accepted(sheets[0].task.key), rules.figures)
    if problems:
        raise ProblemsFound(problems)
    said = known.get(key) or Misconception(key, "", "", proposed.say.strip())
    return replace(slip, misconception=said)


def _found(record: Record, class_path: Path, sheets: Sequence[Sheet], ask: Ask, number: int) -> str:
    """The formula of this number that the review found at an answer."""
    task_key = sheets[0].task.key
    shared = search(sheets, record.outcomes(task_key), ask.key).shared
    if not 1 <= number <= len(shared):
        listed = (
            f"1 to {len(shared)}" if len(shared) > 1 else "1" if shared else "none, since no formula is shared there"
        )
        remedy = f"witnessmark review {class_path} {task_key}"
        expected = f"the number of a formula found at {ask.label} ({listed})"
        raise ProblemsFound([Problem("no-formula", Place("--found"), expected, str(number), remedy)])
    return shared[number - 1].answer


def _unknown(key: str, bank: Path) -> Problem:
    remedy = f"add {key}: to {bank / MISCONCEPTIONS}, or say with --say what the student should look at"
    return Problem("unknown-misconception", Place(NAME), "a key of misconceptions.yaml", f"'{key}'", remedy)


def _meanings(
    versions: Sequence[Question], slip: AcceptedSlip, accepted: Sequence[Acceptance], figures: int
) -> tuple[Problem, ...]:
    """What speaks against a slip in every version of the question that was issued."""
    for one in accepted:
        if replace(one.slip, misconception=slip.misconception, keeps=slip.keeps) == slip and _same_key(one, slip):
            found = f"'{slip.misconception.key}', accepted by {one.who}: {one.why}"
            remedy = "nothing to do; to change what it keeps, take it back with --drop first"
            return (Problem("accepted-already", Place(NAME), "a slip that is not accepted yet", found, remedy),)
    met = [meaning_problems(question, slip, standing_of(question, slip, figures)) for question in versions]
    return met[0] if all(met) else ()


def _same_key(one: Acceptance, slip: AcceptedSlip) -> bool:
    return one.slip.misconception.key == slip.misconception.key


def _accepted(record: Record, sheets: Sequence[Sheet], ask: Ask, key: str) -> Acceptance:
    """The accepted slip of this misconception at an answer."""
    question, line = sheets[0].variants[ask.number - 1].question.key, ask.line.name if ask.line else ""
    accepted = record.accepted(sheets[0].task.key)
    for one in accepted:
        slip = one.slip
        if (slip.question, slip.part, slip.line, slip.misconception.key) == (question, ask.part.key, line, key):
            return one
    listed = ", ".join(one.slip.misconception.key for one in accepted) or "none"
    expected = f"a slip that was accepted at {ask.label}"
    raise ProblemsFound(
        [Problem("not-accepted", Place(NAME), expected, f"'{key}'", f"accepted in this task: {listed}")]
    )


def _marked_by(
    record: Record, sheets: Sequence[Sheet], change: Callable[[Question], Question]
) -> dict[str, dict[str, Outcome]]:
    """The outcomes of a task whose questions are changed, each version once."""
    questions = {id(v.question): v.question for sheet in sheets for v in sheet.variants}
    made = {key: change(question) for key, question in questions.items()}
    changed = {
        s.code: replace(s, variants=tuple(replace(v, question=made[id(v.question)]) for v in s.variants))
        for s in sheets
    }
    task_key = sheets[0].task.key
    differences, corrections = record.differences(task_key), record.corrections(task_key)
    return proposals(changed, record.returns(task_key), differences, corrections=corrections)


def _changes(record: Record, sheets: Sequence[Sheet], outcomes: Outcomes) -> tuple[MarkChange, ...]:
    """Every change of a mark, a verdict or a name, in the order of the sheets."""
    task_key = sheets[0].task.key
    labels = {(sheet.code, ask.key): ask.label for sheet in sheets for ask in sheet.asks}
    students = {sheet.code: sheet.student.code for sheet in sheets}
    moderated = record.moderations(task_key)
    found = []
    for change in record.changes(task_key, outcomes):
        before, after = change.before, change.after
        if change.changes_the_mark or _names(before) != _names(after):
            mine = moderated.get(change.sheet, {}).get(change.ask)
            stands, by = (mine.marks, mine.who) if mine else (None, "")
            label = labels[change.sheet, change.ask]
            found.append(MarkChange(change.sheet, students[change.sheet], label, before, after, stands, by))
    return tuple(found)


def _names(outcome: Outcome | None) -> tuple[str, ...]:
    return outcome.misconceptions if outcome is not None else ()
