"""Simulated students: each works one question by a stated method and by stated habits, and writes the result as people
do. Everything is drawn from the generator that is passed in, so that a seed repeats a whole trial."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from witnessmark.marking.weighing.habits import Habits, habits
from witnessmark.marking.weights import POWERS, SLIP_POWERS
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import to_figures
from witnessmark.questions.drawing.draw import Space
from witnessmark.questions.drawing.likeness import Likeness, likeness, merged, new_edits, new_to
from witnessmark.questions.drawing.separation import meets_but_for_tens, span_in
from witnessmark.questions.drawing.space import choices, columns_of
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import edited_at
from witnessmark.questions.working.evaluation import names_between, names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.questions.working.pairs import pairs_at
from witnessmark.questions.working.working import envelopes, worked
from witnessmark.trial.bending import bent, bent_shares, carried_in_full

Generator = np.random.Generator
Rows = npt.NDArray[np.intp]
POOL = 400
LEAST_POOL = 5
LEAST_LINE_FIGURES = 3
LEAST_WRONG = 0.04
WRITTEN_FIGURES = ((3, 0.50), (4, 0.30), (5, 0.15), (6, 0.05))
NOISE_DECADE = 1.0


@dataclass(frozen=True, slots=True)
class Pool:
    """Variants of one question that may be issued, as columns, with every habit of working them."""

    question: Question
    givens: dict[str, Array]
    habits: Habits
    worked: dict[str, Array]
    size: int

    def rows(self, rows: Rows) -> dict[str, Array]:
        """The givens of these variants."""
        return {name: values[rows] for name, values in self.givens.items()}


@dataclass(frozen=True, slots=True)
class Truth:
    """What simulated students did at one place: a method (None: noise), with a power of ten if any.

    `meets` tells for each variant of the pool whether a method that the bank knows has the same digits there, so that
    no marker could tell the two apart.
    """

    kind: str
    place: NumberPlace
    method: Method | None
    power: int = 0
    cause: str = ""
    meets: npt.NDArray[np.bool_] | None = None


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers of students who did the same thing: which variants, and their entries by key."""

    truth: Truth
    rows: Rows
    entries: dict[str, list[str]]


def pool_of(question: Question, size: int = POOL) -> Pool | None:
    """Variants drawn as a class's are; None when there are too few or nothing is drawn."""
    if not choices(question):
        return None
    seeds = Space(question)
    wishes = [seeds.wishes(f"trial|{i}", 0) for i in range(size)]
    seeds.look_at([pick for wished in wishes for pick in wished])
    picks = list(dict.fromkeys(p for wished in wishes if (p := seeds.best_free(wished, frozenset())) is not None))
    n = len(picks)
    if n < LEAST_POOL:
        return None
    givens = columns_of(question, picks)
    right = {k: np.broadcast_to(v, (n,)) for k, v in worked(question, givens).items()}
    return Pool(question, givens, habits(question, givens, LEAST_LINE_FIGURES), right, n)


def work(pool: Pool, method: Method, rows: Rows, habit: Rows, taken: Mapping[str, Array] | None = None) -> Array:
    """What students get who work by a method (SI), each with a habit (index); shape of `rows`."""
    names, figures = pool.habits.each(habit, rows)
    return np.broadcast_to(number_of(method, names, dimensions(pool.question), taken or {}, figures), rows.shape)


def some_habits(pool: Pool, generator: Generator, size: int, bend: float = 0.0) -> Rows:
    """A habit for each student, by the assumed shares bent by `bend` (0: as assumed)."""
    shares = bent_shares(pool.habits, bend)
    chosen: Rows = generator.choice(len(shares), size=size, p=shares)
    return chosen


def some_figures(generator: Generator, size: int, bend: float = 0.0) -> Rows:
    """How many figures each student writes."""
    figures, shares = zip(*bent(WRITTEN_FIGURES, bend), strict=True)
    chosen: Rows = generator.choice(figures, size=size, p=shares)
    return chosen


def written(si: Array, unit_name: str, figures: Rows) -> tuple[list[str], Array]:
    """Entries as people write them (number, blank, unit), and the SI values that those digits stand for."""
    u = unit(unit_name)
    number = to_figures((si - u.offset) / u.scale, figures)
    sign = unit_name.replace("*", " ").replace("degC", "°C")
    texts = [f"{_text(x, int(n))} {sign}".strip() for x, n in zip(number.tolist(), figures.tolist(), strict=True)]
    return texts, number * u.scale + u.offset


def _text(number: float, figures: int) -> str:
    if not np.isfinite(number) or number == 0:
        return ""
    exponent = int(np.floor(np.log10(abs(number)) + 1e-12))
    if -4 <= exponent < 7:
        return f"{number:.{max(figures - 1 - exponent, 0)}f}"
    return f"{number:.{figures - 1}e}"


