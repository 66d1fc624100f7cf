"""Marking the parts that are not numbers: a judgement on the student's own number, a choice."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

import numpy as np

from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.marking.quantity import Bench, PlaceMarked
from witnessmark.marking.wording import empty_sentence
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.syntax import names_in
from witnessmark.questions.evaluation import names_in_full
from witnessmark.questions.question import Kind, Option, Part
from witnessmark.questions.working import names_of
from witnessmark.reading.certainty import Certainty
from witnessmark.reading.judgements import read_judgement
from witnessmark.reading.short_texts import read_choice

YES_NO = {True: "yes", False: "no"}


def mark_words(
    b: Bench, part: Part, texts: Sequence[str], numbers: Mapping[str, PlaceMarked]
) -> tuple[Outcome, ...] | None:
    """The outcomes of one part that is not a number, one a student; None when its givens are absent."""
    if part.kind is Kind.JUDGE:
        return _judged(b, part, texts, numbers)
    if part.kind is Kind.CHOICE:
        return tuple(_chosen(part, text) for text in texts)
    return tuple(_for_the_teacher(part, text) for text in texts)


def _judged(
    b: Bench, part: Part, texts: Sequence[str], numbers: Mapping[str, PlaceMarked]
) -> tuple[Outcome, ...] | None:
    names = names_in_full(b.question, b.givens, b.worked)
    if part.judge is None or not names_in(part.judge) <= names.keys():
        return None
    truth = np.broadcast_to(compiled(part.judge)(names), (b.size,))
    own = np.broadcast_to(compiled(part.judge)({**names, **_own_values(b, part, numbers)}), (b.size,))
    return tuple(_judgement(part, text, bool(t), bool(o)) for text, t, o in zip(texts, truth, own, strict=True))


def _own_values(b: Bench, part: Part, numbers: Mapping[str, PlaceMarked]) -> dict[str, Array]:
    """The student's own results where they entered one, the right ones elsewhere."""
    found: dict[str, Array] = {}
    for earlier in b.question.parts:
        if earlier.key in numbers and earlier.key != part.key:
            values = numbers[earlier.key].values
            right = b.worked[earlier.key]
            found.update(dict.fromkeys(names_of(earlier), np.where(np.isfinite(values), values, right)))
    return found


def _judgement(part: Part, text: str, truth: bool, own: bool) -> Outcome:
    reading = read_judgement(text)
    if reading.certainty is Certainty.BLANK:
        return Outcome(Decimal(0), part.marks, Verdict.BLANK, empty_sentence(Verdict.BLANK, ""), raw=text)
    if reading.value is None:
        return _unreadable(part, text, reading.reason)
    said, repairs = YES_NO[reading.value], tuple(map(str, reading.repairs))
    if reading.value is own:
        verdict = Verdict.RIGHT if own is truth else Verdict.CARRIED_FORWARD
        return Outcome(part.marks, part.marks, verdict, f"Your {said} agrees with your own number.", raw=text,
                       read_as=said, repairs=repairs)  # fmt: skip
    who = tuple(s.misconception for s in part.slips)
    verdict = Verdict.SLIP if who else Verdict.WRONG
    return Outcome(Decimal(0), part.marks, verdict, f"Your own number says {YES_NO[own]}, not {said}.", who, raw=text,
                   read_as=said, repairs=repairs)  # fmt: skip


def _chosen(part: Part, text: str) -> Outcome:
    reading = read_choice(text, [option.text for option in part.options])
    if reading.certainty is Certainty.BLANK:
        return Outcome(Decimal(0), part.marks, Verdict.BLANK, empty_sentence(Verdict.BLANK, ""), raw=text)
    if reading.index is None:
        return _unreadable(part, text, reading.reason)
    option, repairs = part.options[reading.index], tuple(map(str, reading.repairs))
    if option.right:
        return Outcome(part.marks, part.marks, Verdict.RIGHT, "Right.", raw=text, read_as=option.text, repairs=repairs)
    right = next(o.text for o in part.options if o.right)
    verdict = Verdict.SLIP if option.misconception else Verdict.WRONG
    who = (option.misconception,) if option.misconception else ()
    return Outcome(option.keeps, part.marks, verdict, _choice_sentence(option, right), who, raw=text,
                   read_as=option.text, repairs=repairs)  # fmt: skip


def _choice_sentence(option: Option, right: str) -> str:
    return f"You chose “{option.text}”; the right choice is “{right}”."


def _unreadable(part: Part, text: str, reason: str) -> Outcome:
    sentence = empty_sentence(Verdict.UNREADABLE, reason)
    tray = (f"could not be read: {reason}",)
    return Outcome(Decimal(0), part.marks, Verdict.UNREADABLE, sentence, raw=text, sure=0.0, in_tray=tray)


def _for_the_teacher(part: Part, text: str) -> Outcome:
    if not text.strip():
        return Outcome(Decimal(0), part.marks, Verdict.BLANK, empty_sentence(Verdict.BLANK, ""), raw=text)
    return Outcome(
        Decimal(0), part.marks, Verdict.UNEXPLAINED, "Your teacher marks this part.", raw=text, read_as=text.strip(),
        sure=0.0, in_tray=("this part is marked by the teacher",),
    )  # fmt: skip
