"""One student before one place: their sheet, the right results of everything before it, and every way that is known."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from witnessmark.strangers.listed import listed_ways, pairs
from witnessmark.strangers.misreadings import prefixes, unconverted, uses
from witnessmark.strangers.papers import Asked, Paper, Sheet
from witnessmark.strangers.rivals import ROUGHLY, Names, Rival, rivals
from witnessmark.strangers.scales import to_base
from witnessmark.strangers.working import BASE, IN_FULL, MILLIMETRES, Habit, Way, as_typed_number, base_names, right_way

SMALL, GREAT = 1e-12, 1e15


@dataclass(frozen=True)
class Seat:
    """One student before one place: their sheet, and the right results of everything before it, in full."""

    paper: Paper
    asked: Asked
    sheet: Sheet
    number: int

    @cached_property
    def names(self) -> dict[str, float]:
        """Numbers and earlier results in base units, in full."""
        found = base_names(self.sheet)
        for earlier in self.earlier:
            found[earlier.name] = self._worked(earlier, found)
        return found

    @staticmethod
    def _worked(asked: Asked, names: Mapping[str, float]) -> float:
        return to_base(as_typed_number(asked, right_way(asked), names, {}, IN_FULL), asked.unit)

    @cached_property
    def earlier(self) -> tuple[Asked, ...]:
        """What is asked before it."""
        keys = [a.key for a in self.paper.asked]
        return self.paper.asked[: keys.index(self.asked.key)]

    @cached_property
    def units(self) -> dict[str, str]:
        """The units of numbers and earlier results, by name."""
        return {n: u for n, (_, u) in self.sheet.items()} | {a.name: a.unit for a in self.earlier}

    @cached_property
    def own(self) -> Mapping[str, str]:
        """The units of what a student may put into a formula: what they are told, and what they carry."""
        carried = {a.name: a.unit for a in self.earlier if a.key in self.asked.carries}
        return {n: u for n, u in self.units.items() if n in self.paper.told and "." not in n} | carried

    def typed_number(self, way: Way, habit: Habit = IN_FULL, names: Mapping[str, float] | None = None) -> float:
        """The number in the unit asked that a way gives here."""
        if names is None:
            names = self.names | {"pi": habit.pi, "g": habit.g}
        return as_typed_number(self.asked, way, names, self.units, habit)

    def known(self, names: Mapping[str, float] | None = None) -> list[Rival]:
        """Every way that is known to be met here, worked in full; in both working systems."""
        singles: dict[Names, list[float]] = {}
        doubles: dict[Names, list[float]] = {}
        for found, ways in ((singles, listed_ways(self.asked)), (doubles, pairs(self.asked))):
            for way in ways:
                here = [self.typed_number(way, Habit(system=s), names) for s in (BASE, MILLIMETRES)]
                found.setdefault(way.listed, []).extend(here)
        right = right_way(self.asked)
        units = [*unconverted(self.asked, right, self.sheet), *((*one, 1.0) for one in prefixes(right, self.sheet))]
        taken = {says: self.typed_number(way, names=names) * factor for says, way, factor in units}
        known = rivals(self.typed_number(right, names=names), singles, doubles, taken)
        coarse = [("g", 10.0), ("pi", 3.0)]
        return known + [
            Rival(self.typed_number(right, names={**(names or self.names), name: value}), 1, frozenset(), ROUGHLY)
            for name, value in coarse if uses(right.whole, name)
        ]  # fmt: skip

    @cached_property
    def rivals(self) -> list[Rival]:
        """The known ways from right earlier results."""
        return self.known()


def is_known(seat: Seat, way: Way) -> bool:
    """True of a way that gives a known number to nine figures, but for a power of ten; and of one without a number."""
    number = seat.typed_number(way)
    if not SMALL < abs(number) < GREAT:
        return True
    ratios = (abs(number / rival.number) for rival in seat.rivals)
    return any(abs((log := math.log10(r)) - round(log)) < 1e-9 for r in ratios)
