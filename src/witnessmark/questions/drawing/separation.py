"""Which variants can be diagnosed: columns of givens in, for each row whether every method's numbers stay apart.

A row is separable when, at every line and result, the envelope of right values and the envelope of each slip do not
meet, nor those of two slips. Two slips that are the same number in every variant are exempt (`check` lists them); that
is judged on a sample of the question's own variants, so that it does not hang on what else is looked at.
"""

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.same_object import SameObject
from witnessmark.maths.syntax import is_count, names_in, steps_in
from witnessmark.questions.drawing.space import choices, columns_of, pick_of
from witnessmark.questions.model.kinds import judged_by, right_trees, standards_in, value_choices_in, wrong_trees
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.chosen_sizes import is_listed, places_between, value_slips
from witnessmark.questions.working.evaluation import (
    can_work,
    names_between,
    names_in_full,
    number_of,
    span_of,
)
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.working import ALL_CONSTANTS, Columns, envelopes, worked

Truth = npt.NDArray[np.bool_]
ALWAYS_SAME = 1e-9
PLAIN_FIGURES = 1
SAMPLE = 64
PICKS = (SAMPLE, 8 * SAMPLE, 64 * SAMPLE)
OFFERED_APART = 0.02  # as a share; wide enough for whoever works with 3.14 and rounds on the way


@dataclass(frozen=True, slots=True)
class Clash:
    """Two methods of a place whose numbers meet: the place, both methods, the rows, and whether every variant's do."""

    key: str
    methods: tuple[Method, Method]
    rows: Truth
    always: bool

    @property
    def first(self) -> str:
        """`right`, or the misconceptions of the first method."""
        return name_of(self.methods[0])

    @property
    def second(self) -> str:
        """The misconceptions of the second."""
        return name_of(self.methods[1])


def clashes(question: Question, givens: Columns, size: int, figures: int) -> tuple[Clash, ...]:
    """Every pair of methods that meet in at least one row, place by place."""
    right, bounds = worked(question, givens), envelopes(question, givens, figures)
    full, between = names_in_full(question, givens, right), names_between(question, givens, bounds)
    known, sample = dimensions(question), names_of_sample(question)
    found: list[Clash] = []
    for place in places(question, figures):
        if place.key not in right:
            continue
        methods = [m for m in methods_at(place, known) if can_work(m, full)]
        spans = [span_in(m, between, known, size) for m in methods]
        for i, j in itertools.combinations(range(len(methods)), 2):
            rows = _meet(spans[i], spans[j])
            if methods[i].misconceptions != methods[j].misconceptions and rows.any():
                always = same_numbers(*(number_of(methods[k], sample, known) for k in (i, j)))
                found.append(Clash(place.key, (methods[i], methods[j]), rows, always))
    return tuple(found)


def separable(question: Question, givens: Columns, size: int, figures: int) -> Truth:
    """True for rows in which no two methods meet (pairs that are always the same number aside)."""
    return apart(clashes(question, givens, size, figures), size)


def apart(found: Iterable[Clash], size: int) -> Truth:
    """The same of clashes that have been found."""
    result = np.ones(size, np.bool_)
    for clash in found:
        if not clash.always or clash.methods[0].is_right:
            result &= ~clash.rows
    return result


def keeps(question: Question, givens: Columns, size: int) -> Truth:
    """True for rows that satisfy every `keep` and whose right values are all finite and not zero."""
    result = np.ones(size, np.bool_)
    names = {**ALL_CONSTANTS, **givens}
    for tree in question.keep:
        if names_in(tree) <= names.keys():
            result &= np.broadcast_to(np.asarray(compiled(tree)(names), np.bool_), size)
    for value in worked(question, givens).values():
        result &= np.broadcast_to(np.isfinite(value) & (value != 0), size)
    return result


def clear_judgements(question: Question, givens: Columns, size: int, figures: int) -> Truth:
    """True for rows where no rounding can turn a judgement round: the two sides' envelopes do not meet."""
    names = names_between(question, givens, envelopes(question, givens, figures))
    result = np.ones(size, np.bool_)
    for part in question.parts:
        judged = judged_by(part)
        if judged is not None and names_in(judged) <= names.keys():
            sides = interval_of(judged.left)(names), interval_of(judged.right)(names)
            result &= ~_meet(*((np.broadcast_to(a, size), np.broadcast_to(b, size)) for a, b in sides))
    return result


def clear_sizes(question: Question, givens: Columns, size: int, figures: int) -> Truth:
    """True for rows where every size to be chosen is one of the list whatever is rounded, and no slip chooses it."""
    result = np.ones(size, np.bool_)
    standards = standards_in(question.parts)
    names = names_between(question, givens, envelopes(question, givens, figures)) if standards else {}
    for part in standards:
        if names_in(part.value) <= names.keys():
            first, last = places_between(part, part.value, names, size)
            result &= (first == last) & is_listed(part, first)
            for slip in value_slips(part, names):
                wrong = places_between(part, slip.answer, names, size)
                result &= ~_meet((first, last), wrong)
    return result


