"""Marking the numbers of one question on columns: every line and result in order, each carried into the next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

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
from witnessmark.marking.weighing.likelihood import likeliest_before
from witnessmark.marking.weighing.setting import PerVariant, Setting, in_full
from witnessmark.marking.weighing.weighing import room_of
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.quantities import unit
from witnessmark.maths.same_rows import firsts_of, numbered
from witnessmark.maths.syntax import is_count
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import Line
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.evaluation import before_rounding, names_between, names_in_full
from witnessmark.questions.working.methods import NumberPlace, dimension_worked
from witnessmark.questions.working.working import Columns, envelopes, widened_as_written, worked
from witnessmark.reading.column.columns import ColumnReading, read_column

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


def bench(
    question: Question, givens: Columns, rules: Rules, size: int, priors: ClassPriors | None = None,
    told: Rows | None = None,
) -> Bench:  # fmt: skip
    """The bench of a question for columns of givens (SI arrays of shape (size,)); `priors` are those of a class, `told`
    numbers that are the same for rows with the same givens, which are worked once."""
    firsts = np.arange(size) if told is None or not size else firsts_of(told := numbered([told]))

    def each(values: Array) -> Array:
        of_first = np.broadcast_to(values, firsts.shape)
        return of_first if told is None else of_first.take(told)

    some = {name: np.broadcast_to(values, (size,))[firsts] for name, values in givens.items()}
    right = {k: each(v) for k, v in worked(question, some).items()}
    wide = {k: (each(low), each(high)) for k, (low, high) in envelopes(question, some, rules.figures).items()}
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
    owns: dict[str, _CarriedOn] = {}
    carried = frozenset(key for place in b.plan.places for key in _before(place))
    between = names_between(b.question, b.givens, b.envelopes)
    alone = Setting(PerVariant(b.names, between, b.ways, b.plan.dimensions)).by_variant(b.told)
    for place in b.plan.places:
        if place.key in b.worked:
            texts = by_habit(entries.get(place.key) or [""] * b.size, commas, place.asked.unit, b.worked[place.key])
            reading = read_column(texts, place.asked.unit, b.worked[place.key])
            before = [owns[key] for key in _before(place) if key in owns]
            alike = alike_at(b.told, reading.same, [own.alike for own in before])
            weighing = _Weighing.of(b, place, before, alone, alike)
            done[place.key] = _mark_place(b, weighing, reading)
            if place.key in carried:
                owns[place.key] = weighing.carried_on(b.rules, done[place.key])
    return done


@dataclass(frozen=True, slots=True)
class _CarriedOn:
    """What was entered at a place, as it may be carried on: a row of it for each distinct row of the place."""

    own: Own
    line: Line | None
    alike: Alike | None

    def of(self, rows: Rows | None) -> Own:
        """These rows of the place, or all."""
        if self.alike is None:
            return self.own if rows is None else self.own.only(rows)
        return self.own.only(self.alike.which if rows is None else self.alike.which[rows])


@dataclass(frozen=True, slots=True)
class _Weighing:
    """What the numbers at a place are weighed by, once for rows that are the same there: a row of it for each."""

    place: NumberPlace
    lines: tuple[Line | None, ...]
    setting: Setting
    right: Array
    envelope: Interval
    alike: Alike | None

    @staticmethod
    def of(
        b: Bench, place: NumberPlace, before: Sequence[_CarriedOn], setting: Setting, alike: Alike | None
    ) -> "_Weighing":
        """For the rows of a bench; `setting` is without own results."""
        lines, right, (low, high) = tuple(own.line for own in before), b.worked[place.key], b.envelopes[place.key]
        if alike is None:
            setting = replace(setting, own=tuple(own.of(None) for own in before))
            return _Weighing(place, lines, setting, right, (low, high), None)
        rows = alike.firsts
        setting = replace(setting.only(rows), own=tuple(own.of(rows) for own in before))
        return _Weighing(place, lines, setting, right.take(rows), (low.take(rows), high.take(rows)), alike)

    def climbed(self, numbers: Numbers, rung: Rung) -> Climbed:
        """The climb of every row of the place."""
        if self.alike is None:
            return self._climbed(numbers, rung)
        return self._climbed(numbers.only(self.alike.firsts), rung).only(self.alike.which)

    def _climbed(self, numbers: Numbers, rung: Rung) -> Climbed:
        envelope = _accepted(self, numbers, rung.candidates[0])
        return _with_nought(climb(numbers, self.setting, replace(rung, envelope=envelope)), numbers, self.setting, rung)

    def carried_on(self, rules: Rules, marked: PlaceMarked) -> _CarriedOn:
        """What was entered at a place, as it may be carried on."""
        place, named, numbers = self.place, marked.named, marked.numbers
        if self.alike is not None:
            named, numbers = named.take(self.alike.firsts), numbers.only(self.alike.firsts)
        right = named == RIGHT
        half, digit = (
            room_of(numbers.si, place.asked.unit, numbers.figures, least) for least in (rules.figures, IN_FULL)
        )
        values, typed = np.where(right, np.nan, numbers.si), np.where(right, numbers.si, self.right)
        before = _before_it_was_rounded(self.setting, marked.candidates, named, numbers)
        return _CarriedOn(Own(_names(place), values, before, half, digit, typed, right), place.line, self.alike)


def _before(place: NumberPlace) -> tuple[str, ...]:
    """The keys whose own values may be carried into this place: its lines before, and the parts it carries."""
    return tuple(f"{place.part.key}.{line.name}" for line in place.lines_before) + place.part.carries


def _names(place: NumberPlace) -> tuple[str, ...]:
    return (place.line.name,) if place.line else names_of(place.part)


def _before_it_was_rounded(
    setting: Setting, candidates: Sequence[Hypothesis], named: Rows, numbers: Numbers
) -> Before:  # fmt: skip
    """What the methods that are named for wrong results give; nothing where none is, or digits were mistyped."""
    found, digits = Before.unknown(len(named)), digits_of(numbers)
    for index in np.unique(named[named > RIGHT]):
        h = candidates[index]
        if h.kind != "digits":
            rows = np.flatnonzero(named == index)
            found.put(rows, likeliest_before(h, digits.only(rows), setting.of(h, rows)))
    return found


def _accepted(at: _Weighing, numbers: Numbers, right: Hypothesis) -> Interval:
    """The envelope of right values; wider where the unit written is another scale than the one asked: the figures asked
    hold in the unit that was written."""
    low, high = at.envelope
    asked = at.place.asked
    other = np.flatnonzero(_on_another_scale(numbers, asked.unit))
    if not other.size:
        return low, high
    some = numbers.only(other)
    exact = before_rounding(right.method, at.setting.only(other).bounds_of_each())
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


def _mark_place(b: Bench, at: _Weighing, reading: ColumnReading) -> PlaceMarked:
    place, count = at.place, len(at.lines)
    candidates = _telling(sharpened(b.plan.candidates(place, count), place.key, b.priors), place)
    edits = b.plan.further(place, count)
    further = cache(lambda: sharpened(edits(), place.key, b.priors))
    rung = Rung(candidates, further, at.right, at.envelope, at.lines, b.rules)
    climbs, marks, read, others = [], [], [], []
    for j in range(reading.si.shape[1]):
        numbers = _numbers(reading, j, place)
        climbed = at.climbed(numbers, rung)
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
        picked(read, best), at.lines,
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
            value = np.abs(in_full(h, setting))
            of_something = np.all([setting.own[i].values != 0 for i in h.carried], axis=0)
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
    foreign = ~reading.dimension_fits[:, j] & np.isfinite(reading.si[:, j])
    for i, entry in reading.readings(np.flatnonzero(bare[climbed.named] & foreign)):
        written = entry.readings[j].unit
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
        for i, entry in reading.readings(np.flatnonzero(right & (reading.figures[:, j] != asked))):
            candidate = entry.readings[j]
            other[i] = not candidate.least_figures <= asked <= candidate.most_figures
    return other
