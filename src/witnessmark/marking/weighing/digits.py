"""Digits as somebody wrote them: between which values lies what was rounded to them, to however many figures it was
meant; and what they would be with two of them in each other's place."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.weights import FIGURES_MEANT
from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import FLOAT_ROOM, half_unit, rounding_room, to_figures

Rows = npt.NDArray[np.intp]
LEAST_FIGURES_TURNED = 3
MOST_FIGURES_TURNED = 9  # a longer tail comes of a calculator, where nobody types it digit by digit
EXACT = 2.0**53
NOUGHTS = "noughts"


@dataclass(frozen=True)
class Numbers:
    """Entries of one place as numbers, all of shape (n,): SI values, the numbers as written, their figures, the scale
    and offset of the unit they were written in (SI = number * scale + offset), and whether figures stand behind a
    point."""

    si: Array
    written: Array
    figures: Array
    scale: Array
    offset: Array
    pointed: npt.NDArray[np.bool_]

    def only(self, rows: Rows) -> "Numbers":
        """These rows of it."""
        some = Numbers(*(getattr(self, name).take(rows) for name in COLUMNS))
        if (counted := self.__dict__.get(NOUGHTS)) is not None:  # so they are counted once for all that is taken of it
            some.__dict__[NOUGHTS] = tuple(column.take(rows) for column in counted)
        return some

    def asked_of(self, rows: Rows) -> "Numbers":
        """These rows of it, each column taken when it is first asked for."""
        return _SomeNumbers(self, rows)

    @cached_property
    def noughts(self) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]:
        """How many of the figures that are counted are noughts at the end of a whole number, and which are such
        numbers; 0 for others, for what is written with a point (2.500e6), and for more than a float holds exactly."""
        with np.errstate(all="ignore"):
            size = np.abs(self.written)
            whole = (size < EXACT) & ~self.pointed & (size == np.floor(size))
            some = np.flatnonzero(whole)
            size, figures = size[some], self.figures[some]
            digits = np.floor(np.log10(size)) + 1
            counts = figures <= digits
            rest = np.where(counts, np.rint(size / 10.0 ** (digits - figures)), 1.0)
        found, ending = np.zeros(len(self.written), np.int64), np.zeros(len(some), np.int64)
        for _ in range(max(FIGURES_MEANT)):
            more = rest % 10 == 0
            if not more.any():
                break
            ending += more
            rest = np.where(more, rest / 10, rest)
        found[some], whole[some] = ending, counts
        return found, whole


class _SomeNumbers(Numbers):
    def __init__(self, of: Numbers, rows: Rows) -> None:
        self.__dict__.update(_of=of, _rows=rows)

    def __getattr__(self, name: str) -> Any:
        if name not in COLUMNS:
            raise AttributeError(name)
        self.__dict__[name] = column = getattr(self._of, name).take(self._rows)
        return column


COLUMNS = tuple(field.name for field in fields(Numbers))


def joined(some: Sequence[Numbers]) -> Numbers:
    """Several of them behind each other."""
    return Numbers(*(np.concatenate([getattr(one, name) for one in some]) for name in COLUMNS))


def picked(some: Sequence[Numbers], which: Rows) -> Numbers:
    """Row for row the one of several that is picked."""
    if len(some) == 1:
        return some[0]
    rows = np.arange(len(which))
    return Numbers(*(np.stack([getattr(one, name) for one in some])[which, rows] for name in COLUMNS))


@dataclass(frozen=True, slots=True)
class Fewer:
    """Which of n entries may be meant to fewer figures than are written: by row (n,) their place among these, or -1,
    and their m rows (ascending). For each step fewer, (k, m), the ends between which a number lies that is rounded to
    these digits, and the share of those who mean so many."""

    place: npt.NDArray[np.int32]
    rows: Rows
    low: Array
    high: Array
    share: Array

    def only(self, rows: Rows) -> "Fewer":
        """Those among these rows."""
        place = self.place.take(rows)
        here = np.flatnonzero(place >= 0)
        pick = place[here]
        place[here] = np.arange(len(here))
        return Fewer(place, here, *(ends.take(pick, axis=1) for ends in (self.low, self.high, self.share)))

    def added_to(self, found: Array, number: Array) -> Array:
        """What was found for these entries, (..., n), with the shares of those who mean fewer figures where their
        digits are those of a number in the unit written."""
        sums, here = found.take(self.rows, axis=-1), number.take(self.rows, axis=-1)
        for low, high, share in zip(self.low, self.high, self.share, strict=True):
            some = np.flatnonzero(share)
            if len(some) == len(share):
                sums += ((here >= low) & (here <= high)) * share
            else:
                few = here.take(some, axis=-1)
                sums[..., some] += ((few >= low[some]) & (few <= high[some])) * share[some]
        return sums


@dataclass(frozen=True, slots=True)
class Digits:
    """Entries with what their digits allow, all of shape (n,): the step of the last digit (SI) and half of it as a
    share of the number, and the ends between which a number in the unit written lies that is rounded to these digits,
    with the share of those who mean every figure that is written; `fewer` of whole numbers that end in noughts."""

    numbers: Numbers
    step: Array
    half: Array
    low: Array
    high: Array
    share: Array
    fewer: Fewer | None = None

    def only(self, rows: Rows) -> "Digits":
        """These rows of it."""
        step, half, low, high, share = (c.take(rows) for c in (self.step, self.half, self.low, self.high, self.share))
        fewer = None if self.fewer is None else self.fewer.only(rows)
        return Digits(self.numbers.asked_of(rows), step, half, low, high, share, fewer)

    @property
    def as_written(self) -> "Digits":
        """The same where every figure that is written is meant."""
        return replace(self, fewer=None)

    def given_by(self, value: Array) -> Array:
        """The share of those whose digits would be these where they rounded `value` (SI, the last axis n)."""
        return self.rounded_from(self.in_unit_written(value))

    def rounded_from(self, number: Array) -> Array:
        """The same for a number in the unit written (the last axis n)."""
        with np.errstate(all="ignore"):
            found = ((number >= self.low) & (number <= self.high)) * self.share
            if self.fewer is not None and self.fewer.rows.size:
                found[..., self.fewer.rows] = self.fewer.added_to(found, number)
        return np.asarray(found, dtype=np.float64)

    def cut_from(self, number: Array) -> npt.NDArray[np.bool_]:
        """True where the digits are those of a number in the unit written (the last axis n) with further ones left out
        that would have rounded the last one up."""
        with np.errstate(all="ignore"):
            share = number / self.numbers.written - 1
            return np.asarray((share >= self.half) & (share < 2 * self.half), np.bool_)

    def in_unit_written(self, value: Array) -> Array:
        """A value (SI) as the number that it is in the unit written."""
        offset = self.numbers.offset
        with np.errstate(all="ignore"):
            return np.asarray((value - offset if offset.any() else value) / self.numbers.scale)


def digits_of(numbers: Numbers) -> Digits:
    """What the digits of these entries allow."""
    (_, figures, share), *fewer = _meant(numbers)
    low, high = rounding_room(numbers.written, figures)
    with np.errstate(all="ignore"):
        unit = half_unit(numbers.written, numbers.figures)
        step, half = 2 * unit * np.abs(numbers.scale), unit / np.abs(numbers.written)
    return Digits(numbers, step, half, low, high, share, _fewer(numbers, fewer) if fewer else None)


def _fewer(numbers: Numbers, meant: Sequence[tuple[Rows | slice, Array, Array]]) -> Fewer:
    """What is meant to fewer figures than are written, step by step; those that may be meant to the fewest are among
    all that come before."""
    every = np.arange(len(numbers.written))
    rows = every[meant[0][0]]
    place = np.full(len(every), -1, np.int32)
    place[rows] = np.arange(len(rows))
    low, high, shares = (np.zeros((len(meant), len(rows))) for _ in range(3))
    for step, (some, figures, share) in enumerate(meant):
        here = place[some]
        low[step, here], high[step, here] = rounding_room(numbers.written[some], figures)
        shares[step, here] = share
    return Fewer(place, rows, low, high, shares)


def spacing_of(numbers: Numbers) -> Array:
    """How far apart numbers of these figures lie, relative to the number, times the share of those who mean so many;
    summed over the figures that may be meant."""
    spacing = np.zeros(len(numbers.written))
    with np.errstate(all="ignore"):
        for rows, figures, share in _meant(numbers):
            written = numbers.written[rows]
            spacing[rows] += share * 2 * half_unit(written, figures) / np.abs(written)
    return spacing


def evenly_among(numbers: Numbers, width: Array) -> Array:
    """The chance of these digits where every number in an interval so wide (SI) is as likely."""
    chance = np.zeros(len(numbers.written))
    with np.errstate(all="ignore"):
        for rows, figures, share in _meant(numbers):
            step = 2 * half_unit(numbers.written[rows], figures) * np.abs(numbers.scale[rows])
            chance[rows] += share * step / (width[rows] + step)
    return chance


def _meant(numbers: Numbers) -> Iterator[tuple[Rows | slice, Array, Array]]:
    """The figures that may be meant, with the share of those who mean them: as written first, of all entries; then
    without noughts, of those that end in so many.

    A whole number may be rounded to any figures up to those written, and shows it by its noughts alone; so the shares
    of one number add up to less than 1 where it has few noughts, and the chances of all numbers together to 1.
    """
    noughts, whole = numbers.noughts
    if not whole.any():
        yield slice(None), numbers.figures, np.ones_like(numbers.figures)
        return
    last = max(FIGURES_MEANT)
    shares = np.array([0.0, *(FIGURES_MEANT[f] for f in sorted(FIGURES_MEANT))])
    upto = np.cumsum(shares)[np.clip(numbers.figures, 1, last).astype(np.intp)]
    for fewer in range(int(noughts.max(initial=0)) + 1):
        rows = np.flatnonzero(noughts >= fewer) if fewer else slice(None)
        figures = np.maximum(numbers.figures[rows] - fewer, 1)
        share = shares[np.minimum(figures, last).astype(np.intp)] / upto[rows]
        yield rows, figures, np.where(whole[rows], share, 1.0)


def fewest_figures(numbers: Numbers) -> Array:
    """To how few figures each entry may have been rounded."""
    noughts, whole = numbers.noughts
    return np.where(whole, np.maximum(numbers.figures - noughts, 1), numbers.figures)


def gives_fewer(value: Array, numbers: Numbers, figures: int) -> Array:
    """1.0 where the value, rounded to so many figures in the unit written, is the number written."""
    with np.errstate(all="ignore"):
        number = (value - numbers.offset) / numbers.scale
        same = np.abs(to_figures(number, figures) / numbers.written - 1) < FLOAT_ROOM
    return np.asarray(same, dtype=np.float64)


def mistypings(numbers: Numbers) -> Iterator[tuple[Rows, Numbers, Array]]:
    """What may have been meant where two neighbouring digits that differ changed places, or one was typed twice: the
    entries in which they may have, the numbers meant, and the chance of the digits written if it was so."""
    size, figures = np.abs(numbers.written), np.nan_to_num(numbers.figures)
    rows = np.flatnonzero(
        (figures >= LEAST_FIGURES_TURNED) & (figures <= MOST_FIGURES_TURNED) & np.isfinite(size) & (size > 0)
    )
    numbers, size, figures = numbers.only(rows), size[rows], figures[rows]
    with np.errstate(all="ignore"):
        place = np.floor(np.log10(size) + FLOAT_ROOM)
        unit = 10.0 ** (place + 1 - figures)
        whole = np.rint(size / unit)
        most = int(np.max(figures, initial=0))
        digits = [np.floor(whole / 10.0**at) % 10 for at in range(most)]
        for at, (last, before) in enumerate(itertools.pairwise(digits)):
            here, in_it = 10.0**at, at + 1 < figures
            turned = whole + (last - before) * 9 * here
            leads = (at + 2 < figures) | (last > 0)
            some = np.flatnonzero(in_it & (last != before) & leads)
            yield rows[some], *_meant_for(numbers.only(some), (turned * unit)[some], figures[some])
            some = np.flatnonzero(in_it & (last == before) & (figures > LEAST_FIGURES_TURNED))
            once = np.floor(whole[some] / (10 * here)) * here + whole[some] % here
            whole_part = (place - figures)[some] + 1 + at >= 0
            meant = once * np.where(whole_part, unit[some], 10 * unit[some])
            other = np.abs(meant - size[some]) > unit[some] / 2  # a nought too many at the end is the same number
            some, meant = some[other], meant[other]
            yield rows[some], *_meant_for(numbers.only(some), meant, figures[some] - 1)


def _meant_for(numbers: Numbers, size: Array, figures: Array) -> tuple[Numbers, Array]:
    written = np.copysign(size, numbers.written)
    si = written * numbers.scale + numbers.offset
    meant = Numbers(si, written, figures, numbers.scale, numbers.offset, numbers.pointed)
    return meant, 0.5 / (figures - 1)
