"""Outcomes of the invented class: right, a slip, something hostile, a moderated mark, and one student who is out."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

from witnessmark.documents.gradebook.data import GradebookData, gradebook_data
from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.questions.sheet.task import Ask
from workbooks.books import FIRST, SECOND, SHEETS

D = Decimal
MADE = datetime(2027, 1, 25, 9, tzinfo=UTC)
EVIL = "=1+cmd|' /C calc'!A0\x01"
SLIP = "face-area-for-sheared-edge"


def _outcome(ask: Ask) -> Outcome:
    out_of = ask.line.marks if ask.line else ask.part.marks
    return Outcome(out_of, out_of, Verdict.RIGHT, "Right.", raw="94,2 kN", read_as="94.2 kN")


RIGHT = {ask.key: _outcome(ask) for ask in FIRST.asks}
NOTHING = Outcome(D(0), D(0), Verdict.UNREADABLE, "Not read.", raw=EVIL, in_tray=("could not be read: @x",))
WRONG = {key: replace(NOTHING, out_of=outcome.out_of) for key, outcome in RIGHT.items()}
SLIPPED = replace(RIGHT["1.a"], marks=D(1), verdict=Verdict.SLIP, misconceptions=(SLIP,), raw="-471", sure=0.97)
OF_B = replace(SLIPPED, out_of=RIGHT["1.b"].out_of)
PROPOSED: ClassOutcomes = {FIRST.code: RIGHT | {"1.a": SLIPPED}, SECOND.code: WRONG | {"1.a": SLIPPED, "1.b": OF_B}}
STANDING: ClassOutcomes = {
    FIRST.code: {**PROPOSED[FIRST.code], "2.f": replace(RIGHT["2.f"], marks=D("2.5"), notes=("moderated by +R: why",))},
    SECOND.code: PROPOSED[SECOND.code],
}


def data() -> GradebookData:
    """The gradebook of the class."""
    return gradebook_data("Boatbuilding, first year", SHEETS, STANDING, PROPOSED)
