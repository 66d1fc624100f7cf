"""Marking yes or no, judged on the student's own number."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

import numpy as np

from witnessmark.marking.kinds.quantity import Bench, PlaceMarked
from witnessmark.marking.kinds.without_numbers import blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import JudgePart
from witnessmark.questions.working.evaluation import names_in_full
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.judgements import read_judgement

YES_NO = {True: "yes", False: "no"}


def judgements(
    b: Bench, part: JudgePart, texts: Sequence[str], numbers: Mapping[str, PlaceMarked]
) -> tuple[Outcome, ...] | None:
    """The outcomes of a judgement, one a student; None when its givens are absent."""
    names = names_in_full(b.question, b.givens, b.worked)
    if not names_in(part.judge) <= names.keys():
        return None
    truth = np.broadcast_to(compiled(part.judge)(names), (b.size,))
    own = np.broadcast_to(compiled(part.judge)({**names, **_own_values(b, part, numbers)}), (b.size,))
    return tuple(_judgement(part, text, bool(t), bool(o)) for text, t, o in zip(texts, truth, own, strict=True))


def _own_values(b: Bench, part: JudgePart, numbers: Mapping[str, PlaceMarked]) -> dict[str, Array]:
    """The student's own results where they entered one, the right ones elsewhere."""
    found: dict[str, Array] = {}
    for earlier in b.question.parts:
        if earlier.key in numbers and earlier.key != part.key:
            values = numbers[earlier.key].values
            right = b.worked[earlier.key]
            found.update(dict.fromkeys(names_of(earlier), np.where(np.isfinite(values), values, right)))
    return found


def _judgement(part: JudgePart, text: str, truth: bool, own: bool) -> Outcome:
    reading = read_judgement(text, part.yes_words, part.no_words)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.value is None:
        return unreadable(part, text, reading.reason)
    said, repairs = YES_NO[reading.value], tuple(map(str, reading.repairs))
    if reading.value is own:
        verdict = Verdict.RIGHT if own is truth else Verdict.CARRIED_FORWARD
        return Outcome(part.marks, part.marks, verdict, f"Your {said} agrees with your own number.", raw=text,
                       read_as=said, repairs=repairs)  # fmt: skip
    who = tuple(s.misconception for s in part.slips)
    verdict = Verdict.SLIP if who else Verdict.WRONG
    return Outcome(Decimal(0), part.marks, verdict, f"Your own number says {YES_NO[own]}, not {said}.", who, raw=text,
                   read_as=said, repairs=repairs)  # fmt: skip
