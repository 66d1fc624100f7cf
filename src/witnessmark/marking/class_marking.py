"""Marking what a whole class handed in: sheets that share a question are marked together, by columns."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import partial

import numpy as np

from witnessmark.marking.answered import Answered
from witnessmark.marking.hypotheses.wording import empty_sentence
from witnessmark.marking.marker import QuestionMarked, mark, mark_question
from witnessmark.marking.other_sheets import right_values, with_other_sheets
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.marking.reweighing import Rows, reweighed
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.alike import Alike, Groups
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.number.comma_habits import CommaHabit, habit_of, habit_of_class
from witnessmark.words.faults import Fault, attempt
from witnessmark.words.problems import Place

SPOILED = "\N{NULL}"
"""Read in place of an entry that a spreadsheet spoiled: no reader takes it for an answer."""
STOPPED = "the marking has a fault that this entry brings out"
OnFault = Callable[[Fault], None]
"""Told of each entry that was set aside; the place is the sheet's code and the key of the answer (`1.a`)."""


def pass_over(fault: Fault) -> None:
    """For who looks at the outcomes alone."""


@dataclass(frozen=True, slots=True)
class _Job:
    """One student's answers to one question."""

    sheet_code: str
    number: int
    variant: Variant
    texts: Mapping[str, str]
    commas: CommaHabit | None = None


@dataclass(slots=True)
class _Found:
    """What was found of one student: outcomes, and the SI values read, by ask key."""

    outcomes: dict[str, Outcome] = field(default_factory=dict)
    values: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ToMark:
    """What all students answered to one question, with the rules of the task: it can be marked anywhere."""

    jobs: Sequence[_Job]
    rules: Rules


@dataclass(frozen=True, slots=True)
class Apart:
    """What was found of each student's answers to one question, by sheet code, and the entries that were set aside."""

    found: Mapping[str, _Found]
    faults: tuple[Fault, ...]


Each = Callable[[Callable[[Sequence[ToMark]], list[Apart]], Sequence[ToMark]], Iterable[list[Apart]]]
"""Has work done on all of several things, some at a time, and gives the results in their order."""


def here(work: Callable[[Sequence[ToMark]], list[Apart]], things: Sequence[ToMark]) -> Iterable[list[Apart]]:
    """All of it in this process."""
    yield work(things)


def mark_returns(
    sheets: Mapping[str, Sheet], returns: Sequence[Return], rules: Rules, on_fault: OnFault = pass_over,
    each: Each = here,
) -> dict[str, dict[str, Outcome]]:  # fmt: skip
    """Outcomes by sheet code and ask key (`1.a`) of every return; the order of returns has no say.

    An entry that stops the marking is unreadable and waits; `on_fault` is told of it, and all others are marked. Each
    question is marked for itself, by whomever `each` has do it.
    """
    by_question: dict[Alike, list[_Job]] = {}
    groups = Groups(sheets[r.sheet_code] for r in returns)
    habits = {r.sheet_code: habit_of(entry.raw for _, entry in r.entries) for r in returns}
    usual = habit_of_class(habits.values())
    for handed_in in returns:
        sheet = sheets[handed_in.sheet_code]
        for job in _jobs(sheet, handed_in, habits[handed_in.sheet_code] or usual):
            by_question.setdefault(groups.of(job.variant), []).append(job)
    found = {r.sheet_code: _Found() for r in returns}
    to_mark = [ToMark(jobs, rules) for jobs in by_question.values()]
    for apart in (one for several in each(marked_apart, to_mark) for one in several):
        for fault in apart.faults:
            on_fault(fault)
        for code, mine in apart.found.items():
            found[code].outcomes |= mine.outcomes
            found[code].values |= mine.values
    known = right_values([sheets[code] for code in sorted(sheets)])
    marked: dict[str, dict[str, Outcome]] = {}
    for handed_in in returns:
        code, mine = handed_in.sheet_code, found[handed_in.sheet_code]
        compared = with_other_sheets(sheets[code], mine.outcomes, mine.values, known, rules)
        marked[code] = _in_sheet_order(sheets[code], _with_notes(compared, dict(handed_in.entries)))
    return marked


def marked_apart(several: Sequence[ToMark]) -> list[Apart]:
    """What was found of each question's answers."""
    return [_mark_apart(one.jobs, one.rules) for one in several]


def _mark_apart(jobs: Sequence[_Job], rules: Rules) -> Apart:
    """Mark them together; where that fails, without the entries that fail alone, and those as unreadable."""
    question, faults = jobs[0].variant.question, list[Fault]()
    found = {job.sheet_code: _Found() for job in jobs}
    whole = attempt(lambda: _mark_together(question, jobs, rules, found), Place(question.key))
    if not isinstance(whole, Fault):
        return Apart(found, ())
    stopped = {(job.sheet_code, key): fault for job in jobs for key, fault in _stopping(job, rules)}
    kept = [_without(job, stopped) for job in jobs]
    again = attempt(lambda: _mark_together(question, kept, rules, found), Place(question.key))
    if isinstance(again, Fault):  # nothing of this question can be marked: every entry of it waits
        stopped |= {(job.sheet_code, key): again for job in jobs for key in job.texts}
    for job in jobs:
        for key, text in job.texts.items():
            if fault := stopped.get((job.sheet_code, key)):
                faults.append(replace(fault, place=Place(job.sheet_code, cell=f"{job.number}.{key}")))
                found[job.sheet_code].outcomes[f"{job.number}.{key}"] = _set_aside(question, key, text, fault)
    return Apart(found, tuple(faults))


