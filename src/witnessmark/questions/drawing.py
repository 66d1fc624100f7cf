"""Drawing variants: the same on every machine and for years, from SHA-256 of a text; never from a global random state.

A variant that may be drawn satisfies every `keep`, is separable, has clear judgements and no accidentally plain result.
"""

import hashlib
import math
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import to_si
from witnessmark.questions.question import Given, Question
from witnessmark.questions.separation import Truth, clear_judgements, keeps, separable, uneven_numbers
from witnessmark.questions.task import Task
from witnessmark.questions.variant import DEFAULT_FIGURES, Identity, Shown, Variant, row_cells, with_computed
from witnessmark.questions.working import ALL_CONSTANTS
from witnessmark.words.errors import NoVariant

BATCH = 16
MOST_BATCHES = 64
COUNTED_SPACE = 40_000


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that is drawn: a given's values, or the rows of a table."""

    name: str
    unit: str
    values: tuple[Decimal, ...] = ()
    rows: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many ways it can fall."""
        return len(self.values) or len(self.rows)


Pick = tuple[int, ...]


def choices(question: Question) -> tuple[Choice, ...]:
    """Everything that is drawn in a question, in file order."""
    rows = [
        Choice(row.name, "", rows=row.rows or tuple(question.tables[row.table].rows)) for row in question.rows
    ]  # fmt: skip
    drawn = [g for g in question.givens if g.one_of or g.span]
    return tuple(rows) + tuple(Choice(g.name, g.unit, values=_values(g)) for g in drawn)


def _values(given: Given) -> tuple[Decimal, ...]:
    if given.span is None:
        return given.one_of
    first, last, step = given.span
    return tuple(first + step * i for i in range(int((last - first) / step) + 1))


def space(question: Question) -> int:
    """How many variants there are before any condition."""
    return math.prod(c.count for c in choices(question))


def variant_at(question: Question, pick: Pick) -> Variant:
    """The variant of one pick (an index for each choice)."""
    shown: dict[str, Shown] = {}
    rows: dict[str, str] = {}
    for choice, index in zip(choices(question), pick, strict=True):
        if choice.rows:
            rows[choice.name] = choice.rows[index]
            shown |= row_cells(question, choice.name, choice.rows[index])
        else:
            shown[choice.name] = Shown(choice.values[index], choice.unit)
    return with_computed(question, shown, rows)


def columns_of(question: Question, picks: Sequence[Pick]) -> dict[str, Array]:
    """The givens of many picks as columns of SI values."""
    columns: dict[str, Array] = {}
    for position, choice in enumerate(choices(question)):
        index = np.array([pick[position] for pick in picks], np.intp)
        columns |= {name: np.array(values)[index] for name, values in _cells(question, choice).items()}
    names: dict[str, Any] = {**ALL_CONSTANTS, **columns}
    for given in question.givens:
        if given.value is not None:
            computed = np.broadcast_to(np.asarray(compiled(given.value)(names), np.float64), (len(picks),))
            names[given.name] = columns[given.name] = computed
    return columns


def _cells(question: Question, choice: Choice) -> dict[str, list[float]]:
    if choice.values:
        return {choice.name: [to_si(float(v), choice.unit) for v in choice.values]}
    by_row = [row_cells(question, choice.name, row) for row in choice.rows]
    shared = set(by_row[0]).intersection(*by_row) if by_row else set()
    return {name: [cells[name].si for cells in by_row] for name in sorted(shared)}


def allowed(question: Question, picks: Sequence[Pick], figures: int = DEFAULT_FIGURES) -> Truth:
    """For each pick, whether it may be issued."""
    size, columns = len(picks), columns_of(question, picks)
    return (
        keeps(question, columns, size)
        & separable(question, columns, size, figures)
        & clear_judgements(question, columns, size, figures)
        & ~uneven_numbers(question, columns, size)
    )


class Space:
    """The space of variants of one question, which remembers what it has found of each pick."""

    def __init__(self, question: Question, figures: int = DEFAULT_FIGURES) -> None:
        self.question, self.figures = question, figures
        self._counts = [c.count for c in choices(question)]
        self._allowed: dict[Pick, bool] = {}

    def wishes(self, seed: str, batch: int) -> list[Pick]:
        """The picks that a seed text asks for, in order; the same seed always gives the same order."""
        stem = f"{self.question.key}|{self.question.fingerprint}|{seed}"
        return [pick_of(self._counts, f"{stem}|{batch * BATCH + i}") for i in range(BATCH)]

    def look_at(self, picks: Sequence[Pick]) -> None:
        """Find out of many picks at once whether they may be issued."""
        new = [p for p in dict.fromkeys(picks) if p not in self._allowed]
        if new:
            self._allowed.update(zip(new, allowed(self.question, new, self.figures).tolist(), strict=True))

    def first_free(self, picks: Sequence[Pick], taken: Set[Identity]) -> Pick | None:
        """The first of these picks that may be issued and whose variant is not taken."""
        for pick in picks:
            if self._allowed[pick] and variant_at(self.question, pick).identity not in taken:
                return pick
        return None


def pick_of(counts: Sequence[int], text: str) -> Pick:
    """The pick that a text gives, by SHA-256."""
    number = int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
    pick = []
    for count in counts:
        number, index = divmod(number, count)
        pick.append(index)
    return tuple(pick)


def draw(question: Question, seed: str, figures: int = DEFAULT_FIGURES) -> Variant:
    """The variant that a seed text gives; NoVariant when the search finds none."""
    return draw_all(question, {"": seed}, frozenset(), figures)[""]


def draw_all(
    question: Question, seeds: Mapping[str, str], taken: Set[Identity], figures: int = DEFAULT_FIGURES
) -> dict[str, Variant]:
    """A variant for each key (a student code) from its seed text, no two alike and none of those taken.

    Keys are served in sorted order, so the order of files has no say. NoVariant when the space is too small.
    """
    space_of = Space(question, figures)
    waiting, used = sorted(seeds), set(taken)
    found: dict[str, Variant] = {}
    for batch in range(MOST_BATCHES):
        wishes = {key: space_of.wishes(seeds[key], batch) for key in waiting}
        space_of.look_at([pick for picks in wishes.values() for pick in picks])
        for key, picks in wishes.items():
            pick = space_of.first_free(picks, used)
            if pick is not None:
                found[key] = variant_at(question, pick)
                used.add(found[key].identity)
        waiting = [key for key in waiting if key not in found]
        if not waiting:
            return found
    raise NoVariant(question.key, count_allowed(question, figures), len(seeds) + len(taken))


def count_allowed(question: Question, figures: int = DEFAULT_FIGURES) -> int:
    """How many variants may be issued: counted where the space is small, else estimated from a sample."""
    counts = [c.count for c in choices(question)]
    total = math.prod(counts)
    if total <= COUNTED_SPACE:
        return int(allowed(question, [_nth(counts, i) for i in range(total)], figures).sum())
    sample = [pick_of(counts, f"sample|{i}") for i in range(5_000)]
    return int(total * allowed(question, sample, figures).mean())


def _nth(counts: Sequence[int], n: int) -> Pick:
    pick = []
    for count in counts:
        n, index = divmod(n, count)
        pick.append(index)
    return tuple(pick)


def seed_of(task: Task, student_code: str, attempt: int) -> str:
    """The text that a student's variants are drawn from (with question key and fingerprint, which `draw` adds)."""
    return f"{task.key}|{student_code}|{attempt}"


def draw_class(question: Question, task: Task, codes: Sequence[str], taken: Set[Identity]) -> dict[str, Variant]:
    """A variant of one question of a task for each student code (first attempt), none alike or among those taken."""
    needed = len(codes) + len(taken)
    if space(question) < needed:
        raise NoVariant(question.key, count_allowed(question, task.rules.figures), needed)
    return draw_all(question, {code: seed_of(task, code, 1) for code in codes}, taken, task.rules.figures)
