"""Students on paper: each works a question line by line and rounds by hand, in decimals, as the task tells them.

The working is the author's; the rounding, the carrying and the writing are done here a second time, apart from the
marker's own habits.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

import numpy as np

from bank_fixture import BANK
from witnessmark.marking.answered import Answered
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import from_si, to_si
from witnessmark.questions.model.kinds import names_of, results_of
from witnessmark.questions.model.parts import Kind, QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant, unit_of
from witnessmark.questions.working.working import ALL_CONSTANTS

CALCULATED = [key for key, q in BANK.items() if q.quantities]
"""The questions of the bank in which something is calculated."""

Answers = dict[str, str]


@dataclass(frozen=True)
class Habit:
    """How a student takes pi and g, to how many figures lines are carried on (None: in full), and results written."""

    pi: float = math.pi
    g: float = 9.81
    lines: int | None = None
    written: int = 3

    def __str__(self) -> str:
        return f"pi {self.pi:.6g}, g {self.g}, lines {self.lines or 'in full'}, written {self.written}"


PI = (math.pi, 3.142, 3.14, 22 / 7)
LINES = (3, 4, 5, None)
WRITTEN = (3, 4, 5)
G = (9.81, 9.8, 9.80665)
HABITS = [
    Habit(pi, G[n % len(G)], lines, figures)
    for n, (pi, lines, figures) in enumerate(itertools.product(PI, LINES, WRITTEN))
]


def rounded(x: float, figures: int | None) -> float:
    """A number rounded to significant figures on its decimal text, halves up."""
    if figures is None or x == 0:
        return x
    exact = Decimal(repr(x))
    return float(exact.quantize(Decimal(1).scaleb(exact.adjusted() + 1 - figures), rounding=ROUND_HALF_UP))


def written(si: float, unit: str, figures: int) -> str:
    """An SI value as a student writes it: `94.25 kN`, trailing zeros kept."""
    exact = Decimal(repr(from_si(si, unit)))
    number = exact.quantize(Decimal(1).scaleb(exact.adjusted() + 1 - figures), rounding=ROUND_HALF_UP)
    digits = f"{number:f}" if -6 < exact.adjusted() < 9 else f"{number:E}"
    return f"{digits} {unit}".strip()


def typed(question: Question, key: str, si: float, figures: int = 4) -> str:
    """An SI value written in the unit that is asked at a key (`a`, `a.A_s`)."""
    return written(si, unit_of(question, key), figures)


def right(variant: Variant, figures: int = 5) -> Answers:
    """The right answers to every result, in full on the way."""
    results = {part.key for part in variant.question.quantities}
    return {k: typed(variant.question, k, si, figures) for k, si in variant.expected_si.items() if k in results}


def worked(
    variant: Variant, habit: Habit, shows_lines: bool = True, slips: Mapping[str, Slip] | None = None
) -> Answers:
    """What a student writes who works properly: every result, every judgement, and the lines where they are shown.

    In the parts of `slips` (by key) that slip is made, in the line or the last step that it belongs to; what follows is
    worked from the student's own results.
    """
    names = {**{k: float(v) for k, v in ALL_CONSTANTS.items()}, **variant.values, "pi": habit.pi, "g": habit.g}
    answers: Answers = {}
    for part in variant.question.parts:
        if part.kind is Kind.JUDGE:
            answers[part.key] = "yes" if bool(compiled(part.judge)(names)) else "no"
        for result in results_of(part):
            answers |= _worked_part(result, names, habit, shows_lines, (slips or {}).get(result.key))
    return answers


def _worked_part(
    part: QuantityPart, names: dict[str, float], habit: Habit, shows_lines: bool, slip: Slip | None
) -> Answers:
    own, answers = dict(names), {}
    for line in part.lines:
        tree = slip.answer if slip and slip.line == line.name else line.value
        own[line.name] = _carried(float(compiled(tree)(own)), line.unit, habit.lines)
        if shows_lines:
            answers[f"{part.key}.{line.name}"] = written(own[line.name], line.unit, habit.lines or 7)
    last = slip.answer if slip and not slip.line else part.answer
    result = float(compiled(last)(own))
    answers[part.key] = written(result, part.unit, max(habit.written, part.figures or 0))
    kept = max(habit.lines, part.figures or 0) if habit.lines else None
    names.update(dict.fromkeys(names_of(part), _carried(result, part.unit, kept)))
    return answers


def _carried(si: float, unit: str, figures: int | None) -> float:
    return to_si(rounded(from_si(si, unit), figures), unit)


def marked(
    variants: Sequence[Variant], answers: Sequence[Mapping[str, str]], rules: Rules | None = None
) -> QuestionMarked:
    """Many students' answers to one question, marked together."""
    question = variants[0].question
    names = set(variants[0].values).intersection(*(v.values for v in variants))
    givens = {name: np.array([v.values[name] for v in variants]) for name in sorted(names)}
    keys = sorted({key for a in answers for key in a})
    entries = {key: [a.get(key, "") for a in answers] for key in keys}
    return mark_question(question, Answered(givens, entries, len(variants)), rules or Rules())


def quantities(question: Question) -> Iterator[QuantityPart]:
    """The parts of a question whose results are numbers."""
    return iter(question.quantities)


def drawn(key: str, seeds: Iterable[str]) -> list[Variant]:
    """Variants of one question of the bank."""
    return [BANK[key].draw(seed) for seed in seeds]
