"""One student's numbers for one question."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from witnessmark.maths.quantities import quantity, to_si
from witnessmark.questions.question import Question


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as it is printed: an exact decimal and its unit (`` for a pure number)."""

    number: Decimal
    unit: str

    @property
    def si(self) -> float:
        """Its SI value."""
        return to_si(float(self.number), self.unit)


@dataclass(frozen=True, slots=True)
class Variant:
    """A question with numbers: `shown` by name (givens, and cells of drawn rows as `material.shear_strength`), and
    `row_names` (`material` -> `mild steel`)."""

    question: Question
    shown: dict[str, Shown]
    row_names: dict[str, str]

    @property
    def values(self) -> dict[str, float]:
        """SI values by name."""
        return {name: shown.si for name, shown in self.shown.items()}

    @property
    def given(self) -> dict[str, Any]:
        """pint quantities by name."""
        return {name: quantity(float(s.number), s.unit) for name, s in self.shown.items()}
