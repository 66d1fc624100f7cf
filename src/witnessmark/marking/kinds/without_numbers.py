"""Outcomes that all parts without numbers share: blank and unreadable."""

from decimal import Decimal

from witnessmark.marking.hypotheses.wording import empty_sentence
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.parts import Find

REPAIRED = "the entry had to be repaired before it could be read"
TWO_WAYS = "the entry can be read in two ways; the kinder one was taken"


def blank(part: Find, text: str) -> Outcome:
    """The outcome of an entry with nothing in it."""
    return Outcome(Decimal(0), part.marks, Verdict.BLANK, empty_sentence(Verdict.BLANK, ""), raw=text)


def unreadable(part: Find, text: str, reason: str) -> Outcome:
    """The outcome of an entry that could not be read: no marks yet, and the teacher is asked."""
    sentence = empty_sentence(Verdict.UNREADABLE, reason)
    tray = (f"could not be read: {reason}",)
    return Outcome(Decimal(0), part.marks, Verdict.UNREADABLE, sentence, raw=text, sure=0.0, in_tray=tray)
