"""Marking a size chosen from a table, judged on the student's own value.

Right is the size that the own value asks for: as it is without a power of ten or a unit that went wrong, which has cost
its marks where it stands, or as it is written. Where its last digit could be rounded to either side of a size, both
sizes are right. Without an own value the right one counts; a size that a slip of the earlier part leads to has half of
the marks then, since the table was read rightly (common practice, no source).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from witnessmark.marking.kinds.quantity import Bench, PlaceMarked
from witnessmark.marking.kinds.without_numbers import REPAIRED, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.intervals import Interval
from witnessmark.maths.rounding import half_unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.parts import QuantityPart, StandardPart
from witnessmark.questions.model.sizes import Choose, SizeSlip, Takes
from witnessmark.questions.working.chosen_sizes import (
    BESIDE,
    NO_PLACE,
    Span,
    places_between,
    slips_through,
    value_slips,
)
from witnessmark.questions.working.envelope_words import value_text
from witnessmark.questions.working.evaluation import names_between
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.sizes import SizeList, SizeReading, read_size

NOT_BY_OWN = "the size is right, but does not follow from the student's own value"
OUT_OF_LIST = "the student's own value asks for a size that is not in the table"
KINDER = "two explanations fit; the kinder one was taken"
FIGURES_SHOWN = 4
NOTHING = Decimal(0)
FULL = (Verdict.RIGHT, Verdict.CARRIED_FORWARD)
Between = Mapping[str, Interval]
Truth = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class _Wrong:
    """A wrong way for every student: who believes it, what it keeps, and from which place to which it leads."""

    misconception: str
    keeps: Decimal
    span: Span


@dataclass(frozen=True, slots=True)
class _Says:
    """What the table says to every student: by the right value, by their own without what went wrong with its unit, and
    as written; the values that it is asked for (SI), and where they are the student's own; the wrong ways."""

    right: Span
    mended: Span
    written: Span
    values: Array
    is_own: Truth
    wrong: tuple[_Wrong, ...]


def listed_sizes(part: StandardPart) -> SizeList:
    """The sizes of a part as a reader needs them."""
    return SizeList(tuple(size.name for size in part.sizes), tuple(float(size.value) for size in part.sizes), part.unit)


def sizes_chosen(
    b: Bench, part: StandardPart, texts: Sequence[str], numbers: Mapping[str, PlaceMarked]
) -> tuple[Outcome, ...] | None:
    """The outcomes of a choice of sizes, one a student; None when its givens are absent."""
    right = names_between(b.question, b.givens, b.envelopes)
    if not names_in(part.value) <= b.names.keys():
        return None
    says = _says(b, part, right, numbers)
    listed = listed_sizes(part)
    readings = {text: read_size(text, listed) for text in dict.fromkeys(texts)}
    return tuple(_outcome(part, text, readings[text], says, row) for row, text in enumerate(texts))


def _says(b: Bench, part: StandardPart, right: Between, numbers: Mapping[str, PlaceMarked]) -> _Says:
    mended, written = ({**right, **_own(b, part, numbers, right, m)} for m in (True, False))
    is_own = [np.isfinite(numbers[q.key].values) for q in _earlier(b, part, numbers)]
    full = {**b.names, **_own_values(b, part, numbers)}
    values = np.broadcast_to(np.asarray(compiled(part.value)(full), np.float64), (b.size,))
    of_right, of_mended, of_written = (
        places_between(part, part.value, names, b.size) for names in (right, mended, written)
    )
    wrong = (
        *_beside(part, of_mended),
        *_by_other_values(b, part, mended),
        *_through_the_table(b, part, right, numbers),
    )
    return _Says(of_right, of_mended, of_written, values, np.any([np.zeros(b.size, np.bool_), *is_own], axis=0), wrong)


def _earlier(b: Bench, part: StandardPart, numbers: Mapping[str, PlaceMarked]) -> Iterator[QuantityPart]:
    """The numbers of the question whose results a value may use."""
    used = names_in(part.value).union(*(names_in(slip.answer) for slip in value_slips(part, b.names)))
    yield from (q for q in b.question.quantities if q.key in numbers and used & set(names_of(q)))


def _own_values(b: Bench, part: StandardPart, numbers: Mapping[str, PlaceMarked]) -> dict[str, Array]:
    """The student's own results without what went wrong with their unit, the right ones where there are none."""
    found: dict[str, Array] = {}
    for earlier in _earlier(b, part, numbers):
        values = numbers[earlier.key].mended
        found |= dict.fromkeys(names_of(earlier), np.where(np.isfinite(values), values, b.worked[earlier.key]))
    return found


def _own(
    b: Bench, part: StandardPart, numbers: Mapping[str, PlaceMarked], right: Between, mended: bool
) -> dict[str, Interval]:
    """Between which values the student's own results lie by their digits; the right ones where there are none."""
    found: dict[str, Interval] = {}
    for earlier in _earlier(b, part, numbers):
        place = numbers[earlier.key]
        values = place.mended if mended else place.values
        with np.errstate(all="ignore"):
            share = half_unit(place.numbers.written, place.numbers.figures) / np.abs(place.numbers.written)
        room = np.abs(values) * np.nan_to_num(share, nan=0.0, posinf=0.0)
        name, is_there = names_of(earlier)[0], np.isfinite(values)
        low, high = (np.broadcast_to(end, (b.size,)) for end in right[name])
        between = np.where(is_there, values - room, low), np.where(is_there, values + room, high)
        found |= dict.fromkeys(names_of(earlier), between)
    return found


