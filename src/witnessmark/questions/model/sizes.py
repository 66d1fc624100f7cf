"""Sizes that a table lists, of which a value chooses one: the smallest that is at least it, or the largest at most."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from witnessmark.words.checks import expect, expect_marks, expect_text


class Choose(StrEnum):
    """Which size a value asks for."""

    AT_LEAST = "at least"
    AT_MOST = "at most"

    @property
    def words(self) -> str:
        """The size asked for, before the value: `the smallest size listed that is at least`."""
        return f"the {'smallest' if self is Choose.AT_LEAST else 'largest'} size listed that is {self}"


class Takes(StrEnum):
    """What a slip takes in the place of the right size, by the list."""

    BELOW = "size below"
    ABOVE = "size above"
    UNLISTED = "unlisted size"


@dataclass(frozen=True, slots=True)
class Size:
    """One size: the name by which it is ordered (`M12`), and its value in the unit of its column."""

    name: str
    value: Decimal

    def __post_init__(self) -> None:
        expect_text("name of a size", self.name)
        expect(self.value.is_finite(), f"value of {self.name}", "a finite number", str(self.value))


@dataclass(frozen=True, slots=True)
class SizeSlip:
    """A wrong way to choose: the size beside the right one, or one that is not listed."""

    misconception: str
    takes: Takes
    keeps: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)
        expect_marks(f"what {self.misconception} keeps", self.keeps)
