"""Repairs: plain sentences that say what had to be set right before an entry could be read."""


class Repair(str):
    """One repair, a sentence. `teaches` is true when the person can learn from it how to write a unit or a number."""

    __slots__ = ("teaches",)
    teaches: bool

    def __new__(cls, sentence: str, teaches: bool = False) -> "Repair":
        """The sentence, and whether it teaches something."""
        repair = super().__new__(cls, sentence)
        repair.teaches = teaches
        return repair


def teaches(sentence: str) -> bool:
    """True of a repair that teaches how to write a unit or a number; false of one that only tidied the entry up."""
    return isinstance(sentence, Repair) and sentence.teaches
