"""Outcomes that all parts without numbers share: blank, unreadable, and marks in the steps of a task."""

from decimal import ROUND_FLOOR, Decimal

from witnessmark.marking.hypotheses.wording import empty_sentence
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.question import Part
from witnessmark.questions.sheet.task import Rules

HALF, WHOLE = Decimal("0.5"), Decimal(1)
REPAIRED = "the entry had to be repaired before it could be read"
TWO_WAYS = "the entry can be read in two ways; the kinder one was taken"


def blank(part: Part, text: str) -> Outcome:
    """The outcome of an entry with nothing in it."""
    return Outcome(Decimal(0), part.marks, Verdict.BLANK, empty_sentence(Verdict.BLANK, ""), raw=text)


def unreadable(part: Part, text: str, reason: str) -> Outcome:
    """The outcome of an entry that could not be read: no marks yet, and the teacher is asked."""
    sentence = empty_sentence(Verdict.UNREADABLE, reason)
    tray = (f"could not be read: {reason}",)
    return Outcome(Decimal(0), part.marks, Verdict.UNREADABLE, sentence, raw=text, sure=0.0, in_tray=tray)


def rounded_down(marks: Decimal, rules: Rules) -> Decimal:
    """Marks in the steps that the task gives: halves, or whole marks."""
    step = HALF if rules.half_marks else WHOLE
    down = (marks / step).to_integral_value(ROUND_FLOOR) * step
    return down.quantize(WHOLE) if down == down.to_integral_value() else down
