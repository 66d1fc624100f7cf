"""Wrong answers that are worked by no expression: wrong judgements, orders, sets and pairs, one small type each."""

from dataclasses import dataclass

from witnessmark.words.checks import expect, expect_text


@dataclass(frozen=True, slots=True)
class JudgeSlip:
    """What whoever judges against their own number believes."""

    misconception: str

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)


@dataclass(frozen=True, slots=True)
class OrderSlip:
    """A wrong order: step `puts` stands before step `before`, which it must follow."""

    misconception: str
    puts: str
    before: str

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)
        expect(self.puts != self.before, "before", "another step than the one put there", self.before)


@dataclass(frozen=True, slots=True)
class SetSlip:
    """A wrong set of options: just those in `chooses`."""

    misconception: str
    chooses: tuple[str, ...]

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)
        expect(bool(self.chooses), f"chooses of {self.misconception}", "at least one option", self.chooses)


@dataclass(frozen=True, slots=True)
class PairSlip:
    """A wrong pair: this thing with that option."""

    misconception: str
    thing: str
    option: str

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)
