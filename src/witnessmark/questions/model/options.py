"""What an answer in letters or words is held against: the options of a choice, the points of a short text."""

from dataclasses import dataclass
from decimal import Decimal

from witnessmark.words.checks import expect, expect_marks, expect_text


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a choice: its text, and the misconception that it shows when it is wrong."""

    text: str
    right: bool = False
    misconception: str = ""
    keeps: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        expect_text("option", self.text)
        expect_marks(f"what '{self.text}' keeps", self.keeps)
        if self.right:
            expect(not self.misconception, f"right option '{self.text}'", "no misconception", self.misconception)
            expect(not self.keeps, f"right option '{self.text}'", "no marks of its own", str(self.keeps))


@dataclass(frozen=True, slots=True)
class Point:
    """One accepted property or reason of a `points` find: the wordings that make it and those that speak against it."""

    name: str
    wordings: tuple[str, ...]
    refused: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        expect_text("name of a point", self.name)
        expect(bool(self.wordings), f"wordings of {self.name}", "at least one", self.wordings)
        for wording in (*self.wordings, *self.refused):
            expect_text(f"wording of {self.name}", wording)
        expect(not set(self.wordings) & set(self.refused), f"refused wordings of {self.name}", "others", self.refused)
