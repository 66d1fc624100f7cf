"""Marking the numbers of one question on columns: every line and result in order, each carried into the next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.hypotheses.plan import Plan, plan_of
from witnessmark.marking.kinds.alike import Alike, alike_at
from witnessmark.marking.kinds.commas import NO_COMMAS, Commas, by_habit
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.class_priors import ClassPriors, sharpened
from witnessmark.marking.weighing.digits import Numbers, digits_of, picked
from witnessmark.marking.weighing.habits import IN_FULL, Before, Own, Ways
from witnessmark.marking.weighing.ladder import RIGHT, Climbed, Rung, climb, hundredths, marks_of
from witnessmark.marking.weighing.likelihood import Setting, likeliest_before
from witnessmark.marking.weighing.weighing import room_of
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import is_count
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import Line
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.evaluation import before_rounding, names_between, names_in_full, number_of
from witnessmark.questions.working.methods import NumberPlace, dimension_worked
from witnessmark.questions.working.working import Columns, envelopes, widened_as_written, worked
from witnessmark.reading.column.columns import ColumnReading, read_column
from witnessmark.reading.column.texts import texts_at

Hundredths = npt.NDArray[np.int64]
Rows = npt.NDArray[np.intp]
RIGHT_IN_METHOD = (Verdict.RIGHT, Verdict.CARRIED_FORWARD)
SAME_SCALE = 1e-9
FIGURES_THAT_PART = 4
NOUGHT = 1e-6  # as a share of the right value
UNITS_THAT_NEED_NO_WORD = ("", "strain")


@dataclass(frozen=True, slots=True)
class Bench:
    """What is worked once for a question and its columns: right values, envelopes, ways of working, names."""

    question: Question
    rules: Rules
    givens: Columns
    worked: dict[str, Array]
    envelopes: dict[str, Interval]
    ways: Ways
    names: dict[str, Array]
    plan: Plan
    size: int
    priors: ClassPriors | None = None
    told: Rows | None = None

    def only(self, rows: Rows) -> "Bench":
        """These rows of it, no two of which are the same."""
        givens, right, names = ({k: v[rows] if np.ndim(v) else v for k, v in columns.items()}
                                for columns in (self.givens, self.worked, self.names))  # fmt: skip
        wide = {k: (low[rows], high[rows]) for k, (low, high) in self.envelopes.items()}
        ways, size = self.ways.only(rows), len(rows)
        return replace(self, givens=givens, worked=right, envelopes=wide, ways=ways, names=names, size=size, told=None)


def bench(
    question: Question, givens: Columns, rules: Rules, size: int, priors: ClassPriors | None = None,
    told: Rows | None = None,
) -> Bench:  # fmt: skip
    """The bench of a question for columns of givens (SI arrays of shape (size,)); `priors` are those of a class, `told`
    numbers that are the same for rows with the same givens."""
    right = {k: np.broadcast_to(v, (size,)) for k, v in worked(question, givens).items()}
    bounds = envelopes(question, givens, rules.figures)
    wide = {k: (np.broadcast_to(a, (size,)), np.broadcast_to(b, (size,))) for k, (a, b) in bounds.items()}
    columns = {name: np.broadcast_to(values, (size,)) for name, values in givens.items()}
    names = names_in_full(question, givens, right)
    plan = plan_of(question, rules, frozenset(names))
    ways = Ways(question, columns, np.arange(size))
    return Bench(question, rules, givens, right, wide, ways, names, plan, size, priors, told)


@dataclass(frozen=True, slots=True)
class PlaceMarked:
    """One place marked: arrays of shape (n,). `candidate` tells which reading won; `marks` are hundredths, with what a
    missing or foreign unit costs taken off, and where the task says so, what figures other than asked cost
    (`other_figures`); `climbed` has one climb for each candidate reading."""

    place: NumberPlace
    candidates: Sequence[Hypothesis]
    reading: ColumnReading
    climbed: tuple[Climbed, ...]
    candidate: npt.NDArray[np.intp]
    marks: npt.NDArray[np.int64]
    named: npt.NDArray[np.intp]
    numbers: Numbers
    own_lines: tuple[Line | None, ...]
    other_figures: npt.NDArray[np.bool_]

    def only(self, rows: Rows, texts: Sequence[str]) -> "PlaceMarked":
        """These rows of it, each as often as it is named; `texts` are what was typed there."""
        return PlaceMarked(
            self.place, self.candidates, self.reading.only(rows, texts), tuple(c.only(rows) for c in self.climbed),
            self.candidate[rows], self.marks[rows], self.named[rows], self.numbers.only(rows), self.own_lines,
            self.other_figures[rows],
        )  # fmt: skip

    @property
    def values(self) -> Array:
        """The values (SI) by the reading that won."""
        return self.numbers.si

    @property
    def unit_fault(self) -> npt.NDArray[np.bool_]:
        """True where the reading that won lacks a unit that it needs, or has one of another dimension."""
        fault = (self.reading.unit_missing & needs_unit(self.place)) | ~self.reading.dimension_fits
        return np.take_along_axis(fault, self.candidate[:, None], axis=1)[:, 0]

    @property
    def mended(self) -> Array:
        """The values without the power of ten or the conversion of units that explains them."""
        factors = np.array([h.factor.value for h in self.candidates] + [1.0])
        zero = unit(self.place.asked.unit).offset
        return np.asarray((self.values - zero) / factors[self.named] + zero)


def needs_unit(place: NumberPlace) -> bool:
    """True where a missing unit costs something: not for pure numbers, in lines, or below a heading that tells it."""
    return place.line is None and not place.part.in_table and place.asked.unit not in UNITS_THAT_NEED_NO_WORD


def mark_numbers(b: Bench, entries: Mapping[str, Sequence[str]], commas: Commas = NO_COMMAS) -> dict[str, PlaceMarked]:
    """Every place whose right value is known, marked; `entries` are texts by key (`a`, `a.A_s`), absent ones blank.

    `commas` tell by row what a comma stands for, where entries of that row leave it in doubt.
    """
    done: dict[str, PlaceMarked] = {}
    owns: dict[str, tuple[Own, Line | None]] = {}
    same: dict[str, Alike | None] = {}
    carried = frozenset(key for place in b.plan.places for key in _before(place))
    alone = Setting(b.names, names_between(b.question, b.givens, b.envelopes), b.ways, (), b.plan.dimensions)
    for place in b.plan.places:
        if place.key in b.worked:
            texts = by_habit(entries.get(place.key) or [""] * b.size, commas, place.asked.unit, b.worked[place.key])
            earlier = [key for key in _before(place) if key in owns]
            setting = replace(alone, own=tuple(owns[key][0] for key in earlier))
            stand = _Stand(place, tuple(owns[key][1] for key in earlier), place.key in carried)
            same[place.key] = alike = alike_at(b.told, texts, [same[key] for key in earlier])
            done[place.key], own = _marked_once(b, stand, texts, setting, alike)
            if own is not None:
                owns[place.key] = (own, place.line)
    return done


@dataclass(frozen=True, slots=True)
class _Stand:
    """A place with the lines that stand before it, and whether it is carried on."""

    place: NumberPlace
    lines: tuple[Line | None, ...]
    is_carried: bool


def _marked_once(
    b: Bench, stand: _Stand, texts: Sequence[str], setting: Setting, alike: Alike | None
) -> tuple[PlaceMarked, Own | None]:
    """The place marked, once for rows that are the same there, and what is carried on from it if anything is."""
    if alike is None:
        marked = _mark_place(b, stand.place, texts, setting, stand.lines)
        return marked, _carried_on(b, setting, marked) if stand.is_carried else None
    firsts, which = alike.firsts, alike.which
    marked, own = _marked_once(b.only(firsts), stand, texts_at(texts, firsts), setting.only(firsts), None)
    return marked.only(which, texts), None if own is None else own.only(which)


def _before(place: NumberPlace) -> tuple[str, ...]:
    """The keys whose own values may be carried into this place: its lines before, and the parts it carries."""
    return tuple(f"{place.part.key}.{line.name}" for line in place.lines_before) + place.part.carries


def _names(place: NumberPlace) -> tuple[str, ...]:
    return (place.line.name,) if place.line else names_of(place.part)


def _carried_on(b: Bench, setting: Setting, marked: PlaceMarked) -> Own:
    """What was entered at a place, as it may be carried on."""
    place, right = marked.place, marked.named == RIGHT
    figures = _best(marked.reading.figures, marked.candidate)
    half, digit = (room_of(marked.values, place.asked.unit, figures, least) for least in (b.rules.figures, IN_FULL))
    values = np.where(right, np.nan, marked.values)
    typed = np.where(right, marked.values, b.worked[place.key])
    return Own(_names(place), values, _before_it_was_rounded(setting, marked), half, digit, typed, right)


def _before_it_was_rounded(setting: Setting, marked: PlaceMarked) -> Before:
    """What the methods that are named for wrong results give; nothing where none is, or digits were mistyped."""
    found, digits = Before.unknown(len(marked.named)), digits_of(marked.numbers)
    for index in np.unique(marked.named[marked.named > RIGHT]):
        h = marked.candidates[index]
        if h.kind != "digits":
            rows = np.flatnonzero(marked.named == index)
            found.put(rows, likeliest_before(h, digits.only(rows), setting.only(rows)))
    return found


def _accepted(b: Bench, place: NumberPlace, numbers: Numbers, setting: Setting, right: Hypothesis) -> Interval:
    """The envelope of right values; wider where the unit written is another scale than the one asked: the figures asked
    hold in the unit that was written."""
    low, high = b.envelopes[place.key]
    other = np.flatnonzero(_on_another_scale(numbers, place.asked.unit))
    if not other.size:
        return low, high
    some, asked = numbers.only(other), place.asked
    exact = before_rounding(right.method, setting.only(other).between)
    rounded = widened_as_written(exact, some.scale, some.offset, np.maximum(some.figures, asked.figures))
    low, high = low.copy(), high.copy()
    low[other] = np.minimum(low[other], rounded[0])
    high[other] = np.maximum(high[other], rounded[1])
    return low, high


def _on_another_scale(numbers: Numbers, asked: str) -> npt.NDArray[np.bool_]:
    """True where no power of ten leads from the unit written to the one asked, so that rounding differs in them."""
    u = unit(asked)
    with np.errstate(all="ignore"):
        tens = np.log10(np.abs(numbers.scale / u.scale))
        other = (np.abs(tens - np.rint(tens)) > SAME_SCALE) | (numbers.offset != u.offset)
    return np.asarray(other, np.bool_)


def _best(columns: npt.NDArray[Any], candidate: npt.NDArray[np.intp]) -> Array:
    chosen: Array = np.take_along_axis(columns, candidate[:, None], axis=1)[:, 0].astype(np.float64)
    return chosen


def _mark_place(
    b: Bench, place: NumberPlace, texts: Sequence[str], setting: Setting, lines: tuple[Line | None, ...]
) -> PlaceMarked:
    candidates = _telling(sharpened(b.plan.candidates(place, len(lines)), place.key, b.priors), place)
    edits = b.plan.further(place, len(lines))
    further = cache(lambda: sharpened(edits(), place.key, b.priors))
    reading = read_column(texts, place.asked.unit, b.worked[place.key])
    rung = Rung(candidates, further, b.worked[place.key], b.envelopes[place.key], lines, b.rules)
    climbs, marks, read, others = [], [], [], []
    for j in range(reading.si.shape[1]):
        numbers = _numbers(reading, j, place)
        climbed = climb(numbers, setting, replace(rung, envelope=_accepted(b, place, numbers, setting, candidates[0])))
        climbed = _with_nought(climbed, numbers, setting, rung)
        climbs.append(climbed)
        others.append(_other_figures(b, place, reading, j, climbed))
        cost = _further_cost(b, climbed, _unit_cost(b, place, reading, j, climbed), others[j])
        marks.append(np.where(np.isfinite(numbers.si), np.maximum(climbed.marks - cost, 0), -1))
        read.append(numbers)
    best = _kindest(marks, climbs)
    pick = best[:, None]
    longest = max((c.candidates for c in climbs), key=len)
    return PlaceMarked(
        place, longest, reading, tuple(climbs), best,
        np.maximum(np.take_along_axis(np.stack(marks, 1), pick, 1)[:, 0], 0),
        np.take_along_axis(np.stack([c.named for c in climbs], 1), pick, 1)[:, 0],
        picked(read, best), lines,
        np.take_along_axis(np.stack(others, 1), pick, 1)[:, 0],
    )  # fmt: skip


def _with_nought(climbed: Climbed, numbers: Numbers, setting: Setting, rung: Rung) -> Climbed:
    """A nought that follows from a student's own earlier results, which has no digits to be weighed by; not from
    noughts, or who types nothing else would have the marks of all that follows."""
    open_rows = (numbers.si == 0) & (climbed.named < 0)
    if not open_rows.any():
        return climbed
    named, marks, sure = climbed.named.copy(), climbed.marks.copy(), climbed.sure.copy()
    for index, h in enumerate(climbed.candidates):
        if h.kind == "carried":
            taken = {name: setting.own[i].values for i in h.carried for name in setting.own[i].names}
            value = np.abs(number_of(h.method, setting.names, setting.dimensions, taken))
            of_something = np.all([own != 0 for own in taken.values()], axis=0)
            found = open_rows & (named < 0) & of_something & (value <= NOUGHT * np.abs(rung.right))
            named[found], marks[found], sure[found] = index, marks_of(h, rung.own_lines), 1.0
    return replace(climbed, named=named, marks=marks, sure=sure)


def _telling(candidates: Sequence[Hypothesis], place: NumberPlace) -> Sequence[Hypothesis]:
    """Without rounding to two figures where the question itself asks so many that its values differ in the last ones
    (a size of 25.021 mm)."""
    if place.part.figures is None or place.part.figures < FIGURES_THAT_PART:
        return candidates
    return tuple(h for h in candidates if h.figures is None)


def _kindest(marks: list[npt.NDArray[np.int64]], climbs: list[Climbed]) -> npt.NDArray[np.intp]:
    """The reading that earns most; of equals the one with the surer name, then the first."""
    if len(climbs) == 1:
        return np.zeros(len(climbs[0].named), np.intp)
    score = np.stack([m + np.where(c.named >= 0, c.sure, 0.0) for m, c in zip(marks, climbs, strict=True)], 1)
    return np.asarray(np.argmax(score, axis=1))


def _numbers(reading: ColumnReading, j: int, place: NumberPlace) -> Numbers:
    """The j-th reading of every entry; a number in a unit of another dimension counts as if in the asked unit."""
    u = unit(place.asked.unit)
    fits = reading.dimension_fits[:, j]
    written = reading.number[:, j]
    si = np.where(fits, reading.si[:, j], written * u.scale + u.offset)
    return Numbers(
        si, written, reading.figures[:, j].astype(np.float64),
        np.where(fits, reading.scale[:, j], u.scale), np.where(fits, reading.offset[:, j], u.offset),
        reading.pointed[:, j],
    )  # fmt: skip


def _unit_cost(b: Bench, place: NumberPlace, reading: ColumnReading, j: int, climbed: Climbed) -> Hundredths:
    """Hundredths that a missing unit, or one of another dimension, takes off; a conversion, or a slip whose own unit
    that is, has paid for it already."""
    missing = hundredths(b.rules.unit_missing) if needs_unit(place) else 0
    converted = np.array([h.kind == "conversion" for h in climbed.candidates] + [False])[climbed.named]
    follows = _follows_from_slip(b, reading, j, climbed)
    foreign = np.where(converted | follows, 0, hundredths(b.rules.wrong_unit))
    cost = np.where(reading.unit_missing[:, j], missing, 0)
    return np.where(reading.dimension_fits[:, j], cost, foreign).astype(np.int64)


def _follows_from_slip(b: Bench, reading: ColumnReading, j: int, climbed: Climbed) -> npt.NDArray[np.bool_]:
    """True where the unit of another dimension is just that of what the slip works out (a mass for a force, in kg)."""
    follows = np.zeros(b.size, np.bool_)
    bare = np.array([h.method.bare and h.verdict is Verdict.SLIP for h in climbed.candidates] + [False])
    for i in np.flatnonzero(bare[climbed.named] & ~reading.dimension_fits[:, j] & np.isfinite(reading.si[:, j])):
        written = reading.reading(int(i)).readings[j].unit
        method = climbed.candidates[int(climbed.named[i])].method
        follows[i] = dimension_worked(method, b.plan.dimensions) == unit(written).dimension
    return follows


def _further_cost(
    b: Bench, climbed: Climbed, unit_cost: Hundredths, other_figures: npt.NDArray[np.bool_]
) -> Hundredths:
    """Hundredths that unit and figures take off beside what the method lost: all together no more than the task says,
    or than the largest of them alone."""
    lost = np.array([hundredths(h.off) for h in climbed.candidates] + [0], np.int64)[climbed.named]
    by_figures = other_figures * hundredths(b.rules.figures_mark)
    most = np.maximum.reduce([lost, unit_cost, by_figures, np.full_like(lost, hundredths(b.rules.most_taken_off))])
    return np.asarray(np.minimum(lost + unit_cost + by_figures, most) - lost)


def _other_figures(
    b: Bench, place: NumberPlace, reading: ColumnReading, j: int, climbed: Climbed
) -> npt.NDArray[np.bool_]:
    """Where a rule of the task takes marks off a right result because of the figures it is written to.

    Noughts that end a whole number may count as figures or not, in the student's favour.
    """
    other = np.zeros(b.size, np.bool_)
    asked = place.part.figures or b.rules.figures
    if b.rules.figures_mark and place.line is None and not is_count(place.part.answer):
        right = np.array([h.verdict in RIGHT_IN_METHOD for h in climbed.candidates] + [False])[climbed.named]
        other |= np.array([h.cut_off for h in climbed.candidates] + [False])[climbed.named]
        for i in np.flatnonzero(right & (reading.figures[:, j] != asked)):
            candidate = reading.reading(int(i)).readings[j]
            other[i] = not candidate.least_figures <= asked <= candidate.most_figures
    return other
