"""What every reader of a typed entry says beside its values: how sure it is, and what had to be repaired."""

from enum import StrEnum


class Certainty(StrEnum):
    """How sure a reading is.

    `repaired` names its repairs, `ambiguous` keeps every reading, `blank` is an entry with nothing in it, and
    `unreadable` goes to the teacher, never to nought.
    """

    CERTAIN = "certain"
    REPAIRED = "repaired"
    AMBIGUOUS = "ambiguous"
    BLANK = "blank"
    UNREADABLE = "unreadable"
    WRONG_DIMENSION = "wrong dimension"


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