def _stopping(job: _Job, rules: Rules) -> list[tuple[str, Fault]]:
    """The entries of one student that stop the marking by themselves, by key within the question."""
    tried = ((k, attempt(partial(mark, job.variant, {k: text}, rules), Place(k))) for k, text in job.texts.items())
    return [(key, result) for key, result in tried if isinstance(result, Fault)]


def _without(job: _Job, stopped: Mapping[tuple[str, str], Fault]) -> _Job:
    texts = {key: SPOILED if (job.sheet_code, key) in stopped else text for key, text in job.texts.items()}
    return replace(job, texts=texts)


def _set_aside(question: Question, key: str, text: str, fault: Fault) -> Outcome:
    """The outcome of an entry that stops the marking: no marks yet, and the teacher is asked."""
    part = question.part(key.partition(".")[0])
    out_of = next((line.marks for line in lines_of(part) if f"{part.key}.{line.name}" == key), part.marks)
    return Outcome(
        Decimal(0), out_of, Verdict.UNREADABLE, empty_sentence(Verdict.UNREADABLE, STOPPED), raw=text, sure=0.0,
        notes=(fault.reason,), in_tray=(f"could not be read: {STOPPED}",),
    )  # fmt: skip


def _with_notes(outcomes: Mapping[str, Outcome], entries: Mapping[str, Entry]) -> dict[str, Outcome]:
    """The outcomes with what the spreadsheet did to an entry, and the entry as received."""
    return {key: _noted(outcome, entries.get(key)) for key, outcome in outcomes.items()}


def _noted(outcome: Outcome, entry: Entry | None) -> Outcome:
    if entry is None or not entry.note:
        return outcome
    if not entry.spoiled:
        return replace(outcome, notes=(*outcome.notes, entry.note))
    sentence = empty_sentence(Verdict.UNREADABLE, entry.note)
    return replace(outcome, raw=entry.raw, because=sentence, in_tray=(f"could not be read: {entry.note}",))


def _jobs(sheet: Sheet, handed_in: Return, commas: CommaHabit | None) -> list[_Job]:
    texts = {key: SPOILED if entry.spoiled else entry.raw for key, entry in handed_in.entries}
    jobs = []
    for number, variant in enumerate(sheet.variants, 1):
        stem = f"{number}."
        mine = {key.removeprefix(stem): text for key, text in texts.items() if key.startswith(stem)}
        jobs.append(_Job(sheet.code, number, variant, mine, commas))
    return jobs


def _mark_together(question: Question, jobs: Sequence[_Job], rules: Rules, found: Mapping[str, _Found]) -> None:
    values = [job.variant.values for job in jobs]
    givens = {name: np.array([v[name] for v in values]) for name in values[0]}
    keys = {key for job in jobs for key in job.texts}
    entries = {key: [job.texts.get(key, "") for job in jobs] for key in sorted(keys)}
    variants, commas = [job.variant for job in jobs], [job.commas for job in jobs]
    answered = Answered(givens, entries, len(jobs), variants, commas)
    first = mark_question(question, answered, rules)

    def again(rows: Rows, priors: ClassPriors) -> QuestionMarked:
        return mark_question(question, answered.only(rows), rules, priors)

    for row, (job, (marked, at)) in enumerate(zip(jobs, reweighed(first, again).each(), strict=True)):
        mine, outcomes = found[job.sheet_code], marked.outcomes(at)
        if marked is not first:
            outcomes = _told(outcomes, first.outcomes(row))
        mine.outcomes |= {f"{job.number}.{key}": o for key, o in outcomes.items()}
        mine.values |= {f"{job.number}.{key}": float(p.values[row]) for key, p in first.numbers.items()}


def _told(outcomes: Mapping[str, Outcome], alone: Mapping[str, Outcome]) -> dict[str, Outcome]:
    """The outcomes with a note for the teacher where what the class did gave another name."""
    return {key: _named_by_class(outcome, alone[key]) for key, outcome in outcomes.items()}


def _named_by_class(outcome: Outcome, alone: Outcome) -> Outcome:
    if (outcome.verdict, outcome.misconceptions) == (alone.verdict, alone.misconceptions):
        return outcome
    name = f"{alone.verdict}, {' + '.join(alone.misconceptions)}" if alone.misconceptions else str(alone.verdict)
    return replace(outcome, notes=(*outcome.notes, f"named by what others of the class did; alone it would be {name}"))


def _in_sheet_order(sheet: Sheet, outcomes: Mapping[str, Outcome]) -> dict[str, Outcome]:
    return {ask.key: outcomes[ask.key] for ask in sheet.asks if ask.key in outcomes}
