"""How an outcome is put to a student: a tone, a few words, a sentence. What is for the teacher alone stays out."""

from witnessmark.documents.page.blocks import Tone
from witnessmark.marking.hypotheses.wording import WILL_LOOK, empty_sentence
from witnessmark.marking.outcome import FOR_TEACHER, Outcome, Verdict

STANDING = {
    Verdict.RIGHT: "right",
    Verdict.CARRIED_FORWARD: "right from your own earlier result",
    Verdict.ROUNDED_EARLY: "rounded too early",
    Verdict.UNIT: "look at the unit",
    Verdict.POWER_OF_TEN: "look at the power of ten",
    Verdict.SLIP: "look again",
    Verdict.TWO_SLIPS: "look again",
    Verdict.EDIT: "look again",
    Verdict.WRONG: "look again",
    Verdict.BLANK: "nothing entered",
}
WITH_TEACHER, BY_TEACHER = "with your teacher", "marked by your teacher"
LOOKED_AT = "Your teacher has looked at this and given the mark."


def standing(outcome: Outcome) -> str:
    """A few words on how the part stands."""
    if outcome.verdict in FOR_TEACHER:
        return WITH_TEACHER if outcome.is_waiting else BY_TEACHER
    return STANDING[outcome.verdict]


def tone_of(outcome: Outcome) -> Tone:
    """The sign beside it: right, part, again, or open (waiting, or nothing entered)."""
    if outcome.is_waiting or outcome.verdict is Verdict.BLANK:
        return Tone.OPEN
    if outcome.marks >= outcome.out_of and outcome.verdict is not Verdict.UNREADABLE:
        return Tone.RIGHT
    return Tone.PART if outcome.marks > 0 else Tone.AGAIN


def sentence_of(outcome: Outcome) -> str:
    """The reason, as the student reads it; likeness to another sheet reads like any unexplained value, and what the
    teacher has marked no longer says that the teacher will look."""
    if outcome.verdict in FOR_TEACHER and not outcome.in_tray:
        return LOOKED_AT
    if not outcome.in_tray:
        return outcome.because.replace(f"; {WILL_LOOK}", "")
    if outcome.verdict is Verdict.OTHER_SHEET:
        return empty_sentence(Verdict.UNEXPLAINED, "")
    return outcome.because
