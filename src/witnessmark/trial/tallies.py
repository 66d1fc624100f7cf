"""What the marker made of simulated students: one row a student, and the tables of truth against verdict."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from witnessmark.marking.answered import Answered
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.marking.outcome import Verdict
from witnessmark.maths.compiled import Array
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.trial.simulated import Answers, Generator, Truth, answers, pool_of, truths

CHUNK = 4_000
FIRST = 3
MEETING = ", digits of a known method"
"""Added to a kind where a method that the bank knows has the same digits for the variant: no marker could tell."""


@dataclass(frozen=True, slots=True)
class Tally:
    """One simulated student at one place: what they did, and what the marker said."""

    question: str
    level: int
    key: str
    kind: str
    verdict: Verdict
    named: bool
    in_evidence: bool
    slip_named: bool
    full: bool
    sure: float
    entry: str
    truth: str


def trial_of(question: Question, each: int, generator: Generator, bend: float = 0.0) -> Iterator[Tally]:
    """`each` students for every truth at every result of a question; none when no variant may be issued."""
    pool = pool_of(question)
    if pool is None:
        return
    batch: list[Answers] = []
    for truth in truths(pool, generator):
        batch.append(answers(pool, truth, each, generator, bend))
        if sum(len(a.rows) for a in batch) >= CHUNK:
            yield from _marked(question, pool.givens, batch)
            batch = []
    if batch:
        yield from _marked(question, pool.givens, batch)


def _marked(question: Question, givens: dict[str, Array], batch: list[Answers]) -> Iterator[Tally]:
    rows = np.concatenate([a.rows for a in batch])
    keys = {key for a in batch for key in a.entries}
    entries = {k: [t for a in batch for t in (a.entries.get(k) or [""] * len(a.rows))] for k in sorted(keys)}
    columns = {name: values[rows] for name, values in givens.items()}
    marked = mark_question(question, Answered(columns, entries, len(rows)), Rules())
    start = 0
    for one in batch:
        yield from _tallies(question, marked, one, start)
        start += len(one.rows)


def _tallies(question: Question, marked: QuestionMarked, one: Answers, start: int) -> Iterator[Tally]:
    truth, key = one.truth, one.truth.place.key
    span = slice(start, start + len(one.rows))
    verdicts, sure, marks = marked.verdicts(key)[span], marked.sure(key)[span], marked.marks(key)[span]
    full = int(truth.place.part.marks * 100)
    order = tuple(Verdict)
    for i in range(len(one.rows)):
        verdict = order[verdicts[i]]
        yield Tally(
            question.key, question.level, key, _kind(truth, int(one.rows[i])), verdict,
            _is_named(marked, key, start + i, truth),
            _in_evidence(marked, key, start + i, truth), verdict in (Verdict.SLIP, Verdict.TWO_SLIPS),
            int(marks[i]) >= full, float(sure[i]), one.entries[key][i], _what(truth),
        )  # fmt: skip


def _kind(truth: Truth, variant: int) -> str:
    return f"{truth.kind}{MEETING}" if truth.meets is not None and truth.meets[variant] else truth.kind


def _what(truth: Truth) -> str:
    who = " + ".join(truth.method.misconceptions) if truth.method and truth.method.misconceptions else truth.kind
    return f"{who} x 10^{truth.power}" if truth.power else who


def _is_named(marked: QuestionMarked, key: str, row: int, truth: Truth) -> bool:
    place = marked.numbers[key]
    named = int(place.named[row])
    if truth.kind == "noise":
        return named < 0
    if named < 0 or truth.method is None:
        return False
    h = place.candidates[named]
    if truth.kind == "carried":
        return h.verdict in (Verdict.CARRIED_FORWARD, Verdict.RIGHT)
    same_power = not h.factor.conversion and (h.factor.power == truth.power or truth.method.bare)
    if truth.kind == "edit":
        return h.method.formula == truth.method.formula and same_power
    return set(h.method.misconceptions) == set(truth.method.misconceptions) and same_power


def _in_evidence(marked: QuestionMarked, key: str, row: int, truth: Truth) -> bool:
    """True where the true method is among the leading explanations (an edit: among the first three)."""
    place = marked.numbers[key]
    fits = place.climbed[int(place.candidate[row])].fits
    mine = np.flatnonzero(fits.row == row)
    leading = mine[np.argsort(-fits.posterior[mine], kind="stable")][:FIRST]
    if truth.method is None:
        return False
    for i in leading:
        h = place.candidates[int(fits.hypothesis[i])]
        if h.method.formula == truth.method.formula or (
            truth.method.misconceptions and set(h.method.misconceptions) == set(truth.method.misconceptions)
        ):
            return True
    return False


def trial(questions: Iterable[Question], each: int, seed: int, bend: float = 0.0) -> Iterator[Tally]:
    """The trial over many questions; the same seed gives the same students whatever the order of questions."""
    for question in questions:
        stem = int.from_bytes(question.key.encode()[:12], "big")
        yield from trial_of(question, each, np.random.Generator(np.random.PCG64([seed, stem])), bend)
