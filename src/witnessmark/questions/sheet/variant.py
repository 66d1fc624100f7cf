"""One student's numbers for one question, and what follows: right values, what is accepted, what slips give."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import from_si, quantity, to_si, unit
from witnessmark.maths.rounding import decimal_to_division, decimal_to_figures
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import lines_of, unit_asked
from witnessmark.questions.model.question import Given, Question
from witnessmark.questions.sheet.stated import StatedGiven, stated_given
from witnessmark.questions.working.envelope_ends import explained
from witnessmark.questions.working.envelope_steps import EnvelopeExplained
from witnessmark.questions.working.evaluation import can_work, names_in_full, value_of
from witnessmark.questions.working.methods import dimensions, methods_at, places
from witnessmark.questions.working.working import ALL_CONSTANTS, envelopes, worked
from witnessmark.words.checks import expect, expect_one_of
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import there_are, with_hint

DEFAULT_FIGURES = 3


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as it is printed: an exact decimal and its unit (`` for a pure number)."""

    number: Decimal
    unit: str

    def __post_init__(self) -> None:
        expect(isinstance(self.number, Decimal) and self.number.is_finite(), "number", "a finite Decimal", self.number)
        unit(self.unit)

    @property
    def si(self) -> float:
        """Its SI value."""
        return to_si(float(self.number), self.unit)


Identity = tuple[tuple[str, str], ...]
"""What makes two variants of a question alike: every value shown and every row drawn, by name."""


@dataclass(frozen=True, slots=True, repr=False)
class Variant:
    """A question with numbers: `shown` by name (givens, and cells of drawn rows as `material.shear_strength`), and
    `row_names` (`material` -> `mild steel`)."""

    question: Question
    shown: dict[str, Shown]
    row_names: dict[str, str]

    def __post_init__(self) -> None:
        drawn = {row.name: self.question.tables[row.table].rows for row in self.question.rows}
        for name, row in self.row_names.items():
            expect_one_of("name of a row", name, drawn)
            expect_one_of(f"row of {name}", row, drawn[name])
        for name, shown in self.shown.items():
            expect(isinstance(shown, Shown), name, "a value that is shown", shown)

    def __repr__(self) -> str:
        numbers = [f"{name} {s.number} {s.unit}".rstrip() for name, s in self.shown.items() if "." not in name]
        rows = [f"{name} {row}" for name, row in self.row_names.items()]
        return f"<Variant of {self.question.key}: {', '.join([*rows, *numbers]) or 'nothing given'}>"

    @property
    def identity(self) -> Identity:
        """Equal for two variants exactly when they give the same numbers and rows."""
        unseen = {*CONSTANTS, *(given.name for given in self.question.givens if given.is_hidden)}
        drawn = {name: s for name, s in self.shown.items() if name not in unseen}
        numbers = {name: f"{float(s.number):.10g} {s.unit}" for name, s in drawn.items()}
        return tuple(sorted((numbers | self.row_names).items()))

    @property
    def values(self) -> dict[str, float]:
        """SI values by name."""
        return {name: shown.si for name, shown in self.shown.items()}

    @property
    def columns(self) -> dict[str, Array]:
        """SI values by name as columns of one row."""
        return {name: np.array([value]) for name, value in self.values.items()}

    @property
    def given(self) -> dict[str, Any]:
        """pint quantities by name, in the units shown."""
        return {name: quantity(float(s.number), s.unit) for name, s in self.shown.items()}

    @property
    def expected_si(self) -> dict[str, float]:
        """Right values in SI by key: `a`, and `a.A_s` for a line; parts whose givens are absent are left out."""
        return {key: float(np.ravel(value)[0]) for key, value in worked(self.question, self.columns).items()}

    @property
    def expected(self) -> dict[str, Any]:
        """Right values as pint quantities in the asked units, by key."""
        return {key: _quantity(self.question, key, value) for key, value in self.expected_si.items()}

    @property
    def accepts(self) -> dict[str, tuple[Any, Any]]:
        """The envelope of right values (low, high) as pint quantities, by key, for the default figures."""
        bounds = envelopes(self.question, self.columns, DEFAULT_FIGURES)
        return {
            key: (_quantity(self.question, key, _first(low)), _quantity(self.question, key, _first(high)))
            for key, (low, high) in bounds.items()
        }

    def explains(self, key: str, figures: int = DEFAULT_FIGURES) -> EnvelopeExplained:
        """How the envelope of right values comes about at `key` (`a`, `a.A_s`): which rounding gives which end, as data
        (SI) and as sentences. KeyError where no number is asked or givens are absent."""
        return explained(self.question, self.values, key, figures)

    @property
    def slips(self) -> dict[str, dict[str, Any]]:
        """What each modelled slip gives, by key and misconception: a pint quantity, or a bare float (in metres and
        newtons) where the slip has not the dimension of the answer."""
        found: dict[str, dict[str, Any]] = {}
        known = dimensions(self.question)
        names = names_in_full(self.question, self.columns)
        for place in places(self.question, DEFAULT_FIGURES):
            for method in methods_at(place, known)[1:]:
                if not method.millimetres and can_work(method, names):
                    si = _first(value_of(method, names, {}))
                    value = si if method.bare else _quantity(self.question, place.key, si)
                    found.setdefault(place.key, {})[method.misconceptions[0]] = value
        return found


