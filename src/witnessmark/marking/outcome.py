"""What the marker says of one answer: marks, verdict, the method named, how sure, and everything else that fitted."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from witnessmark.words.checks import expect, expect_marks, expect_share


class Verdict(StrEnum):
    """The verdicts, as strings. `wrong` is for choices and judgements, where there is no method to look for;
    `set aside` is said of all answers of a part by a correction."""

    RIGHT = "right"
    CARRIED_FORWARD = "carried forward"
    ROUNDED_EARLY = "rounded early"
    UNIT = "unit"
    POWER_OF_TEN = "power of ten"
    SIGN = "sign"
    SLIP = "slip"
    TWO_SLIPS = "two slips"
    EDIT = "edit"
    WRONG = "wrong"
    OTHER_SHEET = "other sheet"
    UNEXPLAINED = "unexplained"
    BLANK = "blank"
    UNREADABLE = "unreadable"
    SET_ASIDE = "set aside"


FOR_TEACHER = frozenset({Verdict.OTHER_SHEET, Verdict.UNEXPLAINED, Verdict.UNREADABLE})
"""Verdicts of answers that only the teacher can mark."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """One method that fits an entry. `formula` is author-style text of how the number arises; `sure` its posterior."""

    verdict: Verdict
    misconceptions: tuple[str, ...]
    marks: Decimal
    sentence: str
    formula: str = ""
    sure: float = 0.0

    def __post_init__(self) -> None:
        expect_marks("marks", self.marks)
        expect_share("sure", self.sure)


@dataclass(frozen=True, slots=True)
class Teacher:
    """Beside a mark that a teacher gave: what was written for the student (nothing, perhaps), and the mark that the
    machine proposes."""

    say: str
    machine: Decimal


@dataclass(frozen=True, slots=True)
class Outcome:
    """The proposal for one ask. `because` is one sentence for the student, `notes` are for the teacher alone.

    `sure` is the posterior of the named method, 0 to 1. `in_tray` holds the reasons why a teacher should look.
    `read_as` is the value understood, as text (`94.2 kN`), empty when blank or unreadable. `teacher` is there
    where a teacher gave the mark.
    """

    marks: Decimal
    out_of: Decimal
    verdict: Verdict
    because: str
    misconceptions: tuple[str, ...] = ()
    sure: float = 1.0
    evidence: tuple[Explanation, ...] = ()
    raw: str = ""
    read_as: str = ""
    repairs: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    in_tray: tuple[str, ...] = ()
    teacher: Teacher | None = None

    def __post_init__(self) -> None:
        expect_marks("marks", self.marks)
        expect_marks("out_of", self.out_of)
        expect(self.marks <= self.out_of, "marks", "at most out_of", self.marks)
        expect_share("sure", self.sure)

    @property
    def is_waiting(self) -> bool:
        """True while an answer that only the teacher can mark lies in the in-tray."""
        return self.verdict in FOR_TEACHER and bool(self.in_tray)


SheetOutcomes = Mapping[str, Outcome]
"""Outcomes of one sheet by ask key (`1.a`)."""
ClassOutcomes = Mapping[str, SheetOutcomes]
"""Outcomes of many sheets, by sheet code."""