def truths(pool: Pool, generator: Generator, most_edits: int = 12) -> list[Truth]:
    """Everything that the trial has students do at the results of a question."""
    question = pool.question
    known, alike = dimensions(question), likeness(question)
    found: list[Truth] = []
    for place in places(question, 3):
        if place.line is None and place.key in pool.worked:
            methods = merged(methods_at(place, known), alike)
            found.append(Truth("right", place, methods[0]))
            found += [Truth("power of ten", place, methods[0], n) for n in _two(POWERS, generator)]
            distinct = _of_own_shape(methods, alike)
            found += [Truth("slip", place, m) for m in methods[1:]]
            beside = [(m, n) for m in distinct for n in _two(SLIP_POWERS, generator)]
            found += [Truth("slip and power of ten", place, m, n) for m, n in beside]
            pairs = new_to(methods, pairs_at(methods, known), alike)
            found += [Truth("two slips", place, m) for m in pairs]
            singles = edited_at(methods[0], known, question)
            edits = [e.method for e in new_edits((*methods, *pairs), singles, alike)]
            chosen = generator.permutation(len(edits))[:most_edits]
            found += [Truth("edit", place, edits[i]) for i in sorted(chosen)]
            found.append(Truth("noise", place, None))
            if place.part.carries:
                found += [Truth("carried", place, methods[0], cause=c) for c in ("slip", "power of ten", "noise")]
    return [replace(t, meets=_meets(pool, t, known, alike)) for t in found]


def _meets(pool: Pool, truth: Truth, known: Mapping[str, Dimension], alike: Likeness) -> npt.NDArray[np.bool_]:
    """Where another known method, or a power of ten of it, has the digits of this truth."""
    if truth.method is None or truth.kind in ("right", "carried", "slip"):
        return np.zeros(pool.size, np.bool_)
    full = names_in_full(pool.question, pool.givens, pool.worked)
    between = names_between(pool.question, pool.givens, envelopes(pool.question, pool.givens, 3))
    value = np.broadcast_to(number_of(truth.method, full, known), (pool.size,))
    others = [m for m in merged(methods_at(truth.place, known), alike) if m.formula != truth.method.formula]
    return meets_but_for_tens(value, [span_in(other, between, known, pool.size) for other in others])


def _of_own_shape(methods: Sequence[Method], alike: Likeness) -> list[Method]:
    """The slips that no power of ten makes into another method: a thousand times those can be told from all others."""
    shapes = [alike.shape_of(m) for m in methods]
    return [m for m, shape in zip(methods[1:], shapes[1:], strict=True) if shapes.count(shape) == 1]


def _two(powers: Sequence[int], generator: Generator) -> list[int]:
    return sorted(int(p) for p in generator.choice(powers, size=2, replace=False))


def answers(pool: Pool, truth: Truth, size: int, generator: Generator, bend: float = 0.0) -> Answers:
    """`size` students who all did `truth`: earlier results right (or wrong by its cause), later ones left blank."""
    rows: Rows = generator.integers(0, pool.size, size)
    habit = some_habits(pool, generator, size, bend)
    entries: dict[str, list[str]] = {}
    taken: dict[str, Array] = {}
    for earlier in places(pool.question, 3):
        if earlier.key == truth.place.key:
            break
        if earlier.line is None and earlier.key in pool.worked:
            is_cause = earlier.key in truth.place.part.carries and truth.cause
            value = _earlier(pool, earlier, rows, habit, truth.cause if is_cause else "", generator)
            figures = _as_asked(earlier, some_figures(generator, size, bend))
            entries[earlier.key], own = written(value, earlier.asked.unit, figures)
            if is_cause:
                in_full = generator.random(size) < carried_in_full(bend)
                taken.update(dict.fromkeys(names_of(earlier.part), np.where(in_full, value, own)))
    value = _result(pool, truth, rows, habit, taken, generator)
    figures = _as_asked(truth.place, some_figures(generator, size, bend))
    entries[truth.place.key], _ = written(value, truth.place.asked.unit, figures)
    return Answers(truth, rows, entries)


def _as_asked(place: NumberPlace, figures: Rows) -> Rows:
    """Figures that people write, but as many at least as the question itself asks for."""
    return np.maximum(figures, place.part.figures or 0)


def _earlier(pool: Pool, place: NumberPlace, rows: Rows, habit: Rows, cause: str, generator: Generator) -> Array:
    methods = methods_at(place, dimensions(pool.question))
    if cause == "slip" and len(methods) > 1:
        return work(pool, methods[int(generator.integers(1, len(methods)))], rows, habit)
    value = work(pool, methods[0], rows, habit)
    if cause == "power of ten":
        return np.asarray(value * 10.0 ** float(generator.choice([-3, -2, -1, 1, 2, 3])))
    if cause == "noise":
        return value * _away_from_one(noise(generator, rows.shape))
    return value


def _away_from_one(factors: Array) -> Array:
    """Factors that leave a wrong result really wrong: none within a tenth of one."""
    return np.where(np.abs(np.log10(factors)) < LEAST_WRONG, factors * 2.0, factors)


def _result(
    pool: Pool, truth: Truth, rows: Rows, habit: Rows, taken: Mapping[str, Array], generator: Generator
) -> Array:
    if truth.method is None:
        return pool.worked[truth.place.key][rows] * noise(generator, rows.shape)
    return work(pool, truth.method, rows, habit, taken) * 10.0**truth.power


def noise(generator: Generator, shape: tuple[int, ...]) -> Array:
    """Factors spread evenly over their logarithm, ten times each way."""
    return 10.0 ** generator.uniform(-NOISE_DECADE, NOISE_DECADE, shape)
