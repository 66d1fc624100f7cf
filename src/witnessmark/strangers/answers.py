"""What a stranger handed in at one place, and the truth about it."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from witnessmark.strangers.arithmetic import Expression


class Did(StrEnum):
    """What somebody did, as the table of measures has it."""

    RIGHT = "right"
    RIGHT_STEPS = "right, each line rounded to 3 or 4 figures, none entered"
    RIGHT_EACH = "right, every operation rounded to 3 or 4 figures"
    RIGHT_CUT = "right, cut off instead of rounded"
    RIGHT_DECIMALS = "right, to decimals instead of figures"
    RIGHT_OTHER_UNIT = "right, in another unit"
    RIGHT_COARSE = "right method, steps or result to 2 figures"
    CONSTANT = "right method, constant too rough (g = 10, pi = 3)"
    TEN = "power of ten"
    SLIP = "slip"
    SLIP_TEN = "slip with a power of ten"
    TWO = "two slips"
    TWO_OTHER = "two slips, one of another dimension"
    CARRIED = "carried forward"
    CARRIED_LINE = "carried forward from an own line"
    SLIP_CARRIED = "slip on a carried result"
    UNIT = "one unit not converted"
    PREFIX = "one prefix not converted"
    SIGN = "sign lost"
    SLIP_SIGN = "slip with the sign lost"
    DIGITS = "right, two digits turned while typing"
    CHANGED = "changed method that no question lists"
    CHANGED_OTHER = "changed method of another dimension"
    NOISE = "a number from nowhere"


RANK: Mapping[Did, int] = {
    **dict.fromkeys((d for d in Did if d.startswith("right") and d is not Did.DIGITS), 0),
    **dict.fromkeys((Did.TEN, Did.SLIP, Did.CARRIED, Did.CARRIED_LINE, Did.UNIT, Did.PREFIX, Did.SIGN, Did.DIGITS), 1),
    **dict.fromkeys((Did.SLIP_TEN, Did.SLIP_CARRIED, Did.TWO, Did.TWO_OTHER, Did.SLIP_SIGN), 2),
    Did.CHANGED: 2, Did.CHANGED_OTHER: 2, Did.NOISE: 3,
}  # fmt: skip
"""How far fetched: one thing done, or two. A number that something as near or nearer also gives is told apart."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One place answered: by whom (a sheet's number), everything typed, and the truth.

    `listed` are the wrong methods in it, `formula` how it was worked (everything written out), `like` another way that
    gives the typed digits too and is no further fetched, or nothing; `told`: no known way at all but the one gone gives
    them. `rough`: worked or written more roughly than is taught: two figures, digits
    cut off, every operation rounded, a constant like g = 10.
    """

    did: Did
    detail: str
    sheet: int
    key: str
    entries: Mapping[str, str]
    number: Decimal
    figures: int
    listed: frozenset[str] = frozenset()
    formula: Expression | None = None
    power: int = 0
    sign: int = 1
    like: str = ""
    told: bool = True
    rough: bool = False

    @property
    def entry(self) -> str:
        """What was typed at the place itself."""
        return self.entries[self.key]