def clear_counts(question: Question, givens: Columns, size: int, figures: int) -> Truth:
    """True for rows where no rounding on the way leads to another whole number than what is right."""
    result = np.ones(size, np.bool_)
    steps = [(part, step) for part in question.quantities for tree in right_trees(part) for step in steps_in(tree)]
    ends = envelopes(question, givens, figures) if steps else {}
    names = names_between(question, givens, ends)
    for part, step in steps:
        own = {line.name: ends[f"{part.key}.{line.name}"] for line in part.lines if f"{part.key}.{line.name}" in ends}
        if names_in(step) <= names.keys() | own.keys():
            low, high = interval_of(step)(names | own)
            result &= np.broadcast_to(low == high, size)
    return result


def apart_on_the_sheet(question: Question, givens: Columns, size: int) -> Truth:
    """True for rows where the values that a choice offers stay apart by OFFERED_APART; those always the same aside."""
    result = np.ones(size, np.bool_)
    offering = value_choices_in(question.parts)
    names = names_in_full(question, givens) if offering else {}
    sample = names_of_sample(question) if offering else {}
    for part in offering:
        trees = [part.answer, *wrong_trees(part)]
        for first, second in itertools.combinations([compiled(tree) for tree in trees], 2):
            near = np.broadcast_to(near_on_the_sheet(first(names), second(names)), (size,))
            result &= ~near | same_numbers(first(sample), second(sample))
    return result


def near_on_the_sheet(first: Array, second: Array) -> Truth:
    """True where two values lie too near each other to be offered both."""
    with np.errstate(all="ignore"):
        gap = np.abs(first - second) / np.maximum(np.abs(first), np.abs(second))
    return np.asarray(~(gap > OFFERED_APART), np.bool_)


def uneven_numbers(question: Question, givens: Columns, size: int) -> Truth:
    """True for rows where a result is a plain number by accident (one figure says it all), easier than the others'."""
    result = np.zeros(size, np.bool_)
    right = worked(question, givens)
    for part in question.quantities:
        if part.key in right and not is_count(part.answer):
            u = unit(part.unit)
            number = (right[part.key] - u.offset) / u.scale
            with np.errstate(all="ignore"):
                plain = np.abs(to_figures(number, PLAIN_FIGURES) / number - 1) < ALWAYS_SAME
            result |= np.broadcast_to(plain, size)
    return result


def span_in(
    method: Method, between: Mapping[str, Interval], known: Mapping[str, Dimension], size: int
) -> tuple[Array, Array]:
    """The envelope of a method (SI), each end of shape (size,); `between` are the intervals of names."""
    low, high = span_of(method, between, known)
    return np.broadcast_to(low, size), np.broadcast_to(high, size)


def meets_but_for_tens(value: Array, spans: Iterable[Interval]) -> Truth:
    """True where a value, or a power of ten of it, lies in one of these spans; shape of `value`."""
    met = np.zeros(np.shape(value), np.bool_)
    for low, high in spans:
        with np.errstate(all="ignore"):
            shifted = value * 10.0 ** np.round(np.log10(np.abs((low + high) / 2 / value)))
        met |= (shifted >= low) & (shifted <= high)
    return met


def _meet(first: Interval, second: Interval) -> Truth:
    result: Truth = (first[0] <= second[1]) & (second[0] <= first[1])
    return result


def same_numbers(first: Array, second: Array) -> bool:
    """True where two columns hold the same numbers (nan and inf in the same rows), and some number at all."""
    with np.errstate(all="ignore"):
        near = np.abs(first - second) <= ALWAYS_SAME * np.maximum(np.abs(first), np.abs(second))
    whole = np.isfinite(first) & np.isfinite(second)
    neither = ~np.isfinite(first) & ~np.isfinite(second)
    return bool(np.all(near & whole | neither) and np.any(whole))


def name_of(method: Method) -> str:
    """`right`, or the misconceptions of a method."""
    return "right" if method.is_right else " + ".join(method.misconceptions)


def names_of_sample(question: Question) -> dict[str, Array]:
    """Every name of a final expression over a fixed sample of variants that keep what the question asks.

    At most SAMPLE rows; where nothing is kept, of variants that are not.
    """
    return _sampled(SameObject(question))


@lru_cache(maxsize=256)
def _sampled(same: SameObject[Question]) -> dict[str, Array]:
    question = same.it
    counts = [choice.count for choice in choices(question)]
    for count in PICKS:
        givens = columns_of(question, [pick_of(counts, f"likeness|{i}") for i in range(count)])
        kept = np.flatnonzero(keeps(question, givens, count))[:SAMPLE]
        if len(kept) == SAMPLE:
            break
    rows = kept if len(kept) else np.arange(SAMPLE)
    givens = {name: values[rows] for name, values in givens.items()}
    return names_in_full(question, givens)
