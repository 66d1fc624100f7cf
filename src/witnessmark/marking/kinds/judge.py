"""Marking yes or no, judged on the student's own numbers.

A power of ten or a unit that went wrong has cost its marks where the number stands. Here the number counts as it is
without that, which is what most students have before their eyes; whoever judges by the number as written is not wrong.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
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
    truth, mended, own = (
        np.broadcast_to(compiled(part.judge)({**names, **values}), (b.size,)).tolist()
        for values in ({}, _own_values(b, numbers, mended=True), _own_values(b, numbers, mended=False))
    )
    said = [_Says(*each) for each in zip(truth, mended, own, strict=True)]
    return tuple(_judgement(part, text, says) for text, says in zip(texts, said, strict=True))


@dataclass(frozen=True, slots=True)
class _Says:
    """What the comparison says of the right numbers, of a student's own without powers of ten and conversions that went
    wrong, and of their own as written."""

    right: bool
    mended: bool
    written: bool


def _own_values(b: Bench, numbers: Mapping[str, PlaceMarked], mended: bool) -> dict[str, Array]:
    """The student's own results where they entered one, the right ones elsewhere."""
    found: dict[str, Array] = {}
    for earlier in b.question.quantities:
        if earlier.key in numbers:
            place, right = numbers[earlier.key], b.worked[earlier.key]
            values = place.mended if mended else place.values
            found.update(dict.fromkeys(names_of(earlier), np.where(np.isfinite(values), values, right)))
    return found


def _judgement(part: JudgePart, text: str, says: _Says) -> Outcome:
    reading = read_judgement(text, part.yes_words, part.no_words)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.value is None:
        return unreadable(part, text, reading.reason)
    said, repairs = YES_NO[reading.value], tuple(map(str, reading.repairs))
    if reading.value in (says.mended, says.written):
        verdict = Verdict.RIGHT if reading.value is says.right else Verdict.CARRIED_FORWARD
        return Outcome(part.marks, part.marks, verdict, _agrees(said, reading.value, says), raw=text, read_as=said,
                       repairs=repairs)  # fmt: skip
    who = tuple(s.misconception for s in part.slips)
    verdict = Verdict.SLIP if who else Verdict.WRONG
    return Outcome(Decimal(0), part.marks, verdict, f"Your own number says {YES_NO[not reading.value]}, not {said}.",
                   who, raw=text, read_as=said, repairs=repairs)  # fmt: skip


def _agrees(said: str, value: bool, says: _Says) -> str:
    sentence = f"Your {said} agrees with your own number"
    return f"{sentence}." if value is says.written else f"{sentence} once its power of ten or its unit is put right."
