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
    Verdict.SIGN: "look at the sign",
    Verdict.SLIP: "look again",
    Verdict.TWO_SLIPS: "look again",
    Verdict.EDIT: "look again",
    Verdict.WRONG: "look again",
    Verdict.BLANK: "nothing entered",
    Verdict.SET_ASIDE: "set aside",
}
WITH_TEACHER, BY_TEACHER = "with your teacher", "marked by your teacher"
OTHER_FIGURES = "look at the figures"
RIGHT_SO_FAR = frozenset({Verdict.RIGHT, Verdict.CARRIED_FORWARD})
SAYS_RIGHT = RIGHT_SO_FAR | {Verdict.ROUNDED_EARLY, Verdict.UNIT, Verdict.POWER_OF_TEN, Verdict.SIGN}
RIGHT_SIGN = "Right: "
LOOKED_AT = "Your teacher has looked at this and given the mark."


def standing(outcome: Outcome) -> str:
    """A few words on how the part stands."""
    if outcome.verdict in FOR_TEACHER:
        return WITH_TEACHER if outcome.is_waiting else BY_TEACHER
    if speaks_otherwise(outcome):
        return BY_TEACHER
    if outcome.verdict is Verdict.RIGHT and outcome.marks < outcome.out_of:
        return OTHER_FIGURES
    return STANDING[outcome.verdict]


def speaks_otherwise(outcome: Outcome) -> bool:
    """True where a teacher's mark says another thing than the machine's words: less than it proposed for what it calls
    right in some way, or all marks for what it does not."""
    if outcome.teacher is None or outcome.marks == outcome.teacher.machine:
        return False
    if outcome.marks >= outcome.out_of:
        return outcome.verdict not in RIGHT_SO_FAR
    return outcome.marks < outcome.teacher.machine and outcome.verdict in SAYS_RIGHT | {Verdict.SET_ASIDE}


def tone_of(outcome: Outcome) -> Tone:
    """The sign beside it: right, part, again, or open (waiting, nothing entered, or set aside)."""
    if outcome.is_waiting or outcome.verdict in (Verdict.BLANK, Verdict.SET_ASIDE):
        return Tone.OPEN
    if outcome.marks >= outcome.out_of and outcome.verdict is not Verdict.UNREADABLE:
        return Tone.RIGHT
    return Tone.PART if outcome.marks > 0 else Tone.AGAIN


def sentence_of(outcome: Outcome) -> str:
    """The reason, as the student reads it; likeness to another sheet reads like any unexplained value, and what the
    teacher has marked no longer says that the teacher will look."""
    if (outcome.verdict in FOR_TEACHER and not outcome.in_tray) or speaks_otherwise(outcome):
        return LOOKED_AT
    if outcome.verdict is Verdict.RIGHT and outcome.marks < outcome.out_of:
        return outcome.because.removeprefix(RIGHT_SIGN)
    if not outcome.in_tray:
        return outcome.because.replace(f"; {WILL_LOOK}", "")
    if outcome.verdict is Verdict.OTHER_SHEET:
        return empty_sentence(Verdict.UNEXPLAINED, "")
    return outcome.because
