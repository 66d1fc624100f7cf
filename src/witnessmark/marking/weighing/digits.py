"""Digits as somebody wrote them: between which values lies what was rounded to them, to however many figures it was
meant; and what they would be with two of them in each other's place."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from witnessmark.marking.weights import FIGURES_MEANT
from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import FLOAT_ROOM, half_unit, rounding_room, to_figures

Rows = npt.NDArray[np.intp]
LEAST_FIGURES_TURNED = 3
MOST_FIGURES_TURNED = 9  # a longer tail comes of a calculator, where nobody types it digit by digit
EXACT = 2.0**53


@dataclass(frozen=True, slots=True)
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
        return Numbers(*(getattr(self, field.name)[rows] for field in fields(self)))


def joined(some: Sequence[Numbers]) -> Numbers:
    """Several of them behind each other."""
    return Numbers(*(np.concatenate([getattr(one, field.name) for one in some]) for field in fields(Numbers)))


def picked(some: Sequence[Numbers], which: Rows) -> Numbers:
    """Row for row the one of several that is picked."""
    if len(some) == 1:
        return some[0]
    rows = np.arange(len(which))
    return Numbers(*(np.stack([getattr(one, f.name) for one in some])[which, rows] for f in fields(Numbers)))


@dataclass(frozen=True, slots=True)
class Digits:
    """Entries with what their digits allow: the step of the last digit (SI) and half of it as a share of the number,
    shape (n,), and the ends between which a number in the unit written lies that is rounded to these digits, with the
    share of those who mean so many figures; all of shape (k, n), where only whole numbers that end in noughts have more
    than one."""

    numbers: Numbers
    step: Array
    half: Array
    low: Array
    high: Array
    share: Array

    def only(self, rows: Rows) -> "Digits":
        """These rows of it."""
        step, half = self.step[rows], self.half[rows]
        return Digits(self.numbers.only(rows), step, half, self.low[:, rows], self.high[:, rows], self.share[:, rows])

    @property
    def as_written(self) -> "Digits":
        """The same where every figure that is written is meant."""
        return Digits(self.numbers, self.step, self.half, self.low[:1], self.high[:1], self.share[:1])

    def given_by(self, value: Array) -> Array:
        """The share of those whose digits would be these where they rounded `value` (SI, the last axis n)."""
        with np.errstate(all="ignore"):
            number = (value - self.numbers.offset) / self.numbers.scale
            found = ((number >= self.low[0]) & (number <= self.high[0])) * self.share[0]
            for low, high, share in zip(self.low[1:], self.high[1:], self.share[1:], strict=True):
                if share.any():
                    found = found + ((number >= low) & (number <= high)) * share
        return np.asarray(found, dtype=np.float64)

    def cut_from(self, value: Array, least: int) -> Array:
        """1.0 where the digits are those of `value` (SI, the last axis n) with further ones left out that would have
        rounded the last one up; 0.0 where they are fewer than `least`."""
        numbers = self.numbers
        with np.errstate(all="ignore"):
            share = (value - numbers.offset) / numbers.scale / numbers.written - 1
            cut = (share >= self.half) & (share < 2 * self.half) & (numbers.figures >= least)
        return np.asarray(cut, dtype=np.float64)


def digits_of(numbers: Numbers) -> Digits:
    """What the digits of these entries allow."""
    meant = list(_meant(numbers))
    ends = [rounding_room(numbers.written, figures) for figures, _ in meant]
    with np.errstate(all="ignore"):
        unit = half_unit(numbers.written, numbers.figures)
        step, half = 2 * unit * np.abs(numbers.scale), unit / np.abs(numbers.written)
    low, high = (np.stack([end[i] for end in ends]) for i in (0, 1))
    return Digits(numbers, step, half, low, high, np.stack([share for _, share in meant]))


def spacing_of(numbers: Numbers) -> Array:
    """How far apart numbers of these figures lie, relative to the number, times the share of those who mean so many;
    summed over the figures that may be meant."""
    with np.errstate(all="ignore"):
        size = np.abs(numbers.written)
        return np.asarray(
            sum(share * 2 * half_unit(numbers.written, figures) / size for figures, share in _meant(numbers))
        )


def evenly_among(numbers: Numbers, width: Array) -> Array:
    """The chance of these digits where every number in an interval so wide (SI) is as likely."""
    with np.errstate(all="ignore"):
        steps = ((share, 2 * half_unit(numbers.written, figures) * np.abs(numbers.scale))
                 for figures, share in _meant(numbers))  # fmt: skip
        return np.asarray(sum(share * step / (width + step) for share, step in steps))


def _meant(numbers: Numbers) -> Iterator[tuple[Array, Array]]:
    """The figures that may be meant, with the share of those who mean them: as written first, then without noughts.

    A whole number may be rounded to any figures up to those written, and shows it by its noughts alone; so the shares
    of one number add up to less than 1 where it has few noughts, and the chances of all numbers together to 1.
    """
    noughts, whole = _noughts(numbers)
    if not whole.any():
        yield numbers.figures, np.ones_like(numbers.figures)
        return
    last = max(FIGURES_MEANT)
    shares = np.array([0.0, *(FIGURES_MEANT[f] for f in sorted(FIGURES_MEANT))])
    upto = np.cumsum(shares)[np.clip(numbers.figures, 1, last).astype(np.intp)]
    for fewer in range(int(noughts.max(initial=0)) + 1):
        figures = np.maximum(numbers.figures - fewer, 1)
        share = shares[np.minimum(figures, last).astype(np.intp)] / upto
        yield figures, np.where(whole & (fewer <= noughts), share, 1.0 if not fewer else 0.0)


def fewest_figures(numbers: Numbers) -> Array:
    """To how few figures each entry may have been rounded."""
    noughts, whole = _noughts(numbers)
    return np.where(whole, np.maximum(numbers.figures - noughts, 1), numbers.figures)


def _noughts(numbers: Numbers) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]:
    """How many of the figures that are counted are noughts at the end of a whole number, and which are such numbers; 0
    for others, for what is written with a point (2.500e6), and for more than a float holds exactly."""
    with np.errstate(all="ignore"):
        size = np.abs(numbers.written)
        digits = np.floor(np.log10(size)) + 1
        whole = (size < EXACT) & (numbers.figures <= digits) & (size == np.floor(size))
        whole &= ~numbers.pointed
        rest = np.where(whole, np.rint(size / 10.0 ** (digits - numbers.figures)), 1.0)
    found = np.zeros(len(size), np.int64)
    for _ in range(max(FIGURES_MEANT)):
        more = rest % 10 == 0
        if not more.any():
            break
        found += more
        rest = np.where(more, rest / 10, rest)
    return found, whole


def gives_fewer(value: Array, numbers: Numbers, figures: int) -> Array:
    """1.0 where the value, rounded to so many figures in the unit written, is the number written."""
    with np.errstate(all="ignore"):
        number = (value - numbers.offset) / numbers.scale
        same = np.abs(to_figures(number, figures) / numbers.written - 1) < FLOAT_ROOM
    return np.asarray(same, dtype=np.float64)


def mistypings(numbers: Numbers) -> Iterator[tuple[Numbers, Array]]:
    """What may have been meant where two neighbouring digits that differ changed places, or one was typed twice; with
    the chance of the digits written if it was, 0 where it cannot have been."""
    size, figures = np.abs(numbers.written), np.nan_to_num(numbers.figures)
    counts = (figures >= LEAST_FIGURES_TURNED) & (figures <= MOST_FIGURES_TURNED) & np.isfinite(size) & (size > 0)
    with np.errstate(all="ignore"):
        place = np.floor(np.log10(size) + FLOAT_ROOM)
        unit = 10.0 ** (place + 1 - figures)
        whole = np.rint(size / unit)
        for at in range(int(np.max(figures, initial=0, where=counts)) - 1):
            here = 10.0**at
            last, before = np.floor(whole / here) % 10, np.floor(whole / (10 * here)) % 10
            in_it = counts & (at + 1 < figures)
            turned = whole + (last - before) * 9 * here
            leads = (at + 2 < figures) | (last > 0)
            yield _meant_for(numbers, turned * unit, figures, in_it & (last != before) & leads)
            once = np.floor(whole / (10 * here)) * here + whole % here
            whole_part = place - figures + 1 + at >= 0
            meant = once * np.where(whole_part, unit, 10 * unit)
            other = np.abs(meant - size) > unit / 2  # a nought too many at the end of decimals is the same number
            shorter = in_it & other & (last == before) & (figures > LEAST_FIGURES_TURNED)
            yield _meant_for(numbers, meant, figures - 1, shorter)


def _meant_for(numbers: Numbers, size: Array, figures: Array, may: npt.NDArray[np.bool_]) -> tuple[Numbers, Array]:
    written = np.copysign(size, numbers.written)
    si = written * numbers.scale + numbers.offset
    meant = Numbers(si, written, figures, numbers.scale, numbers.offset, numbers.pointed)
    return meant, np.where(may, 0.5 / (figures - 1), 0.0)
