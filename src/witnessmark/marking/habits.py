"""Habits: the ways in which people round on the way, each with its share and the whole working done that way."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from witnessmark.marking.weights import LINE_HABITS
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.syntax import names_in
from witnessmark.questions.constants import CONSTANTS
from witnessmark.questions.evaluation import rounded_in
from witnessmark.questions.question import Kind, Question
from witnessmark.questions.working import ALL_CONSTANTS, Columns, names_of


@dataclass(frozen=True, slots=True)
class Own:
    """A student's own earlier result: the names it goes by, its SI values (nan where none), and half its last digit."""

    names: tuple[str, ...]
    values: Array
    half: Array


@dataclass(frozen=True, slots=True)
class Habit:
    """One way of rounding: its share, the figures of lines (None: in full), and every name worked that way."""

    share: float
    figures: int | None
    names: dict[str, Array]


def habits(question: Question, givens: Columns) -> Iterator[Habit]:
    """Every combination of how constants are taken and how lines are rounded, with its share; shares add up to 1."""
    used = [c for c in CONSTANTS.values() if _uses(question, c.name)]
    for combination in itertools.product(LINE_HABITS, *(c.habits for c in used)):
        (figures, share), *constants = combination
        taken = {c.name: np.float64(v) for c, (v, _) in zip(used, constants, strict=True)}
        names = _chain(question, {**ALL_CONSTANTS, **taken, **givens}, figures)
        yield Habit(share * float(np.prod([s for _, s in constants])), figures, names)


def _uses(question: Question, constant: str) -> bool:
    trees = [line.value for part in question.parts for line in part.lines]
    trees += [part.answer for part in question.parts if part.answer is not None]
    trees += [slip.answer for part in question.parts for slip in part.slips if slip.answer is not None]
    return any(constant in names_in(tree) for tree in trees)


def _chain(question: Question, names: dict[str, Array], figures: int | None) -> dict[str, Array]:
    """The right working of the whole question by one habit: each part's result as it is carried on."""
    for part in question.parts:
        if part.kind is not Kind.QUANTITY or part.answer is None:
            continue
        own = dict(names)
        for line in part.lines:
            if names_in(line.value) <= own.keys():
                own[line.name] = rounded_in(compiled(line.value)(own), line.unit, figures)
        if names_in(part.answer) <= own.keys():
            result = rounded_in(compiled(part.answer)(own), part.unit, figures)
            names.update(dict.fromkeys(names_of(part), result))
    return names