def _beside(part: StandardPart, span: Span) -> Iterator[_Wrong]:
    """The sizes before the first and behind the last that serve."""
    for slip in part.slips:
        if isinstance(slip, SizeSlip) and slip.takes in BESIDE:
            step = BESIDE[slip.takes]
            place = span[0] + step if step < 0 else span[1] + step
            yield _Wrong(slip.misconception, slip.keeps, (place, place))


def _by_other_values(b: Bench, part: StandardPart, names: Between) -> Iterator[_Wrong]:
    for slip in value_slips(part, names):
        yield _Wrong(slip.misconception, slip.keeps, places_between(part, slip.answer, names, b.size))


def _through_the_table(
    b: Bench, part: StandardPart, right: Between, numbers: Mapping[str, PlaceMarked]
) -> Iterator[_Wrong]:
    """What the slips of earlier parts lead to, for those who left their result out."""
    half = rounded_down(part.marks / 2, b.rules.half_marks)
    for earlier in _earlier(b, part, numbers):
        is_absent = ~np.isfinite(numbers[earlier.key].values)
        if names_in(part.value) & set(names_of(earlier)) and is_absent.any():
            for misconception, span in slips_through(part, earlier, right, b.plan.dimensions, b.rules.figures, b.size):
                first, last = (np.where(is_absent, end, NO_PLACE) for end in span)
                yield _Wrong(misconception, half, (first, last))


def _outcome(part: StandardPart, text: str, reading: SizeReading, says: _Says, row: int) -> Outcome:
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.certainty is Certainty.UNREADABLE:
        return unreadable(part, text, reading.reason)
    verdict, marks, who, tray = _verdict(part, reading.index, says, row)
    if verdict not in FULL and reading.certainty is Certainty.REPAIRED:
        tray = (*tray, REPAIRED)
    return Outcome(
        marks, part.marks, verdict, _sentence(part, reading, says, row), who, raw=text, read_as=reading.read_as,
        repairs=reading.repairs, in_tray=tray,
    )  # fmt: skip


def _verdict(
    part: StandardPart, place: int | None, says: _Says, row: int
) -> tuple[Verdict, Decimal, tuple[str, ...], tuple[str, ...]]:
    """The verdict, the marks, the misconceptions, and why a teacher should look."""
    if place is None:
        found = [_Wrong(s.misconception, s.keeps, says.right) for s in _unlisted(part)]
        return _named(found)
    if _within(place, says.mended, row) or _within(place, says.written, row):
        verdict = Verdict.RIGHT if _within(place, says.right, row) else Verdict.CARRIED_FORWARD
        return verdict, part.marks, (), ()
    if _within(place, says.right, row):
        return Verdict.WRONG, NOTHING, (), (NOT_BY_OWN,)
    if not 0 <= says.mended[0][row] < len(part.sizes):
        return Verdict.WRONG, NOTHING, (), (OUT_OF_LIST,)
    return _named([wrong for wrong in says.wrong if _within(place, wrong.span, row)])


def _named(found: Sequence[_Wrong]) -> tuple[Verdict, Decimal, tuple[str, ...], tuple[str, ...]]:
    """A wrong size by those who would choose it; of several the kindest says what it keeps."""
    if not found:
        return Verdict.WRONG, NOTHING, (), ()
    kept = [wrong.keeps for wrong in found]
    who = tuple(dict.fromkeys(wrong.misconception for wrong in sorted(found, key=lambda wrong: -wrong.keeps)))
    return Verdict.SLIP, max(kept), who, (KINDER,) if len(set(kept)) > 1 else ()


def _unlisted(part: StandardPart) -> Iterator[SizeSlip]:
    yield from (slip for slip in part.slips if isinstance(slip, SizeSlip) and slip.takes is Takes.UNLISTED)


def _within(place: int, span: Span, row: int) -> bool:
    return bool(span[0][row] <= place <= span[1][row])


def _sentence(part: StandardPart, reading: SizeReading, says: _Says, row: int) -> str:
    """What the table says to the student's own value."""
    own = value_text(float(says.values[row]), part.unit, FIGURES_SHOWN)
    own = f"your {own}" if says.is_own[row] else own
    first, last = int(says.mended[0][row]), int(says.mended[1][row])
    if not 0 <= first < len(part.sizes):
        return f"The table has no size that is {part.choose} {own}."
    asked = f"{part.sizes[first].name} is {part.choose.words} {own}"
    place = reading.index
    if place is None:
        return f"{reading.read_as} is not in the table; {asked}."
    if first <= place <= last:
        return f"{part.sizes[place].name} is {part.choose.words} {own}."
    if _within(place, says.written, row):
        return f"{reading.read_as} follows from your own number as you wrote it."
    serves = (place > last) is (part.choose is Choose.AT_LEAST)
    beside = f"{reading.read_as} is {part.choose} that as well" if serves else f"{reading.read_as} is not"
    return f"{asked}; {beside}."
