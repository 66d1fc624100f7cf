"""What a bank's author should know of the variants of one question: how many, how far apart, and how even."""

import math
from dataclasses import dataclass

import numpy as np

from witnessmark.questions.checking.evenness import Shares, conversions, figures_of_results, judged_yes
from witnessmark.questions.checking.method_clashes import (
    Known,
    Meeting,
    Pair,
    PowerPair,
    held_to,
    meetings,
    meetings_on_sheet,
    pairs,
    power_pairs,
)
from witnessmark.questions.drawing.draw import COUNTED_SPACE, SAMPLED
from witnessmark.questions.drawing.separation import (
    Truth,
    apart,
    apart_on_the_sheet,
    clashes,
    clear_counts,
    clear_judgements,
    clear_sizes,
    keeps,
    uneven_numbers,
)
from witnessmark.questions.drawing.space import Pick, choices, columns_of, nth_pick, pick_of, variant_at
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES

PRINTED = 24
"""How many variants are written out in full to count their conversions."""


@dataclass(frozen=True, slots=True)
class Spread:
    """The variants of a question: all, those that keep what it asks, and those that may be issued.

    Shares are of those that keep what it asks: `separable`, and each of `lost`, the reasons not to issue one (a variant
    can have several). `counted`: every variant was looked at; else these are estimates from a sample. `figures`,
    `conversions` (least, most) and `judged` are of those that may be issued; `never_drawn` are the values and rows, by
    what is drawn, that none of those has (empty where not every variant was looked at).
    """

    variants: int
    kept: int
    issuable: int
    counted: bool
    separable: float
    lost: tuple[tuple[str, float], ...]
    meetings: tuple[Meeting, ...]
    pairs: tuple[Pair, ...]
    power_pairs: tuple[PowerPair, ...]
    figures: tuple[tuple[str, Shares], ...]
    conversions: tuple[int, int]
    judged: tuple[tuple[str, float], ...]
    never_drawn: tuple[tuple[str, tuple[str, ...]], ...] = ()


def spread(question: Question, figures: int = DEFAULT_FIGURES) -> Spread:
    """The spread of a question where results are asked to so many figures."""
    picks, total = _looked_at(question)
    columns = columns_of(question, picks)
    held = np.flatnonzero(keeps(question, columns, len(picks)))
    kept, size = {name: values[held] for name, values in columns.items()}, len(held)
    found = held_to(clashes(question, kept, size, figures), question, kept)
    stops = {
        "methods meet": ~apart(found, size),
        "judgement unclear": ~clear_judgements(question, kept, size, figures),
        "size unclear": ~clear_sizes(question, kept, size, figures),
        "count unclear": ~clear_counts(question, kept, size, figures),
        "values offered too near": ~apart_on_the_sheet(question, kept, size),
        "plain number": uneven_numbers(question, kept, size),
    }
    may = np.flatnonzero(~np.logical_or.reduce(list(stops.values())))
    issued = {name: values[may] for name, values in kept.items()}
    counted = len(picks) == total
    met = [*meetings(found, size), *meetings_on_sheet(question, kept, size)]
    return Spread(
        total, _of_all(size, len(picks), total), _of_all(len(may), len(picks), total), counted,
        1 - _share(stops["methods meet"]), tuple((why, _share(rows)) for why, rows in stops.items()),
        tuple(sorted(met, key=lambda m: -m.share)),
        pairs(question, found, kept, Known.EVERY_VARIANT if counted else Known.SAMPLE) if size else (),
        power_pairs(question), figures_of_results(question, issued, len(may)),
        _conversions(question, [picks[held[i]] for i in may[:PRINTED]]), judged_yes(question, issued, len(may)),
        _never_drawn(question, [picks[held[i]] for i in may]) if counted else (),
    )  # fmt: skip


def _looked_at(question: Question) -> tuple[list[Pick], int]:
    """Every variant where the space is small, else a sample; and how many there are."""
    counts = [c.count for c in choices(question)]
    total = math.prod(counts)
    if total <= COUNTED_SPACE:
        return [nth_pick(counts, n) for n in range(total)], total
    return [pick_of(counts, f"sample|{i}") for i in range(SAMPLED)], total


def _of_all(count: int, looked_at: int, total: int) -> int:
    return count if looked_at == total else int(total * count / looked_at)


def _share(rows: Truth) -> float:
    return float(rows.mean()) if rows.size else 0.0


def _never_drawn(question: Question, issuable: list[Pick]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    found = []
    for position, choice in enumerate(choices(question)):
        drawn = {pick[position] for pick in issuable}
        names = choice.rows or tuple(f"{value} {choice.unit}".strip() for value in choice.values)
        never = tuple(name for index, name in enumerate(names) if index not in drawn)
        if never:
            found.append((choice.name, never))
    return tuple(found)


def _conversions(question: Question, picks: list[Pick]) -> tuple[int, int]:
    found = [conversions(variant_at(question, pick)) for pick in picks] or [0]
    return min(found), max(found)
