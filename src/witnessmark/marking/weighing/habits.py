"""Habits: the ways in which people round on the way, each with its share and the whole working done that way."""

import itertools
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from witnessmark.marking.weights import LINE_HABITS
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.same_object import SameObject
from witnessmark.maths.syntax import Tree, names_in
from witnessmark.questions.model.constants import CONSTANTS, Constant
from witnessmark.questions.model.kinds import judged_by, names_of, quantities_in, right_trees, wrong_trees
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.evaluation import rounded_in
from witnessmark.questions.working.methods import Method
from witnessmark.questions.working.working import ALL_CONSTANTS, Columns

Rows = npt.NDArray[np.intp]
Lines = tuple[tuple[int | None, float], ...]


MOST_BEFORE = 4


@dataclass(frozen=True, slots=True)
class Before:
    """What results were before they were rounded (SI), a few numbers for each, shape (k, n), with their shares: 0 where
    no method is known that gives them. With `rows`, these of them."""

    values: Array
    shares: Array
    rows: Rows | None = None

    @staticmethod
    def unknown(n: int) -> "Before":
        """Of so many results none is known."""
        return Before(np.full((MOST_BEFORE, n), np.nan), np.zeros((MOST_BEFORE, n)))

    def of_rows(self, rows: Rows) -> "Before":
        """These rows of it, which are taken when they are asked for: for most entries they never are."""
        return Before(self.values, self.shares, rows if self.rows is None else self.rows.take(rows))

    @property
    def known(self) -> Array:
        """The shares, shape (k, n)."""
        return self.shares if self.rows is None else self.shares.take(self.rows, axis=1)

    def numbers(self, k: int) -> Array:
        """The k-th number for each result, shape (n,)."""
        numbers: Array = self.values[k]
        return numbers if self.rows is None else numbers.take(self.rows)

    def put(self, rows: Rows, other: "Before") -> None:
        """Take over others, of fewer numbers perhaps, for these rows."""
        self.values[: len(other.values), rows] = other.values
        self.shares[: len(other.shares), rows] = other.shares


@dataclass(frozen=True, slots=True)
class Own:
    """A student's own earlier result: the names it goes by, its SI values (nan where none), the room that it is
    carried on with (SI), and half of the last digit written, within which lies the value that it was rounded from.

    `values` are those of wrong results alone, and `before` what these may have been before they were rounded. `typed`
    are the right ones as they were typed, where `is_typed`, and elsewhere in full.
    """

    names: tuple[str, ...]
    values: Array
    before: Before
    half: Array
    written: Array
    typed: Array
    is_typed: npt.NDArray[np.bool_]

    def only(self, rows: Rows) -> "Own":
        """These rows of it."""
        values, half, written, typed = (c.take(rows) for c in (self.values, self.half, self.written, self.typed))
        return Own(self.names, values, self.before.of_rows(rows), half, written, typed, self.is_typed[rows])

    def as_typed(self, rows: Rows) -> "Own":
        """These rows of what was typed of it where it was right; the rest is left as it is, of every row."""
        written, typed = self.written.take(rows), self.typed.take(rows)
        return replace(self, written=written, typed=typed, is_typed=self.is_typed.take(rows))


def gathered(own: Sequence[Own]) -> list[Own]:
    """Many results that are carried on together: each wrong one as it was typed, and the right ones beside them;
    nothing where none of them is wrong."""
    some = np.any([np.isfinite(o.values) for o in own], axis=0)
    return [
        replace(
            o, values=np.where(some & np.isnan(o.values), o.typed, o.values),
            half=np.nan_to_num(o.half), written=np.nan_to_num(o.written),
        )
        for o in own
    ]  # fmt: skip


IN_FULL = 17
"""More figures than a float holds: rounding to so many changes nothing."""


@dataclass(frozen=True, slots=True)
class Habits:
    """Every way of rounding, H of them: shares (H,) that add up to 1, the figures of lines (H, 1), and every name
    worked each way, (H, n) or (H, 1)."""

    shares: Array
    figures: Array
    names: dict[str, Array]

    def only(self, rows: Rows | None, needed: Set[str]) -> "Habits":
        """The same for these of the n variants, or all, and only the names that are needed."""
        names = {k: v for k, v in self.names.items() if k in needed}
        chosen = {k: v.take(rows, axis=1) if rows is not None and v.shape[1] > 1 else v for k, v in names.items()}
        return Habits(self.shares, self.figures, chosen)

    def each(self, habit: Rows, rows: Rows) -> tuple[dict[str, Array], Array]:
        """Names and figures of lines where each of these variants is worked by its own habit (an index), shape (m,)."""
        names = {k: v[habit, rows] if v.shape[1] > 1 else v[habit, 0] for k, v in self.names.items()}
        return names, self.figures[habit, 0]


