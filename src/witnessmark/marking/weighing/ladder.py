"""The ladder for one place on columns: from numbers to marks, verdict, the explanation named and how sure that is."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property, partial
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.digits import Numbers, Rows, evenly_among
from witnessmark.marking.weighing.setting import Setting
from witnessmark.marking.weighing.weighing import Fits, Weights, fits_of, likelihood_of_none, used_of, weights_of
from witnessmark.marking.weights import MOST_SURE, MOST_SURE_OF_EDIT, PRIOR_OF_KIND, PRIOR_OF_NONE, TIE_SHARE
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.syntax import Tree
from witnessmark.questions.model.parts import Line
from witnessmark.questions.sheet.task import Rules

Truth = npt.NDArray[np.bool_]
UNNAMED = -1
RIGHT = 0  # where the right method stands among the candidates
HUNDREDTHS = 100
FAR_FETCHED = 1e-4
"""Of a prior times a likelihood: below it an edit or two slips of another dimension may well be likelier, however sure
an explanation looks beside the others of the first rungs."""
SELDOM_ALONE = frozenset({"not converted"})
"""Kinds that no answer is named for before every edit was weighed: millimetres taken for metres in one term of a sum
is, to its digits, that term left out."""
TELLING_FIGURES = 7
"""A longer tail, as calculators show it, says no more of whether a number is right."""


@dataclass(frozen=True)
class Climbed:
    """The result of the ladder at one place, all of shape (n,).

    `named` indexes `candidates` (-1: none); `marks` are hundredths; `tied` tells that another explanation with other
    marks or another name is nearly as good. `fits` keeps every explanation of the entries that are not right.
    """

    named: Rows
    marks: npt.NDArray[np.int64]
    sure: Array
    tied: npt.NDArray[np.bool_]
    find_fits: Callable[[], Fits]
    candidates: Sequence[Hypothesis]

    @cached_property
    def fits(self) -> Fits:
        """Every explanation, put together when it is first asked for: most are never looked at."""
        return self.find_fits()

    def only(self, rows: Rows) -> "Climbed":
        """These rows of it, each as often as it is named."""
        named, marks, sure, tied = self.named[rows], self.marks[rows], self.sure[rows], self.tied[rows]
        return Climbed(named, marks, sure, tied, lambda: self.fits.of_rows(rows), self.candidates)


@dataclass(frozen=True, slots=True)
class Rung:
    """What one climb needs to know of its place. `further` gives the hypotheses of rung 7, made only when needed."""

    candidates: Sequence[Hypothesis]
    further: Callable[[], Sequence[Hypothesis]]
    right: Array
    envelope: Interval
    own_lines: tuple[Line | None, ...]
    rules: Rules


def climb(numbers: Numbers, setting: Setting, rung: Rung) -> Climbed:
    """Marks and names for every entry; nan entries are left unnamed with no marks."""
    n = len(numbers.si)
    named = np.full(n, UNNAMED, np.intp)
    marks, tied = np.zeros(n, np.int64), np.zeros(n, np.bool_)
    sure = np.ones(n)
    right = (numbers.si >= rung.envelope[0]) & (numbers.si <= rung.envelope[1])
    rows = np.flatnonzero(right)
    named[rows], marks[rows] = RIGHT, hundredths(rung.candidates[0].marks)
    sure[rows] = _sure_of_right(numbers.only(rows), rung.right[rows], (rung.envelope[1] - rung.envelope[0])[rows])
    open_rows = np.flatnonzero(~right & np.isfinite(numbers.si))
    if not open_rows.size:
        return Climbed(named, marks, sure, tied, partial(_no_fits, n), rung.candidates)
    some = replace(rung, right=rung.right[open_rows])
    chosen, fits, candidates = _weighed(numbers.only(open_rows), setting.only(open_rows), some)
    named[open_rows], marks[open_rows] = chosen.named, chosen.marks
    sure[open_rows], tied[open_rows] = chosen.sure, chosen.tied
    return Climbed(named, marks, sure, tied, partial(_spread, fits, candidates, open_rows, n), candidates)


def _weighed(numbers: Numbers, setting: Setting, rung: Rung) -> tuple["_Chosen", Fits, Sequence[Hypothesis]]:
    """The choice among what the first rungs hold; where they leave doubt, or nothing but what is far fetched or a unit
    left as it is, among every edit of the right method too."""
    candidates = rung.candidates
    weights = weights_of(numbers, setting, candidates)
    fits = fits_of(weights, numbers, candidates, rung.right)
    chosen = _choose(fits, candidates, rung.own_lines, len(rung.right))
    doubtful = np.flatnonzero(
        (chosen.named < 0)
        | (chosen.sure < rung.rules.ask_below)
        | np.array([h.kind in SELDOM_ALONE for h in candidates] + [False])[chosen.named]
        | (_best_weight(weights, len(rung.right)) < FAR_FETCHED)
    )
    if doubtful.size:
        candidates = (*candidates, *rung.further())
        again = _weighed_on(numbers, setting, rung, candidates, weights.of_rows(doubtful), doubtful)
        chosen.put(doubtful, _choose(again, candidates, rung.own_lines, doubtful.size))
        fits = _joined(fits, again, doubtful)
    return chosen, fits, candidates


def _best_weight(weights: Weights, n: int) -> Array:
    best = np.zeros(n)
    np.maximum.at(best, weights.row, weights.weight)
    return best


def _weighed_on(
    numbers: Numbers, setting: Setting, rung: Rung, candidates: Sequence[Hypothesis], first: Weights, rows: Rows
) -> Fits:
    """Entries that the first rungs leave in doubt, set against every edit of the right method as well."""
    some, count = numbers.only(rows), len(rung.candidates)
    further = weights_of(some, setting.only(rows), candidates[count:])
    return fits_of(further.beside(first, count), some, candidates, rung.right[rows])


def _joined(fits: Fits, again: Fits, rows: Rows) -> Fits:
    """The fits, those of some rows taken from a second weighing of them."""
    kept = ~np.isin(fits.row, rows)
    none = fits.none.copy()
    none[rows] = again.none
    return Fits(
        np.concatenate([fits.row[kept], rows[again.row]]),
        np.concatenate([fits.hypothesis[kept], again.hypothesis]),
        np.concatenate([fits.posterior[kept], again.posterior]),
        none,
    )


def hundredths(marks: Decimal) -> int:
    """Marks as whole hundredths."""
    return int(marks * HUNDREDTHS)


def _sure_of_right(numbers: Numbers, right: Array, width: Array) -> Array:
    """The posterior of right inside its envelope, where the draw keeps every modelled slip out; of a nought, which has
    no digits to be weighed by, as much as there can be."""
    with np.errstate(all="ignore"):
        some = replace(numbers, figures=np.minimum(numbers.figures, TELLING_FIGURES))
        weight = PRIOR_OF_KIND["right"] * evenly_among(some, width)
        none = PRIOR_OF_NONE * likelihood_of_none(some, right)
        likely = np.where(numbers.written == 0, 1.0, weight / (weight + none))
        return np.asarray(MOST_SURE * np.nan_to_num(likely, nan=1.0))


def wrong_lines_used(h: Hypothesis, own_lines: Sequence[Line | None]) -> tuple[Line, ...]:
    """The own wrong lines that a hypothesis starts from; a line that its working passes by costs it nothing."""
    lines = [line for i in h.carried if (line := own_lines[i]) is not None]
    return tuple(line for line in lines if line.name in h.method.uses) if lines else ()


def marks_of(h: Hypothesis, own_lines: Sequence[Line | None]) -> int:
    """Hundredths that a hypothesis earns: less the marks of own wrong lines that it starts from."""
    lost = sum((line.marks for line in wrong_lines_used(h, own_lines)), Decimal(0))
    return hundredths(max(h.marks - lost, Decimal(0)))


@dataclass(frozen=True, slots=True)
class _Chosen:
    """The choice for each of some entries, as in `Climbed`."""

    named: Rows
    marks: npt.NDArray[np.int64]
    sure: Array
    tied: Truth

    def put(self, rows: Rows, other: "_Chosen") -> None:
        """Take over another choice for these rows."""
        self.named[rows], self.marks[rows] = other.named, other.marks
        self.sure[rows], self.tied[rows] = other.sure, other.tied


def _choose(fits: Fits, candidates: Sequence[Hypothesis], own_lines: Sequence[Line | None], n: int) -> _Chosen:
    """For each entry the likeliest explanation; where others come near, the kindest of them, marked as tied.

    An entry that "none of these" explains better than any method stays unnamed.
    """
    used, of_fit = used_of(fits.hypothesis)
    marks_of_fit = np.array([marks_of(candidates[i], own_lines) for i in used], np.int64)[of_fit]
    named_by_fit = _groups([_name(candidates[i]) for i in used])[of_fit]
    method_of_fit = _groups([_method(candidates[i]) for i in used])[of_fit]
    top = np.zeros(n)
    np.maximum.at(top, fits.row, fits.posterior)
    explained = top > fits.none
    close = np.flatnonzero((fits.posterior >= top[fits.row] * TIE_SHARE) & explained[fits.row])
    rows = fits.row[close]
    kindest = _last_of_each(fits.row, _most_of_each(fits.row, fits.posterior, _most_of_each(
        fits.row, marks_of_fit, close, n), n), n)  # fmt: skip
    at = fits.row[kindest]
    named, method = np.full(n, UNNAMED, np.intp), np.full(n, UNNAMED, np.intp)
    marks, sure = np.zeros(n, np.int64), fits.none.copy()
    named[at], method[at], marks[at] = fits.hypothesis[kindest], method_of_fit[kindest], marks_of_fit[kindest]
    sure[at] = _sure_of_method(fits, method_of_fit, method)[at] * _most_sure(candidates)[named[at]]
    return _Chosen(named, marks, sure, _differs(rows, named_by_fit[close], n))


def _most_of_each(row: Rows, of_fit: npt.NDArray[Any], some: Rows, n: int) -> Rows:
    """Those of some fits that have the most among those of their entry."""
    most = np.full(n, np.iinfo(np.int64).min if of_fit.dtype.kind == "i" else -np.inf, of_fit.dtype)
    np.maximum.at(most, row[some], of_fit[some])
    found: Rows = some[of_fit[some] == most[row[some]]]
    return found


def _last_of_each(row: Rows, some: Rows, n: int) -> Rows:
    """The last of some fits (ascending) for each entry that has any."""
    last = np.full(n, UNNAMED, np.intp)
    last[row[some]] = some
    return last[last >= 0]


Name = tuple[Verdict, tuple[str, ...]]
MethodName = tuple[Verdict, tuple[str, ...], Tree | None]


def _name(h: Hypothesis) -> Name:
    return h.verdict, h.method.misconceptions


def _method(h: Hypothesis) -> MethodName:
    """The name without regard to how early the right working was rounded; of an edit, which one it is: that is told."""
    verdict, misconceptions = _name(h)
    known = Verdict.RIGHT if verdict is Verdict.ROUNDED_EARLY else verdict
    return known, misconceptions, h.method.formula if verdict is Verdict.EDIT else None


def _groups(names: Sequence[Hashable]) -> Rows:
    """A number for each name, the same for the same."""
    numbers = {name: i for i, name in enumerate(dict.fromkeys(names))}
    return np.array([numbers[name] for name in names], np.intp)


def _sure_of_method(fits: Fits, method_of_fit: Rows, method: Rows) -> Array:
    """The posterior of the method that is named: every hypothesis of it counts."""
    same = method_of_fit == method[fits.row]
    total = np.zeros(len(method))
    np.add.at(total, fits.row[same], fits.posterior[same])
    return np.minimum(total, 1.0)


def _most_sure(candidates: Sequence[Hypothesis]) -> Array:
    """How sure the name of each can be at most."""
    return np.array([MOST_SURE_OF_EDIT if h.verdict is Verdict.EDIT else MOST_SURE for h in candidates])


def _differs(rows: Rows, groups: Rows, n: int) -> Truth:
    """True for entries whose near explanations do not all bear the same name."""
    least, most = np.full(n, groups.max(initial=0) + 1), np.full(n, -1)
    np.minimum.at(least, rows, groups)
    np.maximum.at(most, rows, groups)
    return np.asarray(most > least, np.bool_)


def _no_fits(n: int) -> Fits:
    empty = np.empty(0, np.intp)
    return Fits(empty, empty, np.empty(0), np.zeros(n))


def _spread(fits: Fits, candidates: Sequence[Hypothesis], rows: Rows, n: int) -> Fits:
    """The fits of some of n entries as they are told; what no name may have is left to none of these."""
    posterior, none = fits.posterior * _most_sure(candidates)[fits.hypothesis], np.zeros(n)
    none[rows] = 1 - np.bincount(fits.row, posterior, minlength=rows.size)
    return replace(fits, row=rows[fits.row], posterior=posterior, none=none)
