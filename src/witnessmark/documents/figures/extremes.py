"""Variants at the ends of a question's ranges, for looking at its figure and for the test that nothing overlaps."""

from collections.abc import Callable, Iterable, Sequence
from itertools import combinations, permutations, product

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.questions.drawing.separation import keeps
from witnessmark.questions.drawing.space import Pick, choices, columns_of, pick_of, variant_at
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant

SAMPLE = 1_500


def extreme_variants(question: Question, sample: int = SAMPLE) -> tuple[Variant, ...]:
    """The variants of a sample that hold the least and greatest value of each given and of each ratio of two givens of
    one unit, and the longest names of drawn rows; every `keep` holds. Always the same ones."""
    picks = _kept(question, sample)
    if not picks:
        return ()
    columns = columns_of(question, picks)
    found: list[Pick] = []
    for _, measure in _measures(question, columns):
        values = np.broadcast_to(measure, (len(picks),))
        found += [picks[int(values.argmin())], picks[int(values.argmax())]]
    found += [max(picks, key=_name_length(question, i)) for i, c in enumerate(choices(question)) if c.rows]
    return tuple(variant_at(question, p) for p in dict.fromkeys(found))


def spread_variants(question: Question, sample: int = SAMPLE) -> tuple[Variant, ...]:
    """The variants of a sample nearest to the least values of all givens, to the middle ones, and to the greatest."""
    picks = _kept(question, sample)
    shares = _shares(question, picks)
    return _nearest(question, picks, (np.abs(shares - share).sum(axis=1) for share in (0.0, 0.5, 1.0)))


def corner_variants(question: Question, sample: int = SAMPLE) -> tuple[Variant, ...]:
    """For every two givens, the variants of a sample nearest to where each is least or greatest: a long text beside a
    long part is one of these."""
    picks = _kept(question, sample)
    shares = _shares(question, picks)
    pairs = combinations(range(shares.shape[1]), 2)
    corners = product(pairs, (0.0, 1.0), (0.0, 1.0))
    away = (np.abs(shares[:, one] - a) + np.abs(shares[:, other] - b) for (one, other), a, b in corners)
    return _nearest(question, picks, away)


def _shares(question: Question, picks: Sequence[Pick]) -> Array:
    """Where each given of each pick lies between its least and its greatest value, from 0 to 1: a row a pick."""
    columns = columns_of(question, picks)
    values = [np.broadcast_to(columns[given.name], (len(picks),)) for given in question.givens]
    ranges = [(column, column.min(), np.ptp(column) or 1.0) for column in values]
    return np.array([(column - least) / span for column, least, span in ranges]).T.reshape(len(picks), len(values))


def _nearest(question: Question, picks: Sequence[Pick], distances: Iterable[Array]) -> tuple[Variant, ...]:
    found = dict.fromkeys(picks[int(away.argmin())] for away in distances)
    return tuple(variant_at(question, pick) for pick in found)


def _name_length(question: Question, position: int) -> Callable[[Pick], int]:
    rows = choices(question)[position].rows
    return lambda pick: len(rows[pick[position]])


def _kept(question: Question, sample: int) -> list[Pick]:
    counts = [c.count for c in choices(question)]
    picks = list(dict.fromkeys(pick_of(counts, f"extremes|{i}") for i in range(sample)))
    good = keeps(question, columns_of(question, picks), len(picks))
    return [p for p, kept in zip(picks, good.tolist(), strict=True) if kept]


def _measures(question: Question, columns: dict[str, Array]) -> Sequence[tuple[str, Array]]:
    names = [g.name for g in question.givens]
    units = {g.name: g.unit for g in question.givens}
    singles = [(name, columns[name]) for name in names]
    ratios = [
        (f"{one}/{other}", columns[one] / columns[other])
        for one, other in permutations(names, 2)
        if one < other and units[one] == units[other]
    ]
    return singles + ratios
