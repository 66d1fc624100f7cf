"""How sure a reading is; shared by every reader of what a student typed."""

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
