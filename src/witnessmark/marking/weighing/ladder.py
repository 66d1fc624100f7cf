"""The ladder for one place on columns: from numbers to marks, verdict, the explanation named and how sure that is."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.digits import Numbers, Rows
from witnessmark.marking.weighing.habits import Own
from witnessmark.marking.weighing.weighing import Fits, Setting, likelihood_of_none, weigh
from witnessmark.marking.weights import PRIOR_OF_KIND, PRIOR_OF_NONE, TIE_SHARE
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.rounding import half_unit
from witnessmark.questions.model.parts import Line
from witnessmark.questions.sheet.task import Rules

UNNAMED = -1
RIGHT = 0  # where the right method stands among the candidates
HUNDREDTHS = 100
TELLING_FIGURES = 7
"""A longer tail, as calculators show it, says no more of whether a number is right."""


@dataclass(frozen=True, slots=True)
class Climbed:
    """The result of the ladder at one place, all of shape (n,).

    `named` indexes `candidates` (-1: none); `marks` are hundredths; `tied` tells that another explanation with other
    marks or another name is nearly as good. `fits` keeps every explanation of the entries that are not right.
    """

    named: Rows
    marks: npt.NDArray[np.int64]
    sure: Array
    tied: npt.NDArray[np.bool_]
    fits: Fits
    candidates: Sequence[Hypothesis]


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
    named[right], marks[right] = RIGHT, hundredths(rung.candidates[0].marks)
    sure[right] = _sure_of_right(numbers, rung)[right]
    open_rows = np.flatnonzero(~right & np.isfinite(numbers.si))
    if not open_rows.size:
        return Climbed(named, marks, sure, tied, _no_fits(n), rung.candidates)
    fits = weigh(numbers.only(open_rows), setting.only(open_rows), rung.candidates, rung.right[open_rows])
    chosen = _choose(fits, rung, len(open_rows))
    named[open_rows], marks[open_rows], sure[open_rows], tied[open_rows] = chosen
    climbed = Climbed(named, marks, sure, tied, _spread(fits, open_rows, n), rung.candidates)
    doubtful = open_rows[(chosen[0] < 0) | (chosen[2] < rung.rules.ask_below)]
    return _climb_on(numbers, setting, rung, climbed, doubtful) if doubtful.size else climbed


def _climb_on(numbers: Numbers, setting: Setting, rung: Rung, first: Climbed, rows: Rows) -> Climbed:
    """Entries that the first rungs leave in doubt, weighed again with every edit of the right method beside them."""
    wider = replace(rung, candidates=(*rung.candidates, *rung.further()))
    fits = weigh(numbers.only(rows), setting.only(rows), wider.candidates, rung.right[rows])
    named, marks, sure, tied = first.named.copy(), first.marks.copy(), first.sure.copy(), first.tied.copy()
    named[rows], marks[rows], sure[rows], tied[rows] = _choose(fits, wider, len(rows))
    kept = ~np.isin(first.fits.row, rows)
    again = _spread(fits, rows, len(named))
    none = first.fits.none.copy()
    none[rows] = again.none[rows]
    both = Fits(
        np.concatenate([first.fits.row[kept], again.row]),
        np.concatenate([first.fits.hypothesis[kept], again.hypothesis]),
        np.concatenate([first.fits.posterior[kept], again.posterior]),
        none,
    )
    return Climbed(named, marks, sure, tied, both, wider.candidates)


def hundredths(marks: Decimal) -> int:
    """Marks as whole hundredths."""
    return int(marks * HUNDREDTHS)


def _sure_of_right(numbers: Numbers, rung: Rung) -> Array:
    """The posterior of right inside its envelope, where the draw keeps every modelled slip out."""
    with np.errstate(all="ignore"):
        some = replace(numbers, figures=np.minimum(numbers.figures, TELLING_FIGURES))
        step = 2 * half_unit(some.written, some.figures) * np.abs(some.scale)
        width = rung.envelope[1] - rung.envelope[0] + step
        weight = PRIOR_OF_KIND["right"] * step / width
        none = PRIOR_OF_NONE * likelihood_of_none(some, rung.right)
        return np.asarray(np.nan_to_num(weight / (weight + none), nan=1.0))


def wrong_lines_used(h: Hypothesis, own_lines: Sequence[Line | None]) -> tuple[Line, ...]:
    """The own wrong lines that a hypothesis starts from; a line that its working passes by costs it nothing."""
    lines = [line for i in h.carried if (line := own_lines[i]) is not None]
    return tuple(line for line in lines if line.name in h.method.uses) if lines else ()


def marks_of(h: Hypothesis, rung: Rung) -> int:
    """Hundredths that a hypothesis earns: less the marks of own wrong lines that it starts from."""
    lost = sum((line.marks for line in wrong_lines_used(h, rung.own_lines)), Decimal(0))
    return hundredths(max(h.marks - lost, Decimal(0)))


def _choose(fits: Fits, rung: Rung, n: int) -> tuple[Rows, npt.NDArray[np.int64], Array, npt.NDArray[np.bool_]]:
    """For each entry the likeliest explanation; where others come near, the kindest of them, marked as tied.

    An entry that "none of these" explains better than any method stays unnamed.
    """
    marks_by = np.array([marks_of(h, rung) for h in rung.candidates], np.int64)
    top = np.zeros(n)
    np.maximum.at(top, fits.row, fits.posterior)
    explained = top > fits.none
    close = (fits.posterior >= top[fits.row] * TIE_SHARE) & explained[fits.row]
    rows, which, weight = fits.row[close], fits.hypothesis[close], fits.posterior[close]
    order = np.lexsort((weight, marks_by[which], rows))
    last = np.flatnonzero(np.r_[np.diff(rows[order]) != 0, True]) if rows.size else np.empty(0, np.intp)
    named = np.full(n, UNNAMED, np.intp)
    marks, sure = np.zeros(n, np.int64), fits.none.copy()
    kindest = order[last]
    named[rows[kindest]] = which[kindest]
    marks[rows[kindest]] = marks_by[which[kindest]]
    sure[rows[kindest]] = _sure_of_name(fits, rung, named)[rows[kindest]]
    tied = np.bincount(rows, minlength=n) > 1 if rows.size else np.zeros(n, np.bool_)
    return named, marks, sure, tied & _differs(rows, which, rung, n)


def _names(h: Hypothesis) -> tuple[Verdict, tuple[str, ...]]:
    return h.verdict, h.method.misconceptions


def _sure_of_name(fits: Fits, rung: Rung, named: Rows) -> Array:
    """The posterior of the name given: every hypothesis with the same verdict and misconceptions counts towards it."""
    groups = {name: i for i, name in enumerate(dict.fromkeys(_names(h) for h in rung.candidates))}
    group_of = np.array([groups[_names(h)] for h in rung.candidates], np.intp)
    same = group_of[fits.hypothesis] == group_of[named[fits.row]]
    total = np.zeros(len(named))
    np.add.at(total, fits.row[same], fits.posterior[same])
    return np.minimum(total, 1.0)


def _differs(rows: Rows, which: Rows, rung: Rung, n: int) -> npt.NDArray[np.bool_]:
    """True for entries whose near explanations do not all bear the same name."""
    groups = {name: i for i, name in enumerate(dict.fromkeys(_names(h) for h in rung.candidates))}
    group_of = np.array([groups[_names(h)] for h in rung.candidates], np.intp)
    least, most = np.full(n, len(groups)), np.full(n, -1)
    np.minimum.at(least, rows, group_of[which])
    np.maximum.at(most, rows, group_of[which])
    result: npt.NDArray[np.bool_] = most > least
    return result


def _no_fits(n: int) -> Fits:
    empty = np.empty(0, np.intp)
    return Fits(empty, empty, np.empty(0), np.zeros(n))


def _spread(fits: Fits, rows: Rows, n: int) -> Fits:
    none = np.zeros(n)
    none[rows] = fits.none
    return replace(fits, row=rows[fits.row], none=none)


def own_result(names: tuple[str, ...], values: Array, full: Array, named: Rows, half: Array, written: Array) -> Own:
    """A student's own earlier result (SI) as it may be carried; `full` is the right value in full."""
    right = named == RIGHT
    return Own(names, np.where(right, np.nan, values), half, written, np.where(right, values, full), right)
