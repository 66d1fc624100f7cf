"""What the marker made of strangers: each answer handed in through marking's own door, and held against its truth."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.marking.answered import Answered
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.drawing.draw import Space
from witnessmark.questions.drawing.space import choices, variant_at
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.strangers.answers import Answer, Did
from witnessmark.strangers.arithmetic import both_sides_alike, read
from witnessmark.strangers.papers import Paper, Sheet
from witnessmark.strangers.students import strangers

SHEETS = 24
FEWEST_FIGURES = 3
FULLY_RIGHT = (
    Did.RIGHT, Did.RIGHT_STEPS, Did.RIGHT_EACH, Did.RIGHT_CUT, Did.RIGHT_DECIMALS, Did.RIGHT_OTHER_UNIT,
)  # fmt: skip
UNIT_VERDICTS = (Verdict.UNIT, Verdict.POWER_OF_TEN)
CARRIED = (Verdict.CARRIED_FORWARD, Verdict.RIGHT)
NEARLY_RIGHT = (Verdict.RIGHT, Verdict.ROUNDED_EARLY, Verdict.CARRIED_FORWARD)


@dataclass(frozen=True, slots=True)
class Judged:
    """One stranger's answer and what was said of it.

    `named`: what was done was said. `blamed`: a misconception was named.
    """

    question: str
    answer: Answer
    verdict: Verdict
    misconceptions: tuple[str, ...]
    sure: float
    named: bool
    full: bool
    says: str

    @property
    def blamed(self) -> bool:
        """True where a misconception was named."""
        return bool(self.misconceptions)


def sheets_of(question: Question, count: int, seed: str) -> list[Variant]:
    """Variants as they are issued, all different; fewer where there are fewer."""
    if not choices(question):
        return []
    seeds = Space(question)
    wished = [seeds.wishes(f"{seed}|{i}", 0) for i in range(count)]
    seeds.look_at([pick for wishes in wished for pick in wishes])
    picks = dict.fromkeys(p for wishes in wished if (p := seeds.best_free(wishes, frozenset())) is not None)
    return [variant_at(question, pick) for pick in picks]


def as_printed(variant: Variant) -> Sheet:
    """The numbers of a variant as a stranger reads them: digits and units."""
    return {name: (str(shown.number), shown.unit) for name, shown in variant.shown.items()}


def judged(question: Question, paper: Paper, each: int, seed: int) -> Iterator[Judged]:
    """`each` strangers for everything that is done at every number of a question; none where nothing can be drawn."""
    variants = sheets_of(question, SHEETS, f"strangers|{seed}")
    if not variants:
        return
    stem = int.from_bytes(question.key.encode()[:12], "big")
    chance = np.random.Generator(np.random.PCG64([seed, stem, 7]))
    answers = list(strangers(paper, [as_printed(v) for v in variants], each, chance))
    marked = mark_question(question, _handed_in(variants, answers), Rules())
    for row, answer in enumerate(answers):
        yield judge(question, answer, marked, row)


def _handed_in(variants: Sequence[Variant], answers: Sequence[Answer]) -> Answered:
    values = [variants[a.sheet].values for a in answers]
    givens = {name: np.array([v[name] for v in values]) for name in values[0]} if values else {}
    keys = sorted({key for a in answers for key in a.entries})
    entries = {key: [a.entries.get(key, "") for a in answers] for key in keys}
    return Answered(givens, entries, len(answers))


def judge(question: Question, answer: Answer, marked: QuestionMarked, row: int) -> Judged:
    """One answer against its truth."""
    outcome = marked.outcome(answer.key, row)
    full = int(marked.marks(answer.key)[row]) >= int(question.quantity(answer.key).marks * 100)
    return Judged(question.key, answer, outcome.verdict, outcome.misconceptions, outcome.sure,
                  is_named(answer, outcome, full), full, outcome.because)  # fmt: skip


def is_named(answer: Answer, outcome: Outcome, full: bool) -> bool:
    """True where the outcome says what was done: see the measures for what counts for each kind."""
    verdict, names = outcome.verdict, frozenset(outcome.misconceptions)
    if answer.did in FULLY_RIGHT:
        return full
    match answer.did:
        case Did.RIGHT_COARSE | Did.CONSTANT:
            return verdict in NEARLY_RIGHT or (verdict is Verdict.EDIT and not names)
        case Did.TEN:
            return verdict is Verdict.POWER_OF_TEN and not names
        case Did.SLIP | Did.SLIP_TEN | Did.SLIP_CARRIED:
            return verdict is Verdict.SLIP and answer.listed <= names
        case Did.TWO | Did.TWO_OTHER:
            return verdict is Verdict.TWO_SLIPS and answer.listed <= names
        case Did.CARRIED | Did.CARRIED_LINE:
            return verdict in CARRIED
        case Did.UNIT | Did.PREFIX:
            return verdict in UNIT_VERDICTS and not names
        case Did.SIGN:
            return "sign" in outcome.because and not names
        case Did.SLIP_SIGN:
            return "sign" in outcome.because and answer.listed <= names
        case Did.DIGITS:
            return "digit" in outcome.because and not names
        case Did.CHANGED | Did.CHANGED_OTHER:
            return verdict is Verdict.EDIT and not names and _same_formula(answer, outcome)
    return answer.did is Did.NOISE and verdict is Verdict.UNEXPLAINED


def _same_formula(answer: Answer, outcome: Outcome) -> bool:
    """True where the edit that is named is the same function of the givens as what was done, powers of ten aside."""
    named = next((e.formula for e in outcome.evidence if e.verdict is outcome.verdict), "")
    return bool(named) and answer.formula is not None and both_sides_alike(answer.formula, read(named))
