"""Simulated classes for the class-wide search: a few unexplained answers, with a shared wrong method planted or not."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.marking.search.shared_odds import LEAST_STUDENTS
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import Search
from witnessmark.maths.quantities import unit
from witnessmark.questions.drawing.likeness import likeness, merged, new_edits
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import edited_at, edited_twice
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.trial.simulated import Generator, Pool, noise, pool_of, some_figures, some_habits, work, written

UNEXPLAINED = 8
MOST_DOUBLE = 60


@dataclass(frozen=True, slots=True)
class ClassTrial:
    """How the search did: classes with a planted method and those where it was found (all its students named), where
    another formula was reported; classes of noise alone and those where anything was reported."""

    planted: int
    found: int
    other: int
    noise: int
    false: int


def class_trial(questions: Sequence[Question], classes: int, seed: int) -> ClassTrial:
    """So many classes with a method planted in three of eight unexplained answers, and as many of noise alone, spread
    evenly over the calculated results of the questions."""
    prepared = [s for q in questions for s in _stands(q)]
    generator = np.random.Generator(np.random.PCG64([seed, 24]))
    found = other = false = 0
    for n in range(classes):
        search, pool, place, planted = prepared[n % len(prepared)]
        method = planted[int(generator.integers(0, len(planted)))]
        first = search.find(_class(pool, place, method, generator))
        if first is not None:
            named = {str(i) for i in range(LEAST_STUDENTS)} <= set(first.who)
            found, other = found + named, other + (not named)
        false += search.find(_class(pool, place, None, generator)) is not None
    return ClassTrial(classes, found, other, classes, false)


def _stands(question: Question) -> list[tuple[Search, Pool, NumberPlace, tuple[Method, ...]]]:
    """Every calculated result of a question with its search and the unmodelled methods that are planted there."""
    pool = pool_of(question)
    if pool is None:
        return []
    known, alike = dimensions(question), likeness(question)
    found = []
    for place in places(question, 3):
        if place.line is None and place.key in pool.worked:
            methods = merged(methods_at(place, known), alike)
            singles = edited_at(methods[0], known, question)
            doubles = edited_twice(singles, known, question, MOST_DOUBLE)
            new = tuple(e.method for e in new_edits(methods, (*singles, *doubles), alike) if not e.method.bare)
            if new:
                found.append((Search(question, place), pool, place, new))
    return found


def _class(pool: Pool, place: NumberPlace, method: Method | None, generator: Generator) -> Unexplained:
    rows = generator.integers(0, pool.size, UNEXPLAINED)
    value = pool.worked[place.key][rows] * noise(generator, rows.shape)
    habit, figures = some_habits(pool, generator, UNEXPLAINED), some_figures(generator, UNEXPLAINED)
    if method is not None:
        value = np.where(np.arange(UNEXPLAINED) < LEAST_STUDENTS, work(pool, method, rows, habit), value)
    _, si = written(value, place.asked.unit, figures)
    scale = np.full(UNEXPLAINED, unit(place.asked.unit).scale)
    who = tuple(str(i) for i in range(UNEXPLAINED))
    return Unexplained(si, figures.astype(np.float64), scale, pool.rows(rows), who)
