"""Classes in which some students share a wrong method that no question models, written down by hand in a case table.

The students' arithmetic is their own: Python's floats over the formula's text, with pi and figures as they take them.
Of 24, three or five share the method; four write numbers without one, three make a slip that the question models, two
carry lines on rounded to two figures, and the others work properly.
"""

import csv
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from bank_fixture import BANK
from marking.students import Habit, worked, written
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import Search, UnknownMethod
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import unit
from witnessmark.questions.drawing.draw import draw, draw_class
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant, unit_of
from witnessmark.questions.working.methods import places
from witnessmark.review.shared_methods import search

CLASS, LEAST_STUDENTS = 24, 3
CODES = tuple(f"A{n:02}" for n in range(1, CLASS + 1))
Floats = npt.NDArray[np.float64]
Columns = dict[str, Floats]
FIGURES, FIGURE_SHARES = (3, 4, 5, 6), (0.5, 0.3, 0.15, 0.05)
PIS, PI_SHARES = (math.pi, 3.14, 3.142), (0.75, 0.15, 0.10)
NOISE, SLIPS, EARLY = 4, 3, 2
CASES = Path(__file__).parents[1] / "cases" / "planted_methods.csv"
FUNCTIONS = {name: getattr(math, name) for name in ("sin", "cos", "tan", "asin", "atan", "exp", "sqrt")}


@dataclass(frozen=True)
class Plant:
    """A wrong method: its question and part, what kind of change it is, and its formula as Python reads it."""

    question: str
    key: str
    kind: str
    formula: str

    def value(self, names: Mapping[str, float]) -> float:
        """What it gives (SI) with these names."""
        return float(eval(self.formula, {"__builtins__": {}}, {**FUNCTIONS, **names}))


def plants() -> list[Plant]:
    """Every planted method of the table."""
    with CASES.open(encoding="utf-8") as file:
        return [Plant(**row) for row in csv.DictReader(file)]


@dataclass(frozen=True)
class PlantedClass:
    """A class that handed in: its sheets and returns, and who shares the planted method (codes of sheets)."""

    plant: Plant
    sheets: tuple[Sheet, ...]
    returns: tuple[Return, ...]
    sharers: tuple[str, ...]

    def is_found(self, formula: object, who: Sequence[str]) -> bool:
        """True where a formula (a function of names) is the planted one with the numbers of all who share it, but for a
        power of ten, and at least three of them are named."""
        if not callable(formula):
            raise TypeError(formula)
        apart = []
        for sheet in (s for s in self.sheets if s.code in self.sharers):
            names = names_at(sheet.variants[0], self.plant.key, math.pi)
            apart.append(math.log10(abs(float(formula(names)) / self.plant.value(names))))
        alike = np.ptp(apart) < 1e-6 and abs(apart[0] - round(apart[0])) < 1e-6
        return bool(alike) and len(set(self.sharers) & set(who)) >= LEAST_STUDENTS


def names_at(variant: Variant, key: str, pi: float) -> dict[str, float]:
    """Givens, constants and the right results of earlier parts, carried on in full."""
    names: dict[str, float] = {"pi": pi, "g": 9.81, **variant.values}
    for part in variant.question.quantities:
        if part.key == key:
            break
        names |= dict.fromkeys(names_of(part), variant.expected_si[part.key])
    return names


def planted_class(plant: Plant, sharing: int, seed: int) -> PlantedClass:
    """A class of 24 in which so many share the method."""
    chance = np.random.default_rng([seed, sharing, *plant.question.encode(), *plant.formula.encode()])
    question, task = BANK[plant.question], Task(f"plant-{seed}", "Planted", (plant.question,))
    variants = draw_class(question, task, CODES, frozenset(), repeats=True)
    sheets = tuple(Sheet(sheet_code(task.key, c, 1), task, Student(c, c, ""), (variants[c],)) for c in CODES)
    order = chance.permutation(CLASS).tolist()
    does = dict(zip(order, _roles(sharing), strict=True))
    entries = [_entries(v.variants[0], plant, does[n], chance) for n, v in enumerate(sheets)]
    returns = tuple(Return(s.code, "", _as_entries(e)) for s, e in zip(sheets, entries, strict=True))
    return PlantedClass(plant, sheets, returns, tuple(s.code for n, s in enumerate(sheets) if does[n] == "plant"))