def habits(question: Question, givens: Columns, least: int = 2) -> Habits:
    """Every combination of how constants are taken and how lines are rounded (to `least` figures or more)."""
    used = tuple(c for c in CONSTANTS.values() if _uses(question, c.name))
    kept = tuple((n, share) for n, share in LINE_HABITS if n is None or n >= least)
    made = _combined(kept, used, {name: np.atleast_2d(values) for name, values in givens.items()})
    names = _chain(question.quantities, dict(made.names), made.figures)
    whole = {k: np.broadcast_to(v, (len(made.shares), v.shape[1])) for k, v in names.items()}
    return Habits(made.shares, made.figures, whole)


def _combined(lines: Lines, constants: tuple[Constant, ...], givens: dict[str, Array]) -> Habits:
    """The combinations of these ways with lines and constants; no line or result is worked yet."""
    shares, figures, taken = _combinations(lines, constants)
    return Habits(shares, figures, {**taken, **givens})


@lru_cache(maxsize=256)
def _combinations(lines: Lines, constants: tuple[Constant, ...]) -> tuple[Array, Array, dict[str, Array]]:
    combinations = list(itertools.product(lines, *(c.habits for c in constants)))
    shares = np.array([np.prod([share for _, share in each]) for each in combinations])
    figures = np.array([[each[0][0] or IN_FULL] for each in combinations], dtype=np.float64)
    names: dict[str, Array] = {k: np.array([[float(v)]]) for k, v in ALL_CONSTANTS.items()}
    names |= {c.name: np.array([[each[i + 1][0]] for each in combinations]) for i, c in enumerate(constants)}
    for shared in (shares, figures, *names.values()):
        shared.flags.writeable = False
    return shares / shares.sum(), figures, names


@dataclass(frozen=True, slots=True)
class _Way:
    """What a method is worked from: how lines may be rounded, the constants and givens that it needs, and the parts
    before it that it takes results of."""

    lines: Lines
    constants: tuple[Constant, ...]
    givens: tuple[str, ...]
    before: tuple[QuantityPart, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """The givens of variants, shape (n,), from which the habits that matter to one method are worked when they are
    asked for: only the constants it uses, and the figures of lines only where it passes through lines."""

    question: Question
    givens: dict[str, Array]
    rows: Rows

    def only(self, rows: Rows) -> "Ways":
        """The same for these of the variants."""
        return Ways(self.question, self.givens, self.rows.take(rows))

    def of(self, method: Method, taken: frozenset[str]) -> Habits:
        """The habits by which a method can be worked; names in `taken` are the student's own."""
        way = _way_of(SameObject(self.question), SameObject(method), taken, frozenset(self.givens))
        made = _combined(way.lines, way.constants, {k: self.givens[k].take(self.rows)[None, :] for k in way.givens})
        return Habits(made.shares, made.figures, _chain(way.before, dict(made.names), made.figures))


@lru_cache(maxsize=10_000)
def _way_of(
    question: SameObject[Question], method: SameObject[Method], taken: frozenset[str], givens: frozenset[str]
) -> _Way:
    steps, final = method.it.steps, method.it.final
    trees = [s.asked.tree for s in steps if s.name not in taken] + [final.tree]
    used = _names(trees) - {s.name for s in steps} - taken
    before = _before(question.it, used)
    used |= _names(_trees_of(before))
    lines = LINE_HABITS if before or any(s.name not in taken for s in steps) else ((None, 1.0),)
    constants = tuple(c for c in CONSTANTS.values() if c.name in used)
    return _Way(lines, constants, tuple(sorted(used & givens)), before)


def _before(question: Question, used: Set[str]) -> tuple[QuantityPart, ...]:
    """The parts up to the last one whose result is used."""
    last = max((i for i, part in enumerate(question.parts) if used & set(names_of(part))), default=-1)
    return quantities_in(question.parts[: last + 1])


def _names(trees: Iterable[Tree]) -> frozenset[str]:
    return frozenset().union(*(names_in(tree) for tree in trees))


def _trees_of(parts: Iterable[QuantityPart]) -> list[Tree]:
    return [tree for part in parts for tree in right_trees(part)]


def _uses(question: Question, constant: str) -> bool:
    trees = [
        tree for part in question.parts if judged_by(part) is None for tree in (*right_trees(part), *wrong_trees(part))
    ]
    return any(constant in names_in(tree) for tree in trees)


def _chain(parts: Iterable[QuantityPart], names: dict[str, Array], figures: Array) -> dict[str, Array]:
    """The right working of these parts by each habit: each part's result as it is carried on, with the figures that it
    asks for itself at least."""
    for part in parts:
        own = dict(names)
        for line in part.lines:
            if names_in(line.value) <= own.keys():
                own[line.name] = rounded_in(compiled(line.value)(own), line.unit, figures)
        if names_in(part.answer) <= own.keys():
            result = rounded_in(compiled(part.answer)(own), part.unit, np.maximum(figures, part.figures or 0))
            names.update(dict.fromkeys(names_of(part), result))
    return names
