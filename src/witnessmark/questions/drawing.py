"""Drawing variants: the same on every machine and for years, from SHA-256 of a text; never from a global random state.

A variant that may be drawn satisfies every `keep`, is separable, has clear judgements and no accidentally plain result.
"""

import hashlib
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import to_si
from witnessmark.questions.question import Given, Question
from witnessmark.questions.separation import Truth, clear_judgements, keeps, separable, uneven_numbers
from witnessmark.questions.task import Task
from witnessmark.questions.variant import DEFAULT_FIGURES, Shown, Variant, row_cells, with_computed
from witnessmark.questions.working import ALL_CONSTANTS
from witnessmark.words.errors import NoVariant

BATCH = 64
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


def stream(question: Question, seed: str) -> Iterator[list[Pick]]:
    """Batches of picks in the order that a seed gives; the same seed always gives the same order."""
    counts = [c.count for c in choices(question)]
    for batch in range(MOST_BATCHES):
        yield [_pick(counts, f"{seed}|{batch * BATCH + i}") for i in range(BATCH)]


def _pick(counts: Sequence[int], text: str) -> Pick:
    number = int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
    pick = []
    for count in counts:
        number, index = divmod(number, count)
        pick.append(index)
    return tuple(pick)


def draw(
    question: Question, seed: str, taken: frozenset[Pick] = frozenset(), figures: int = DEFAULT_FIGURES
) -> Variant:
    """The variant that a seed text gives, other than those taken; NoVariant when the search finds none."""
    return variant_at(question, draw_pick(question, seed, taken, figures))


def draw_pick(question: Question, seed: str, taken: frozenset[Pick], figures: int) -> Pick:
    """The first pick of the seed's stream that may be issued and is not taken."""
    for picks in stream(question, f"{question.key}|{question.fingerprint}|{seed}"):
        fresh = [p for p in dict.fromkeys(picks) if p not in taken]
        if fresh:
            good = np.flatnonzero(allowed(question, fresh, figures))
            if good.size:
                return fresh[good[0]]
    raise NoVariant(question.key, count_allowed(question, figures), len(taken))


def count_allowed(question: Question, figures: int = DEFAULT_FIGURES) -> int:
    """How many variants may be issued: counted where the space is small, else estimated from a sample."""
    counts = [c.count for c in choices(question)]
    total = math.prod(counts)
    if total <= COUNTED_SPACE:
        return int(allowed(question, [_nth(counts, i) for i in range(total)], figures).sum())
    sample = [_pick(counts, f"sample|{i}") for i in range(5_000)]
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


def draw_class(
    question: Question, task: Task, students: Sequence[tuple[str, int]], taken: Mapping[str, Pick] | None = None
) -> dict[str, Pick]:
    """A pick for each student (code, attempt), no two alike, in the order of codes so that files' order has no say;
    `taken` are picks issued earlier. NoVariant when the space is too small, with the count."""
    used = set((taken or {}).values())
    needed, room = len(students) + len(used), space(question)
    if room <= COUNTED_SPACE and (room < needed or (room < 20 * needed and count_allowed(question) < needed)):
        raise NoVariant(question.key, count_allowed(question, task.rules.figures), needed)
    picked: dict[str, Pick] = {}
    for code, attempt in sorted(students):
        pick = draw_pick(question, seed_of(task, code, attempt), frozenset(used), task.rules.figures)
        used.add(pick)
        picked[code] = pick
    return picked