def _roles(sharing: int) -> Iterator[str]:
    for role, count in (("plant", sharing), ("noise", NOISE), ("slip", SLIPS), ("early", EARLY)):
        yield from [role] * count
    yield from ["right"] * (CLASS - sharing - NOISE - SLIPS - EARLY)


def _entries(variant: Variant, plant: Plant, role: str, chance: np.random.Generator) -> dict[str, str]:
    figures = int(chance.choice(FIGURES, p=FIGURE_SHARES))
    pi = float(chance.choice(PIS, p=PI_SHARES))
    part = variant.question.quantity(plant.key)
    slip = part.slips[int(chance.integers(len(part.slips)))] if role == "slip" and part.slips else None
    lines = 2 if role == "early" else None
    answers = worked(variant, Habit(pi, 9.81, lines, figures), False, {plant.key: slip} if slip else None)
    unit = unit_of(variant.question, plant.key)
    if role == "plant":
        answers[plant.key] = written(plant.value(names_at(variant, plant.key, pi)), unit, figures)
    if role == "noise":
        off = variant.expected_si[plant.key] * 10 ** chance.uniform(-1, 1)
        answers[plant.key] = written(off, unit, figures)
    return answers


def _as_entries(answers: Mapping[str, str]) -> tuple[tuple[str, Entry], ...]:
    return tuple((f"1.{key}", Entry(text)) for key, text in answers.items())


def found_in(planted: PlantedClass) -> tuple[bool, int]:
    """Whether the planted method is found in a class, marked as every class is, and how many other formulas are."""
    outcomes = mark_returns({s.code: s for s in planted.sheets}, planted.returns, Rules())
    shared = search(planted.sheets, outcomes, f"1.{planted.plant.key}").shared
    right = [planted.is_found(compiled(m.formula), [w.sheet_code for w in m.who]) for m in shared]
    return any(right), right.count(False)


def noise_classes(numbers: Iterable[int]) -> Iterator[UnknownMethod | None]:
    """What the search finds among numbers without a method, spread a factor of ten (or of three) each way of what is
    right: 6 to 24 of them at every result of the bank in turn."""
    places_of = [(q, p.key) for q in BANK.values() for p in q.quantities]
    prepared: dict[int, tuple[Search, Columns, Floats]] = {}
    for n in sorted(numbers, key=lambda n: n % len(places_of)):
        at, turn = n % len(places_of), n // len(places_of)
        if at not in prepared:
            prepared.clear()
            prepared[at] = _prepared(*places_of[at])
        searched, givens, right = prepared[at]
        yield searched.find(_noise(searched, givens, right, (6, 8, 12, 24)[turn % 4], (1.0, 0.5)[turn // 4 % 2], n))


def _prepared(question: Question, key: str) -> tuple[Search, Columns, Floats]:
    drawn = [draw(question, f"noise|{n}") for n in range(60)]
    givens = {name: np.array([v.values[name] for v in drawn]) for name in drawn[0].values}
    place = next(p for p in places(question, 3) if p.key == key)
    return Search(question, place), givens, np.array([v.expected_si[key] for v in drawn])


def _noise(searched: Search, givens: Columns, right: Floats, size: int, decades: float, seed: int) -> Unexplained:
    chance = np.random.default_rng([seed, 77])
    rows, asked = chance.integers(0, len(right), size), unit(searched.place.asked.unit)
    figures = chance.choice((2, 3, 4, 5, 6), p=(0.1, 0.45, 0.25, 0.15, 0.05), size=size)
    numbers = (right[rows] * 10 ** chance.uniform(-decades, decades, size) - asked.offset) / asked.scale
    typed = np.array([float(f"{x:.{n - 1}e}") for x, n in zip(numbers.tolist(), figures.tolist(), strict=True)])
    mine = {name: values[rows] for name, values in givens.items()}
    si, scale = typed * asked.scale + asked.offset, np.full(size, asked.scale)
    return Unexplained(si, figures.astype(np.float64), scale, mine, tuple(str(n) for n in range(size)))
