"""The division of a scale that a value is read from, and how far a reading of it may be off."""

from dataclasses import dataclass
from decimal import Decimal

from witnessmark.words.checks import expect


@dataclass(frozen=True, slots=True)
class Division:
    """The least division of a scale that is read, in the unit of its part, and which share of one a reading may be off.

    Half of one: an indication X of a scale of division d stands for values from X - d/2 to X + d/2 (JCGM 100:2008,
    F.2.2.1). One whole where neighbouring lines look as good, as on a vernier (common practice, no source).
    """

    size: Decimal
    share: Decimal = Decimal("0.5")

    def __post_init__(self) -> None:
        expect(self.size.is_finite() and self.size > 0, "division", "more than 0", str(self.size))
        expect(self.share in (Decimal("0.5"), Decimal(1)), "share of a division", "0.5 or 1", str(self.share))

    @property
    def room(self) -> Decimal:
        """How far a reading may be off, in the unit of the part."""
        return self.size * self.share
