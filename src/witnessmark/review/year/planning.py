"""The next task: the questions that are expected to tell most of what is in doubt in this class, for their minutes."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Question
from witnessmark.review.year.belief import Belief, information

# Minutes that a question takes; common practice, no source.
READING, A_MARK = 3, 2
NAMED = 3
SUSPECTED = 0.3


@dataclass(frozen=True, slots=True)
class Reason:
    """What a question is in for: a misconception, the bits it is expected to tell of it, in whom it is suspected."""

    key: str
    bits: float
    suspected: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Chosen:
    """One question of the task, with its minutes, the bits that it adds to those before it, and why it is in."""

    question: Question
    minutes: int
    bits: float
    reasons: tuple[Reason, ...]


def minutes_of(question: Question) -> int:
    """About how long a question takes."""
    marks = sum((part.marks for part in question.parts), Decimal(0))
    return READING + A_MARK * int(marks.to_integral_value())


def plan(questions: Sequence[Question], held: Belief, minutes: int, about: Collection[str] = ()) -> tuple[Chosen, ...]:
    """Questions of two neighbouring levels whose expected information together is greatest for the minutes, one by one;
    `about` is what is to be found out; left out, what is suspected in somebody, and where nothing is, everything."""
    about = about or suspected(held)
    levels = sorted({question.level for question in questions})
    spans = [{level, level + 1} for level in levels]
    tried = [_of_span([q for q in questions if q.level in span], held, minutes, about) for span in spans]
    return max(tried, key=lambda chosen: sum(one.bits for one in chosen), default=())


def _of_span(questions: Sequence[Question], held: Belief, minutes: int, about: Collection[str]) -> tuple[Chosen, ...]:
    waiting, left = list(questions), minutes
    before: Counter[str] = Counter()
    found: list[Chosen] = []
    while True:
        fitting = [q for q in waiting if minutes_of(q) <= left]
        offers = [(_adds(q, held, before, about), q) for q in fitting]
        offers = [(reasons, q) for reasons, q in offers if reasons]
        if not offers:
            return tuple(found)
        reasons, best = max(offers, key=_worth)
        found.append(Chosen(best, minutes_of(best), sum(r.bits for r in reasons), reasons[:NAMED]))
        before.update(chances_in(best))
        waiting.remove(best)
        left -= minutes_of(best)


def _worth(offer: tuple[Sequence[Reason], Question]) -> tuple[float, str]:
    """Bits for each minute; of equals the same one every time."""
    reasons, question = offer
    return sum(reason.bits for reason in reasons) / minutes_of(question), question.key


def _adds(question: Question, held: Belief, before: Mapping[str, int], about: Collection[str]) -> tuple[Reason, ...]:
    """What a question adds to those chosen before, the most telling first."""
    reasons = []
    for key, chances in chances_in(question).items():
        if about and key not in about:
            continue
        already, mine = before.get(key, 0), held.get(key, {})
        bits = sum(n * (information(p, already + chances) - information(p, already)) for p, n in _tally(mine).items())
        if bits > 0:
            reasons.append(Reason(key, bits, tuple(s for s, p in mine.items() if p >= SUSPECTED)))
    return tuple(sorted(reasons, key=lambda reason: (-reason.bits, reason.key)))


def suspected(held: Belief) -> frozenset[str]:
    """What at least one student is suspected of."""
    return frozenset(key for key, mine in held.items() if any(p >= SUSPECTED for p in mine.values()))


def _tally(mine: Mapping[str, float]) -> Counter[float]:
    """How many students are believed to hold it this likely; most of a class are alike."""
    return Counter(round(p, 3) for p in mine.values())


def chances_in(question: Question) -> Counter[str]:
    """How many parts of a question can show each misconception."""
    return Counter(key for part in question.parts for key in dict.fromkeys(shown_by(part)) if key)


def keys_of(questions: Iterable[Question]) -> frozenset[str]:
    """Every misconception that these questions can show."""
    return frozenset(key for question in questions for key in chances_in(question))
