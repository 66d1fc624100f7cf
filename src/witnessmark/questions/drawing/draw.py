"""Drawing variants: the same on every machine and for years, from SHA-256 of a text; never from a global random state.

A variant that may be drawn satisfies every `keep`, is separable, has clear judgements and no accidentally plain result.
Of those a seed asks for, the one is taken whose numbers unmodelled methods crowd least.
"""

import math
from collections.abc import Mapping, Sequence, Set
from functools import lru_cache

import numpy as np

from witnessmark.maths.same_object import SameObject
from witnessmark.questions.drawing.separation import (
    Truth,
    apart_on_the_sheet,
    clear_counts,
    clear_judgements,
    clear_sizes,
    keeps,
    separable,
    uneven_numbers,
)
from witnessmark.questions.drawing.space import (
    Pick,
    asks_for_numbers,
    choices,
    columns_of,
    nth_pick,
    pick_of,
    space,
    variant_at,
)
from witnessmark.questions.drawing.unmodelled_clashes import Crowding
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Task
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES, Identity, Variant
from witnessmark.words.errors import NoVariant

BATCH = 16
MOST_BATCHES = 64
COUNTED_SPACE = 40_000
SAMPLED = 5_000
NEVER = 1 << 40
FULL = 0.8
"""The share of a space that one round of drawing may use before numbers repeat: beyond it, search grows long."""


def allowed(question: Question, picks: Sequence[Pick], figures: int = DEFAULT_FIGURES) -> Truth:
    """For each pick, whether it may be issued."""
    size, columns = len(picks), columns_of(question, picks)
    return (
        keeps(question, columns, size)
        & separable(question, columns, size, figures)
        & clear_judgements(question, columns, size, figures)
        & clear_sizes(question, columns, size, figures)
        & clear_counts(question, columns, size, figures)
        & apart_on_the_sheet(question, columns, size)
        & ~uneven_numbers(question, columns, size)
    )


class Space:
    """The space of variants of one question, which remembers what it has found of each pick."""

    def __init__(self, question: Question, figures: int = DEFAULT_FIGURES) -> None:
        self.question, self.figures = question, figures
        self._counts = [c.count for c in choices(question)]
        self._crowding = _crowding_of(SameObject(question), figures)
        self._crowds: dict[Pick, int] = {}
        """How crowded each pick is that was looked at; NEVER for those that may not be issued."""
        self._variants: dict[Pick, Variant] = {}
        self._identities: dict[Pick, Identity] = {}

    def variant(self, pick: Pick) -> Variant:
        """The variant of a pick, made once."""
        if pick not in self._variants:
            self._variants[pick] = variant_at(self.question, pick)
        return self._variants[pick]

    def identity(self, pick: Pick) -> Identity:
        """What tells the variant of a pick from others."""
        if pick not in self._identities:
            self._identities[pick] = self.variant(pick).identity
        return self._identities[pick]

    def wishes(self, seed: str, batch: int) -> list[Pick]:
        """The picks that a seed text asks for, in order; the same seed always gives the same order."""
        stem = f"{self.question.key}|{self.question.fingerprint}|{seed}"
        return [pick_of(self._counts, f"{stem}|{batch * BATCH + i}") for i in range(BATCH)]

    def look_at(self, picks: Sequence[Pick]) -> None:
        """Find out of many picks at once whether they may be issued."""
        new = [p for p in dict.fromkeys(picks) if p not in self._crowds]
        if not new:
            return
        may = allowed(self.question, new, self.figures)
        crowds = self._crowding.of(columns_of(self.question, new), len(new))
        self._crowds.update(zip(new, np.where(may, crowds, NEVER).tolist(), strict=True))

    def usable(self, picks: Sequence[Pick]) -> list[Pick]:
        """Those of these picks that may be issued, each once."""
        return [pick for pick in dict.fromkeys(picks) if self._crowds[pick] != NEVER]

    def best_free(self, picks: Sequence[Pick], taken: Set[Identity]) -> Pick | None:
        """The least crowded of these picks (of equals the first) that may be issued and whose variant is not taken."""
        for pick in sorted(dict.fromkeys(picks), key=lambda p: self._crowds[p]):
            if self._crowds[pick] != NEVER and self.identity(pick) not in taken:
                return pick
        return None


@lru_cache(maxsize=256)
def _crowding_of(same: SameObject[Question], figures: int) -> Crowding:
    return Crowding(same.it, figures)


def draw(question: Question, seed: str, figures: int = DEFAULT_FIGURES) -> Variant:
    """The variant that a seed text gives; NoVariant when the search finds none."""
    return draw_all(question, {"": seed}, frozenset(), figures)[""]


def draw_several(question: Question, seed: str, figures: int = DEFAULT_FIGURES) -> tuple[Variant, ...]:
    """All that may be issued of the first numbers that a seed text asks for; NoVariant when the search finds none."""
    space_of = Space(question, figures)
    for batch in range(MOST_BATCHES):
        picks = space_of.wishes(seed, batch)
        space_of.look_at(picks)
        if usable := space_of.usable(picks):
            return tuple(variant_at(question, pick) for pick in usable)
    raise NoVariant(question.key, count_allowed(question, figures), 1)


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
            pick = space_of.best_free(picks, used)
            if pick is not None:
                found[key] = space_of.variant(pick)
                used.add(space_of.identity(pick))
        waiting = [key for key in waiting if key not in found]
        if not waiting:
            return found
    raise NoVariant(question.key, count_allowed(question, figures), len(seeds) + len(taken))


def count_allowed(question: Question, figures: int = DEFAULT_FIGURES) -> int:
    """How many variants may be issued: counted where the space is small, else estimated from a sample."""
    counts = [c.count for c in choices(question)]
    total = math.prod(counts)
    if total <= COUNTED_SPACE:
        return int(allowed(question, [nth_pick(counts, i) for i in range(total)], figures).sum())
    sample = [pick_of(counts, f"sample|{i}") for i in range(SAMPLED)]
    return int(total * allowed(question, sample, figures).mean())


def seed_of(task: Task, student_code: str, attempt: int) -> str:
    """The text that a student's variants are drawn from (with question key and fingerprint, which `draw` adds)."""
    return f"{task.key}|{student_code}|{attempt}"


def draw_class(
    question: Question, task: Task, codes: Sequence[str], taken: Set[Identity], repeats: bool = False,
    attempts: Mapping[str, int] | None = None,
) -> dict[str, Variant]:  # fmt: skip
    """A variant of one question of a task for each student code, none alike or among those taken; for the first attempt
    of each, or the one that `attempts` tells.

    With `repeats`, numbers are given out again once the space is used up; without, NoVariant is raised instead, unless
    the question asks for no number.
    """
    needed, figures = len(codes) + len(taken), task.rules.figures
    seeds = {code: seed_of(task, code, (attempts or {}).get(code, 1)) for code in sorted(codes)}
    if not repeats and asks_for_numbers(question):
        if space(question) < needed:
            raise NoVariant(question.key, count_allowed(question, figures), needed)
        return draw_all(question, seeds, taken, figures)
    count = max(int(count_allowed(question, figures) * FULL), 1)
    found: dict[str, Variant] = {}
    waiting = sorted(seeds)
    while waiting:
        round_of = waiting[:count]
        found |= draw_all(question, {code: seeds[code] for code in round_of}, frozenset(), figures)
        waiting = waiting[count:]
    return found
