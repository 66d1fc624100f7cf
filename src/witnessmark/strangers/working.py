"""How a student works: what they take for constants, how they round on the way, which lines they get wrong."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import ROUND_DOWN, ROUND_HALF_UP, Context, Decimal
from functools import cached_property

from witnessmark.strangers.arithmetic import Expression, with_names, work
from witnessmark.strangers.papers import Asked, Sheet
from witnessmark.strangers.scales import Scale, from_base, scale, to_base

ROUGHEST = 2
GREATEST_G = 9.9
BASE, MILLIMETRES = "m", "mm"


@dataclass(frozen=True, slots=True)
class Habit:
    """How somebody works: figures kept at each line (0: all), cut off or rounded there, pi, g, and the working system
    in which bare numbers are taken where the dimensions do not come out. `each` keeps them at every operation."""

    steps: int = 0
    cut: bool = False
    pi: float = math.pi
    g: float = 9.81
    system: str = BASE
    each: bool = False

    @property
    def is_rough(self) -> bool:
        """True of somebody who works more roughly than is taught."""
        return self.each or self.steps == ROUGHEST or (self.cut and self.steps > 0) or self.g > GREATEST_G

    def kept(self, number: float) -> float:
        """What is kept of a number that is written down on the way."""
        return rounded(number, self.steps, cut=self.cut)


IN_FULL = Habit()


@dataclass(frozen=True)
class Way:
    """A way of working one asked number: its lines by name and its last step, and what it is called.

    `listed` are the wrong methods in it; `power` and `sign` are what happened to the number typed at the end.
    """

    lines: Mapping[str, Expression]
    tree: Expression
    listed: frozenset[str] = frozenset()
    power: int = 0
    sign: int = 1
    given: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def whole(self) -> Expression:
        """The last step with every line written out."""
        written: dict[str, Expression] = {}
        for name, tree in self.lines.items():
            written[name] = with_names(tree, written)
        return with_names(self.tree, written)


def right_way(asked: Asked) -> Way:
    """The right working."""
    return Way({line.name: line.tree for line in asked.lines}, asked.tree)


def rounded(number: float, figures: int, *, cut: bool = False) -> float:
    """A number to some figures (0: as it is), rounded half up as people do, or cut off."""
    if not figures or not math.isfinite(number) or not number:
        return number
    rounding = ROUND_DOWN if cut else ROUND_HALF_UP
    return float(Context(prec=figures, rounding=rounding).create_decimal(Decimal(repr(number))))


def base_names(sheet: Sheet, habit: Habit = IN_FULL) -> dict[str, float]:
    """The numbers of a sheet in base units, with the constants that somebody takes."""
    found = {name: to_base(float(digits), unit) for name, (digits, unit) in sheet.items()}
    return {"pi": habit.pi, "g": habit.g} | found


def result(asked: Asked, way: Way, names: Mapping[str, float], habit: Habit = IN_FULL) -> float:
    """What a way gives, in base units of what is asked; `names` are those of `base_names` with what is carried."""
    known = dict(names) | dict(way.given)
    kept = habit.kept if habit.each else None
    for line in asked.lines:
        if line.name in way.lines:
            known[line.name] = _kept(work(way.lines[line.name], known, kept), line.unit, habit)
    return work(way.tree, known, kept)


def _kept(value: float, unit: str, habit: Habit) -> float:
    if not habit.steps:
        return value
    return to_base(habit.kept(from_base(value, unit)), unit)


def in_millimetres(names: Mapping[str, float], units: Mapping[str, str]) -> dict[str, float]:
    """The same numbers as somebody has them who works in millimetres, newtons and seconds."""
    found = dict(names)
    for name, value in names.items():
        if name in units:
            unit = scale(units[name])
            found[name] = value / unit.size * unit.in_millimetres
    if "g" in found:
        found["g"] *= 1000.0
    return found


def fits(asked: Asked, way: Way, names: Mapping[str, float], units: Mapping[str, str]) -> bool:
    """True where a way has the dimensions of what is asked: in other base units it gives the same quantity.

    Lengths, masses, times, temperatures and currents are counted in units of odd size, and all must come out alike.
    """
    here = work(way.whole, names)
    there = work(way.whole, {n: _recounted(v, units.get(n), n) for n, v in names.items()})
    wanted = here * _odd(scale(asked.unit))
    return math.isfinite(here) and math.isclose(there, wanted, rel_tol=1e-9)


_ODD = (1.37, 0.73, 1.91, 1.11, 0.59)


def _odd(unit: Scale) -> float:
    return math.prod(math.pow(size, power) for size, power in zip(_ODD, unit.powers, strict=True))


def _recounted(value: float, unit: str | None, name: str) -> float:
    if name == "g":
        return value * _odd(scale("m/s^2"))
    return value * _odd(scale(unit)) if unit else value


def as_typed_number(
    asked: Asked, way: Way, names: Mapping[str, float], units: Mapping[str, str], habit: Habit
) -> float:
    """The number in the unit asked that somebody gets who works so, before it is rounded for the answer.

    A way whose dimensions do not come out is worked in bare numbers of the habit's working system.
    """
    return way.sign * _worked_number(asked, way, names, units, habit) * 10.0**way.power


def _worked_number(asked: Asked, way: Way, names: Mapping[str, float], units: Mapping[str, str], habit: Habit) -> float:
    if habit.system == BASE or fits(asked, way, names, units):
        return from_base(result(asked, way, names, habit), asked.unit)
    bare = in_millimetres(names, units)
    given = in_millimetres(way.given, units)
    value = result(asked, replace(way, given=given), bare, replace(habit, steps=0))
    return value / scale(asked.unit).in_millimetres