def _first(value: Any) -> float:
    return float(np.ravel(value)[0])


def unit_of(question: Question, key: str) -> str:
    """The asked unit of a part (`a`) or a line (`a.A_s`)."""
    part_key, _, line_name = key.partition(".")
    part = question.part(part_key)
    return next((line.unit for line in lines_of(part) if line.name == line_name), unit_asked(part))


def _quantity(question: Question, key: str, si: float) -> Any:
    unit_name = unit_of(question, key)
    return quantity(from_si(si, unit_name), unit_name)


def variant_of(question: Question, given: Mapping[str, StatedGiven]) -> Variant:
    """A variant from stated givens: `d="20 mm"`, a number in the declared unit, or a pint quantity.

    Values that a table would supply may be given too (`punch__compressive_strength` for `punch.compressive_strength`).
    Neither ranges nor `keep` are enforced, since published examples lie outside them. UnknownName (a KeyError) for a
    name or a row that is not there, UnitError for a value of another dimension; see `stated.py`.
    """
    units = declared_units(question)
    shown: dict[str, Shown] = {}
    rows: dict[str, str] = {}
    for name, value in given.items():
        name = name.replace("__", ".")
        if any(name == row.name for row in question.rows):
            rows[name] = str(value)
            shown |= row_cells(question, name, str(value))
        elif name in units:
            shown[name] = Shown(*stated_given(name, value, units[name]))
        else:
            known = sorted({*units, *(row.name for row in question.rows)})
            raise UnknownName(name, f"the givens of {question.key} are {', '.join(known)}{with_hint(name, known)}")
    return with_computed(question, shown, rows)


def row_cells(question: Question, name: str, row: str) -> dict[str, Shown]:
    """The numeric cells of a row by full name (`material.shear_strength`); UnknownName where there is no such row."""
    table = question.tables[next(r.table for r in question.rows if r.name == name)]
    if row not in table.rows:
        raise UnknownName(row, f"no row of {table.key}, from which {name} is taken; {there_are(row, table.rows)}")
    cells = table.rows[row].items()
    return {f"{name}.{c}": Shown(v, table.units.get(c, "")) for c, v in cells if isinstance(v, Decimal)}


def with_computed(question: Question, shown: dict[str, Shown], rows: dict[str, str]) -> Variant:
    """The variant with every given that is an expression of others worked out, where its names are known and it gives a
    number."""
    for given in question.givens:
        if given.value is not None and given.name not in shown:
            names = {**ALL_CONSTANTS, **{k: np.float64(s.si) for k, s in shown.items()}}
            if names_in(given.value) <= names.keys():
                number = from_si(float(compiled(given.value)(names)), given.unit)
                if math.isfinite(number):
                    exact = Decimal(f"{number:.10g}")
                    shown[given.name] = Shown(_as_told(exact, given), given.unit)
    return Variant(question, shown, rows)


def _as_told(exact: Decimal, given: Given) -> Decimal:
    if given.division is not None:
        return decimal_to_division(exact, given.division)
    return decimal_to_figures(exact, given.figures) if given.figures else exact


def taking_g(variant: Variant, g: Decimal) -> Variant:
    """The variant with this acceleration of free fall (m/s²) shown among its numbers, where it is not the usual one."""
    known = CONSTANTS["g"]
    if float(g) == known.value or "g" in variant.shown:
        return variant
    changed = {"g"}
    for given in variant.question.givens:
        if given.value is not None and names_in(given.value) & changed:
            changed.add(given.name)
    shown = {name: value for name, value in variant.shown.items() if name not in changed}
    return with_computed(variant.question, {**shown, "g": Shown(g, known.unit)}, variant.row_names)


def declared_units(question: Question) -> dict[str, str]:
    """The unit of every given and of every cell of a drawn row (`material.shear_strength`), by name."""
    units = {given.name: given.unit for given in question.givens}
    for row in question.rows:
        units |= {f"{row.name}.{column}": u for column, u in question.tables[row.table].units.items()}
    return units
