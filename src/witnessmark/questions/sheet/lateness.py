"""What coming late costs: the rule of a task, and how many days after its day a return came."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.words.checks import expect, expect_marks

DAYS_OF_A_WEEK = 7


class Each(StrEnum):
    """How often the amount is taken off: once, or for each day or week that has begun."""

    ONCE = "once"
    DAY = "day"
    WEEK = "week"


@dataclass(frozen=True, slots=True)
class Late:
    """The rule for what comes late: `marks` off, or a `share` (0 to 1) of what was earned, once or for each day or week
    begun, in all at most `most` (marks or a share, as the rule; None: no limit). Both nought: nothing is taken off."""

    marks: Decimal = Decimal(0)
    share: Decimal = Decimal(0)
    each: Each = Each.ONCE
    most: Decimal | None = None

    def __post_init__(self) -> None:
        expect_marks("marks", self.marks)
        expect_marks("share", self.share)
        expect(self.share <= 1, "share", "a share from 0 to 1", self.share)
        expect(not (self.marks and self.share), "late", "marks off or a share off, not both", self)
        expect(isinstance(self.each, Each), "each", "once, day or week", self.each)
        if self.most is not None:
            expect_marks("most", self.most)
            expect(self.most >= self.amount, "most", f"at least {self.amount}, which is taken off at once", self.most)

    @property
    def amount(self) -> Decimal:
        """Marks, or the share, taken off each time."""
        return self.share or self.marks

    @property
    def takes_off(self) -> bool:
        """True where coming late costs anything."""
        return bool(self.amount)

    def times(self, days: int) -> int:
        """How often the amount is taken off after so many days."""
        if days <= 0:
            return 0
        if self.each is Each.ONCE:
            return 1
        weeks = (Decimal(days) / DAYS_OF_A_WEEK).to_integral_value(ROUND_CEILING)
        return days if self.each is Each.DAY else int(weeks)

    def off(self, earned: Decimal, days: int, half_marks: bool = True) -> Decimal:
        """What is taken off so many marks that came so many days late: never more than was earned; a share of them is
        rounded down to the steps that the task gives, in the student's favour."""
        amount = self.amount * self.times(days)
        if self.most is not None:
            amount = min(amount, self.most)
        if self.share:
            return rounded_down(min(amount, Decimal(1)) * earned, half_marks)
        return min(amount, earned)


def days_late(received: date | None, due: date | None) -> int:
    """Whole days after the day that was due; 0 in time, or where either day is not known."""
    return 0 if received is None or due is None else max(0, (received - due).days)
