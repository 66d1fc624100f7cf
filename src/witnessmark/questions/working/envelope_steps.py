"""How an end of the envelope of right answers is reached, as values: what is taken where, and what rounding adds."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from witnessmark.maths.interval_ends import End
from witnessmark.maths.quantities import from_si, quantity


class By(StrEnum):
    """What the last bit of an end comes from."""

    ROUNDING = "rounding"
    TOLERANCE = "tolerance"
    READING = "reading"
    AMOUNT = "amount"


@dataclass(frozen=True, slots=True)
class Taken:
    """One thing that a step starts from and that may lie in a range: a constant (`key` is empty), or an earlier line
    or result; at which end it is taken, and its value there (SI)."""

    name: str
    what: str
    unit: str
    key: str
    end: End
    value: float


@dataclass(frozen=True, slots=True)
class Step:
    """One line or result on the way to an end. All values are SI.

    `exact` is what comes out of `uses`; `taken` is what it is written down as: off by `half` a unit of the last of
    `figures` figures, or by the question's own tolerance (a share of it) or the `room` that reading a scale has or
    the question allows, where that is more. All hold a thousand millionth more, which binary arithmetic may lose.
    """

    key: str
    what: str
    unit: str
    end: End
    figures: int
    uses: tuple[Taken, ...]
    exact: float
    taken: float
    half: float
    by: By
    tolerance: float = 0.0
    room: float = 0.0


@dataclass(frozen=True, slots=True)
class EnvelopeEnd:
    """One end of an envelope: its value (SI), the choices that give it in working order, and both as text.

    `both` are things that would have to be taken at both ends at once, `between` those whose extreme lies between
    their ends: the end is then safe but wider than any one working gets, which is `reach` at most (SI, nan where there
    are too many choices to try).
    """

    end: End
    value: float
    unit: str
    steps: tuple[Step, ...]
    both: tuple[str, ...]
    between: tuple[str, ...]
    reach: float
    text: str = ""
    sentences: tuple[str, ...] = ()

    @property
    def is_reached(self) -> bool:
        """True where one working gets to the very end."""
        return not self.both and not self.between

    @property
    def quantity(self) -> Any:
        """The value as a pint quantity in the asked unit."""
        return quantity(from_si(self.value, self.unit), self.unit)


@dataclass(frozen=True, slots=True)
class EnvelopeExplained:
    """The envelope of one line or result: the right value in full (SI), and both ends with how they are reached."""

    key: str
    what: str
    unit: str
    right: float
    low: EnvelopeEnd
    high: EnvelopeEnd
